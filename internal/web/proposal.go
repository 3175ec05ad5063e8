package web

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// maxDecisionBytes is how long a form with ticked proposals may be: each of
// them names its id.
const maxDecisionBytes = 1 << 20

// maxProposalLines is how many rows of a list a group of proposals shows. Those
// after them come up when these are decided.
const maxProposalLines = 200

// proposalsPage is what the notes of lists propose, to be accepted or declined
// in groups.
type proposalsPage struct {
	Frame  frame
	Notice string
	Wrong  []string
	Action string
	Only   bool // those of one import
	Kinds  []proposalKind
	ticked []string // values of the boxes that stay ticked: ids, parted by commas

	// What is shown of all, and what may be chosen to be.
	ImportID, SiteID, Kind string
	Sites, KindNames       []option
}

// proposalKind is the groups of one kind.
type proposalKind struct {
	Kind            registry.ProposalKind
	Heading, Accept string
	Groups          []proposalGroup
	All             *acceptAll // nil: the one group has its own
}

// acceptAll is a button that accepts without a tick.
type acceptAll struct {
	Value string // ids, parted by commas
	Text  string
	Of    string // what of, for those who do not see where it stands
}

// newAcceptAll is for as many of the proposals as may be decided at once.
func newAcceptAll(ids []string, of string) *acceptAll {
	n := min(len(ids), app.MaxDecided)
	return &acceptAll{strings.Join(ids[:n], ","), wording.AcceptAll(n, len(ids)), of}
}

// proposalGroup is one box to tick.
type proposalGroup struct {
	ID     string // of the box
	Value  string // the ids of its proposals, parted by commas
	Ticked bool
	Words  string
	Text   string
	Where  string
	Lines  []proposalLine
	Open   bool   // one of the lines is ticked by itself
	More   string // how many rows are not shown
	All    *acceptAll
}

// proposalLine is one row of a list, with its anchor.
type proposalLine struct {
	ID     string // of the box
	Value  string // the id of its proposal
	Ticked bool
	Href   string
	Text   string
}

func (p *Pages) proposals(c echo.Context) error {
	return p.showProposals(c, proposalsPage{}, 200)
}

func (p *Pages) showProposals(c echo.Context, page proposalsPage, status int) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	if !allowed(c, app.ListProposals) {
		return notAllowed(c, app.ListProposals)
	}
	filter := registry.ProposalFilter{State: registry.ProposalOpen}
	if id, err := uuid.Parse(c.QueryParam("import_id")); err == nil {
		filter.ImportID, page.Only = &id, true
	}
	groups, err := p.service.ProposalGroups(c.Request().Context(), who, filter)
	if err != nil {
		return err
	}
	page.Frame = p.framed(c, "Proposals from lists")
	if page.Only {
		page.ImportID = filter.ImportID.String()
	}
	groups = page.choose(c.QueryParam("site_id"), c.QueryParam("kind"), groups)
	page.Action = page.Frame.Base + "/proposals" + page.query()
	page.Kinds = proposalKinds(page.Frame.Base, groups)
	page.tick()
	return render(c, status, proposalsView(page))
}

// tick ticks again what was ticked when the form was sent: the box of a group
// where all of it was, those of its rows otherwise.
func (page *proposalsPage) tick() {
	ticked := make(map[string]bool)
	for _, id := range tickedIDs(page.ticked) {
		ticked[id.String()] = true
	}
	for k := range page.Kinds {
		for i := range page.Kinds[k].Groups {
			page.Kinds[k].Groups[i].tick(ticked)
		}
	}
}

func (g *proposalGroup) tick(ticked map[string]bool) {
	ids := strings.Split(g.Value, ",")
	if g.Ticked = !slices.ContainsFunc(ids, func(id string) bool { return !ticked[id] }); g.Ticked {
		return
	}
	for i := range g.Lines {
		l := &g.Lines[i]
		l.Ticked = ticked[l.Value]
		g.Open = g.Open || l.Ticked
	}
}

// choose keeps the groups of a site and a kind. One of which no proposal is open
// any more, or never was, chooses nothing.
func (page *proposalsPage) choose(site, kind string, groups []report.ProposalGroup) []report.ProposalGroup {
	page.Sites, page.KindNames = []option{{Text: "All sites"}}, []option{{Text: "All kinds"}}
	for i := range groups {
		page.Sites = withOption(page.Sites, option{Value: groups[i].SiteID.String(), Text: groups[i].Site})
		page.KindNames = withOption(page.KindNames, option{
			Value: string(groups[i].Noted.Kind), Text: wording.ProposalKindName(groups[i].Noted.Kind),
		})
	}
	slices.SortStableFunc(page.Sites[1:], func(a, b option) int { return strings.Compare(a.Text, b.Text) })
	if slices.ContainsFunc(page.Sites, hasValue(site)) {
		page.SiteID = site
	}
	if slices.ContainsFunc(page.KindNames, hasValue(kind)) {
		page.Kind = kind
	}
	return slices.DeleteFunc(groups, func(g report.ProposalGroup) bool {
		return page.SiteID != "" && g.SiteID.String() != page.SiteID || page.Kind != "" && string(g.Noted.Kind) != page.Kind
	})
}

func withOption(list []option, o option) []option {
	if slices.ContainsFunc(list, hasValue(o.Value)) {
		return list
	}
	return append(list, o)
}

func hasValue(value string) func(option) bool {
	return func(o option) bool { return o.Value == value }
}

// query asks for what is shown once more; blank for all.
func (page *proposalsPage) query() string {
	q := url.Values{}
	for name, value := range map[string]string{"import_id": page.ImportID, "site_id": page.SiteID, "kind": page.Kind} {
		if value != "" {
			q.Set(name, value)
		}
	}
	if len(q) == 0 {
		return ""
	}
	return "?" + q.Encode()
}

// proposalKinds parts groups, which are in the order of their kinds.
func proposalKinds(base string, groups []report.ProposalGroup) []proposalKind {
	var out []proposalKind
	ids := make(map[registry.ProposalKind][]string)
	for i := range groups {
		g := &groups[i]
		if n := len(out); n == 0 || out[n-1].Kind != g.Noted.Kind {
			out = append(out, proposalKind{
				Kind: g.Noted.Kind, Heading: wording.ProposalKindName(g.Noted.Kind), Accept: wording.AcceptingMakes(g.Noted.Kind),
			})
		}
		k := &out[len(out)-1]
		k.Groups = append(k.Groups, newProposalGroup(base, g, i))
		ids[k.Kind] = append(ids[k.Kind], proposalIDs(g)...)
	}
	for i := range out {
		if k := &out[i]; len(k.Groups) > 1 {
			k.All = newAcceptAll(ids[k.Kind], "of "+k.Heading)
		}
	}
	return out
}

func newProposalGroup(base string, g *report.ProposalGroup, n int) proposalGroup {
	out := proposalGroup{
		ID: "proposal-" + strconv.Itoa(n), Words: g.Noted.Words, Text: wording.Proposal(g.Noted),
		Where: g.Site + ", " + wording.Anchors(g.Anchors()),
	}
	ids := proposalIDs(g)
	for i, p := range g.Proposals[:min(len(ids), maxProposalLines)] {
		out.Lines = append(out.Lines, proposalLine{
			ID: out.ID + "-" + strconv.Itoa(i), Value: p.ID.String(), Href: anchorHref(base, p.AnchorID), Text: "Line " + strconv.Itoa(p.Line),
		})
	}
	out.All = newAcceptAll(ids, "that say "+g.Noted.Words+", "+out.Where)
	if more := len(ids) - maxProposalLines; more > 0 {
		out.More = wording.MoreRows(more)
	}
	out.Value = strings.Join(ids, ",")
	return out
}

func proposalIDs(g *report.ProposalGroup) []string {
	ids := make([]string, len(g.Proposals))
	for i := range g.Proposals {
		ids[i] = g.Proposals[i].ID.String()
	}
	return ids
}

// decideProposals accepts or declines what is ticked, or accepts what a button
// stands for, all of it or nothing. What is ticked beside that stays ticked.
func (p *Pages) decideProposals(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	if !allowed(c, app.DecideProposals) {
		return notAllowed(c, app.DecideProposals)
	}
	f, err := postedUpTo(c, maxDecisionBytes)
	if err != nil {
		return err
	}
	ids, decision := tickedIDs(f.Values["ids"]), registry.Decision(f.text("decision"))
	if all := f.Values["accept_all"]; len(all) > 0 {
		ids, decision = tickedIDs(all), registry.Accept
	}
	page := proposalsPage{ticked: f.Values["ids"]}
	switch {
	case len(ids) == 0:
		page.Wrong = []string{wording.ProposalsNone}
		return p.showProposals(c, page, 422)
	case decision == "":
		page.Wrong = []string{wording.ProposalsUndecided}
		return p.showProposals(c, page, 422)
	}
	done, err := p.service.DecideProposals(c.Request().Context(), who, registry.ProposalDecision{
		Decision: decision, IDs: ids,
	})
	if wrong, status := decisionRefused(err); status != 0 {
		page.Wrong = wrong
		return p.showProposals(c, page, status)
	}
	if err != nil {
		return err
	}
	page.Notice = wording.ProposalsDecided(done.Accepted, len(done.Proposals), len(done.Made))
	return p.showProposals(c, page, 200)
}

// decisionRefused says what is wrong with what was ticked, and the status of
// that; 0: err is none of those, and no page can be shown.
func decisionRefused(err error) ([]string, int) {
	kind := fault.KindOf(err)
	switch kind {
	case fault.Conflict:
		return []string{wording.ProposalsConflict}, refusals[kind]
	case fault.Invalid:
		return distinctTexts(violations(err, "")), http.StatusUnprocessableEntity
	}
	return violations(err, ""), refusals[kind]
}

// tickedIDs reads the values of ticked boxes, each id once; what is no id is
// passed over.
func tickedIDs(values []string) []uuid.UUID {
	var out []uuid.UUID
	seen := make(map[uuid.UUID]bool)
	for _, v := range values {
		for text := range strings.SplitSeq(v, ",") {
			if id, err := uuid.Parse(text); err == nil && !seen[id] {
				seen[id] = true
				out = append(out, id)
			}
		}
	}
	return out
}

// distinctTexts returns the texts in order, each once.
func distinctTexts(list []string) []string {
	var out []string
	seen := make(map[string]bool)
	for _, t := range list {
		if !seen[t] {
			seen[t] = true
			out = append(out, t)
		}
	}
	return out
}

package web

import (
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
const maxDecisionBytes = 256 << 10

// maxProposalLines is how many rows of a list a group of proposals shows.
const maxProposalLines = 30

// proposalsPage is what the notes of lists propose, to be accepted or declined
// in groups.
type proposalsPage struct {
	Frame  frame
	Notice string
	Wrong  []string
	Action string
	Only   bool // those of one import
	Kinds  []proposalKind
}

// proposalKind is one form: the groups of one kind.
type proposalKind struct {
	Kind            registry.ProposalKind
	Heading, Accept string
	Groups          []proposalGroup
}

// proposalGroup is one box to tick.
type proposalGroup struct {
	ID    string // of the box
	Value string // the ids of its proposals, parted by commas
	Words string
	Text  string
	Where string
	Lines []proposalLine
	More  string // how many rows are not shown
}

// proposalLine is one row of a list, with its anchor.
type proposalLine struct{ Href, Text string }

func (p *Pages) proposals(c echo.Context) error {
	return p.showProposals(c, proposalsPage{}, 200)
}

func (p *Pages) showProposals(c echo.Context, page proposalsPage, status int) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	if !allowed(c, app.ListProposals) {
		return fault.New(fault.Forbidden, "list proposals: role is not enough")
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
	page.Action = page.Frame.Base + "/proposals"
	if page.Only {
		page.Action += "?import_id=" + filter.ImportID.String()
	}
	page.Kinds = proposalKinds(page.Frame.Base, groups)
	return render(c, status, proposalsView(page))
}

// proposalKinds parts groups, which are in the order of their kinds.
func proposalKinds(base string, groups []report.ProposalGroup) []proposalKind {
	var out []proposalKind
	for i := range groups {
		g := &groups[i]
		if n := len(out); n == 0 || out[n-1].Kind != g.Noted.Kind {
			out = append(out, proposalKind{
				Kind: g.Noted.Kind, Heading: wording.ProposalKindName(g.Noted.Kind), Accept: wording.AcceptingMakes(g.Noted.Kind),
			})
		}
		k := &out[len(out)-1]
		k.Groups = append(k.Groups, newProposalGroup(base, g, i))
	}
	return out
}

func newProposalGroup(base string, g *report.ProposalGroup, n int) proposalGroup {
	out := proposalGroup{
		ID: "proposal-" + strconv.Itoa(n), Words: g.Noted.Words, Text: wording.Proposal(g.Noted),
		Where: g.Site + ", " + wording.Anchors(g.Anchors()),
	}
	ids := make([]string, len(g.Proposals))
	for i, p := range g.Proposals {
		ids[i] = p.ID.String()
		if i < maxProposalLines {
			out.Lines = append(out.Lines, proposalLine{anchorHref(base, p.AnchorID), "Line " + strconv.Itoa(p.Line)})
		}
	}
	if more := len(ids) - maxProposalLines; more > 0 {
		out.More = wording.MoreRows(more)
	}
	out.Value = strings.Join(ids, ",")
	return out
}

// decideProposals accepts or declines what is ticked, all of it or nothing.
func (p *Pages) decideProposals(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	if !allowed(c, app.DecideProposals) {
		return fault.New(fault.Forbidden, "decide proposals: role is not enough")
	}
	f, err := postedUpTo(c, maxDecisionBytes)
	if err != nil {
		return err
	}
	ids := tickedIDs(f.Values["ids"])
	if len(ids) == 0 {
		return p.showProposals(c, proposalsPage{Wrong: []string{wording.ProposalsNone}}, 422)
	}
	done, err := p.service.DecideProposals(c.Request().Context(), who, registry.ProposalDecision{
		Decision: registry.Decision(f.text("decision")), IDs: ids,
	})
	switch fault.KindOf(err) {
	case fault.Conflict:
		return p.showProposals(c, proposalsPage{Wrong: []string{wording.ProposalsConflict}}, 409)
	case fault.Invalid:
		return p.showProposals(c, proposalsPage{Wrong: distinctTexts(violations(err, ""))}, 422)
	}
	if err != nil {
		return err
	}
	text := wording.ProposalsDecided(done.Accepted, len(done.Proposals), len(done.Made))
	return p.showProposals(c, proposalsPage{Notice: text}, 200)
}

// tickedIDs reads the values of ticked boxes; what is no id is passed over.
func tickedIDs(values []string) []uuid.UUID {
	var out []uuid.UUID
	for _, v := range values {
		for text := range strings.SplitSeq(v, ",") {
			if id, err := uuid.Parse(text); err == nil {
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

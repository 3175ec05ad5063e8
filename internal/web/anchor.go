package web

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// anchorPage is one anchor's whole story.
type anchorPage struct {
	Frame        frame
	Notice       string
	Trail        []detail
	Site         string
	Sector       string
	Routes       []string
	Label        string
	PositionHref string
	Place        []detail        // role, face, how to find it, landowner
	Inspect      *inspectionForm // nil: whoever asks may not

	Standing     registry.Standing
	Also         registry.Standing // beside not in use yet: suspect if it is; blank otherwise
	StandingLine string
	Due          string // empty: no date
	DueState     registry.DueState
	DueBeside    string   // how that day stands; blank: not told
	Barred       []string // what bars that day, and the last open day before it
	Marked       string   // which markings stand at the rock, or that one is missing
	Acts         []detail // what whoever asks may record, with its form
	Band         string
	WhyHeading   string
	Why          string // the reason that won, or why no date counts
	Candidates   []candidateLine
	Findings     []findingLine
	Footing      []detail // what the assessment rests on

	InHole   []detail
	Change   string // link to change what describes it; empty: whoever asks may not
	Setting  settingPart
	Fittings []fittingLine
	Pictures []pictureLine
	Picture  *pictureForm // nil: whoever asks may add none
	OwnWords []detail     // as the list has it
	Records  []recordLine
	History  []recordLine // what the register showed, and from when on
	Others   []otherAnchor
	Evidence string // what was known on a day; blank: whoever asks may not see it
}

// detail is a name with a value.
type detail struct{ Name, Value string }

// candidateLine is one date with its reason.
type candidateLine struct {
	On, Text, Source string
	Won              bool
}

// findingLine is one thing held against the anchor.
type findingLine struct {
	Severity   registry.Severity
	Text       string
	Settles    string
	Source     string
	Settled    string // who settled it and why; blank: nobody did
	SettleHref string // form to settle it; blank: settled, or whoever asks may not
}

type fittingLine struct {
	Kind    string
	Details []detail
}

// recordLine is one record, or one change of what was shown, as sentences.
type recordLine struct {
	ID      uuid.UUID // of the record; nil id: of what was shown
	At      string    // the instant from which it was shown
	Text    string
	Gone    bool   // a later record replaces it or takes it back
	Retract string // form that takes it back; blank: it does not count, or whoever asks may not
}

// otherAnchor is an earlier or later anchor at the position.
type otherAnchor struct{ Href, Text string }

func (p *Pages) anchor(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	id, err := idOf(c)
	if err != nil {
		return err
	}
	return p.showAnchor(c, who, id, anchorForms{})
}

// anchorForms are the forms on an anchor's page as far as they were filled in;
// nil: not at all.
type anchorForms struct{ inspection, picture *form }

// complete makes the forms that whoever asks may fill in and has not.
func (p *Pages) complete(c echo.Context, who registry.Actor, forms *anchorForms) (err error) {
	if forms.inspection == nil && allowed(c, app.RecordInspection) {
		if forms.inspection, err = p.newInspectionForm(c, who); err != nil {
			return err
		}
	}
	if forms.picture == nil && allowed(c, app.AddPicture) {
		forms.picture = newForm()
	}
	return nil
}

// showAnchor draws an anchor's story with its forms.
func (p *Pages) showAnchor(c echo.Context, who registry.Actor, id uuid.UUID, forms anchorForms) error {
	if err := p.complete(c, who, &forms); err != nil {
		return err
	}
	s, err := p.service.AnchorStory(c.Request().Context(), who, id)
	if err != nil {
		return err
	}
	page := newAnchorPage(p.framed(c, joinNamed(", ", s.Facts.Site.Name, s.Facts.Position.Label)), s, zoneOf(who))
	page.Notice = notice(c)
	due, err := p.service.DueLine(c.Request().Context(), who, s)
	if err != nil {
		return err
	}
	page.Barred = barredOn(due)
	if err := p.offerRelease(c, who, &page, s); err != nil {
		return err
	}
	if allowed(c, app.RecordSettlement) {
		page.offerSettling(s)
	}
	if allowed(c, app.RecordRetraction) {
		page.offerRetracting(s)
	}
	page.offerActs(c, s)
	if allowed(c, app.RecordInstallation) && s.Facts.Setting() != nil {
		page.Setting.Correct = anchorHref(page.Frame.Base, id) + "/setting"
	}
	if allowed(c, app.ChangeAnchor) {
		page.Change = anchorHref(page.Frame.Base, id) + "/change"
	}
	if allowed(c, app.GetEvidence) {
		page.Evidence = anchorHref(page.Frame.Base, id) + "/evidence"
	}
	if err := p.addPictures(c, who, s, &page, forms.picture); err != nil {
		return err
	}
	f := forms.inspection
	if f == nil || s.Facts.Anchor.Removed {
		return render(c, page.Picture.status(), anchorView(page))
	}
	persons, err := p.persons(c, who)
	if err != nil {
		return err
	}
	page.Inspect = &inspectionForm{
		form: f, Action: anchorHref(page.Frame.Base, id) + "/inspections", Open: f.Note != "" || len(f.Wrong) > 0, Persons: personOptions(persons),
	}
	return render(c, max(f.status(), page.Picture.status()), anchorView(page))
}

// barredOn says what bars an anchor's due date, and the last open day before
// it.
func barredOn(l registry.ReportLine) []string {
	if wording.Barred(l) == "" {
		return nil
	}
	var lines []string
	for _, r := range l.Restrictions {
		lines = append(lines, "On that day: "+wording.Restriction(r))
	}
	return append(lines, wording.LastOpenDay(l))
}

// offerSettling links each finding that weighs to the form for settling it.
func (page *anchorPage) offerSettling(s registry.AnchorStory) {
	for i, f := range s.Assessment.Findings {
		if f.Weighs().Rank() > registry.Note.Rank() {
			page.Findings[i].SettleHref = settleHref(page.Frame.Base, s.Facts.Anchor.ID, f)
		}
	}
}

// anchorTrail leads to an anchor from its site, sector and routes.
func anchorTrail(base string, s registry.AnchorStory) []detail {
	steps := []detail{{s.Facts.Site.Name, siteHref(base, s.Facts.Site.ID)}}
	if s.Facts.Position.SectorID != nil {
		steps = append(steps, detail{s.Sector, sectorHref(base, *s.Facts.Position.SectorID)})
	}
	for _, r := range s.Routes {
		steps = append(steps, detail{r.Name, routeHref(base, r.ID)})
	}
	return steps
}

// zoneOf returns the zone of the actor's group, UTC for one that does not
// exist.
func zoneOf(who registry.Actor) *time.Location {
	zone, err := time.LoadLocation(who.TimeZone)
	if err != nil {
		return time.UTC
	}
	return zone
}

func newAnchorPage(f frame, s registry.AnchorStory, zone *time.Location) anchorPage {
	a, facts := s.Assessment, s.Facts.Current()
	page := anchorPage{
		Frame: f, Trail: append(anchorTrail(f.Base, s), detail{facts.Position.Label, ""}), Site: facts.Site.Name, Sector: s.Sector,
		Label: facts.Position.Label, PositionHref: positionHref(f.Base, facts.Position.ID), Place: placeDetails(s),
		Standing: a.Standing, Also: alsoSuspect(a.Standing, a.Findings), StandingLine: wording.StandingLine(a, facts.Inspections),
		Due: dueWords(a), DueState: a.DueState, DueBeside: wording.DueBeside(a), Marked: markedLine(a.Standing, facts),
		Findings: findingLines(s), Footing: footing(a),
		InHole: holeDetails(s), Fittings: fittingLines(facts.Fittings), OwnWords: ownWords(facts),
		Others: otherAnchors(f.Base, s.Others),
	}
	page.Setting = newSettingPart(f.Base, s, zone)
	page.Records, page.History = told(s, zone)
	page.whyThisDate(a)
	for _, r := range s.Routes {
		page.Routes = append(page.Routes, r.Name)
	}
	return page
}

// dueWords says by when to look at the anchor; how that day stands is told beside
// it.
func dueWords(a registry.Assessment) string {
	if wording.Undated(a.Standing, a.DueState) {
		return wording.InspectBy(a.Standing, a.DueOn, a.DueState)
	}
	return wording.InspectBy(a.Standing, a.DueOn, registry.NotDue)
}

// whyThisDate says what the date rests on, or why there is none to wait for.
func (p *anchorPage) whyThisDate(a registry.Assessment) {
	switch {
	case a.DueOn.IsZero():
	case wording.Undated(a.Standing, a.DueState):
		p.WhyHeading, p.Why, p.Band = "Why no date", wording.RuledDay(a.DueOn), wording.Band(a)
	default:
		p.WhyHeading, p.Why, p.Band = "Why this date", wording.Reason(a), wording.Band(a)
		p.Candidates = candidateLines(a)
	}
}

// alsoSuspect is suspect for an anchor that is not in use yet and against which
// more is held than that; blank otherwise.
func alsoSuspect(s registry.Standing, findings []registry.Finding) registry.Standing {
	for _, f := range findings {
		if s == registry.NotInUseYet && f.Weighs().Rank() >= registry.Suspect.Rank() {
			return registry.StandingSuspect
		}
	}
	return ""
}

// details are built in order, leaving out what is blank.
type details []detail

func (d *details) add(name, value string) {
	if value != "" {
		*d = append(*d, detail{name, value})
	}
}

func placeDetails(s registry.AnchorStory) []detail {
	var d details
	pos := s.Facts.Position
	d.add("Role", wording.Label(pos.Role))
	d.add("Face", wording.Label(pos.Face))
	d.add("Backed up by another anchor", yesNo(pos.BackedUp))
	d.add("How to find it", pos.HowTo)
	d.add("Landowner", s.Landowner)
	d.add("Notes on the position", pos.Notes)
	return d
}

// yesNo says a fact that may not be known.
func yesNo(v *bool) string {
	switch {
	case v == nil:
		return "not known"
	case *v:
		return "yes"
	}
	return "no"
}

func candidateLines(a registry.Assessment) []candidateLine {
	lines := make([]candidateLine, len(a.Candidates))
	for i, c := range a.Candidates {
		lines[i] = candidateLine{
			On: c.On.Words(), Text: wording.CandidateBehind(c), Source: c.Source,
			Won: c.Rule == a.Reason.Rule && c.Factor == a.Reason.Factor && c.On == a.Reason.On,
		}
	}
	return lines
}

// findingLines say everything held against an anchor, in the order of the
// assessment.
func findingLines(s registry.AnchorStory) []findingLine {
	n := namesOf(s)
	lines := make([]findingLine, len(s.Assessment.Findings))
	for i, f := range s.Assessment.Findings {
		lines[i] = newFindingLine(f)
		for _, by := range s.Facts.Settlements {
			if f.SettledBy != nil && by.ID == *f.SettledBy {
				lines[i].Settled, lines[i].Settles = wording.Settlement(by, n), ""
			}
		}
	}
	return lines
}

// footing says what the assessment rests on and how long it holds.
func footing(a registry.Assessment) []detail {
	var d details
	d.add("Worked out for", a.AsOf.Words())
	d.add("Holds without new facts until", cmp.Or(a.ValidUntil.Words(), "further notice"))
	return d
}

func holeDetails(s registry.AnchorStory) []detail {
	a := s.Facts.Anchor
	var d details
	d.add("Form", wording.Label(a.Form))
	d.add("Metal", wording.Metal(a.Metal, a.MetalWords))
	d.add("Set", wording.Dated(a.SetOn))
	d.add("Shank", wording.Length(a.Shank))
	d.add("Overall length", wording.Length(a.Length))
	if a.ProductID != nil {
		d.add("Product", wording.ProductName(s.Products[*a.ProductID]))
	}
	d.add("In the register since", a.EnteredOn.Words())
	if a.Removed {
		d.add("Removed", wording.Dated(a.RemovedOn))
	}
	return d
}

func fittingLines(fittings []registry.Fitting) []fittingLine {
	fittings = slices.DeleteFunc(slices.Clone(fittings), func(f registry.Fitting) bool { return !f.EndedOn.IsZero() })
	slices.SortFunc(fittings, func(a, b registry.Fitting) int { return strings.Compare(a.ID.String(), b.ID.String()) })
	lines := make([]fittingLine, len(fittings))
	for i, f := range fittings {
		var d details
		d.add("Presence", wording.Label(f.Presence))
		d.add("Size", f.Words)
		d.add("Metal", wording.Metal(f.Metal, f.MetalWords))
		d.add("Fitted", wording.Dated(f.SetOn))
		lines[i] = fittingLine{wording.Label(f.Kind), d}
	}
	return lines
}

// ownWords are the list's and the recorders' own words.
func ownWords(f registry.Facts) []detail {
	var d details
	d.add("Type", f.Anchor.FormWords)
	d.add("Metal", f.Anchor.MetalWords)
	d.add("Set", f.Anchor.SetOn.Words)
	d.add("Removed", f.Anchor.RemovedOn.Words)
	d.add("Notes", f.Anchor.Notes)
	return d
}

func otherAnchors(base string, list []registry.Anchor) []otherAnchor {
	others := make([]otherAnchor, len(list))
	for i, a := range list {
		others[i] = otherAnchor{anchorHref(base, a.ID), wording.OtherAnchor(a)}
	}
	return others
}

package web

import (
	"net/http"
	"slices"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// retractPage is the form by which a record of an anchor is taken back.
type retractPage struct {
	*form
	Frame   frame
	Trail   []detail
	Action  string
	Record  string   // as a sentence
	Follows []string // what else would come of it
	Better  bool     // the anchor would stand better than it does
	Refused string   // why it cannot be taken back, and what to do; blank: it can
	Persons []option
}

func retractHref(base string, anchor, record uuid.UUID) string {
	return anchorHref(base, anchor) + "/retract?record=" + record.String()
}

// offerRetracting links each record that counts to the form that takes it back.
func (page *anchorPage) offerRetracting(s registry.AnchorStory) {
	for i := range page.Records {
		if r := &page.Records[i]; !r.Gone {
			r.Retract = retractHref(page.Frame.Base, s.Facts.Anchor.ID, r.ID)
		}
	}
}

func (p *Pages) retractForm(c echo.Context) error {
	who, anchor, err := p.recording(c, app.RecordRetraction)
	if err != nil {
		return err
	}
	f, err := p.newInspectionForm(c, who)
	if err != nil {
		return err
	}
	f.Values.Set("retracts_id", c.QueryParam("record"))
	return p.showRetract(c, who, anchor, f)
}

func (p *Pages) retract(c echo.Context) error {
	who, anchor, err := p.recording(c, app.RecordRetraction)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	err = p.recordRetraction(c, who, f, anchor)
	if fault.KindOf(err) == fault.Conflict && fault.CodeOf(err) == fault.ConflictCode {
		return c.Redirect(http.StatusSeeOther, anchorHref(p.base(c), anchor)+"?done=retraction-before")
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return p.showRetract(c, who, anchor, f)
	}
	return c.Redirect(http.StatusSeeOther, anchorHref(p.base(c), anchor)+"?done=retraction")
}

// recordRetraction checks the whole form before it adds anything, a person
// included.
func (p *Pages) recordRetraction(c echo.Context, who registry.Actor, f *form, anchor uuid.UUID) error {
	persons, err := p.persons(c, who)
	if err != nil {
		return err
	}
	person, add := chosenPerson(f, persons)
	r := registry.Retraction{
		Record:     registry.Record{ID: f.id("id"), AnchorID: anchor, DoneOn: calendar.Exactly(f.date("done_on")), PersonID: &person.ID},
		RetractsID: f.id("retracts_id"), Reason: f.text("reason"),
	}
	f.checks.Nest("", r.Validate(p.service.AsOf(who)))
	if err := f.checks.Err(); err != nil {
		return err
	}
	ctx := c.Request().Context()
	if err := p.keepPerson(ctx, who, person, add); err != nil {
		return err
	}
	_, _, err = p.service.RecordRetraction(ctx, who, r)
	return err
}

func (p *Pages) showRetract(c echo.Context, who registry.Actor, anchor uuid.UUID, f *form) error {
	ctx, record := c.Request().Context(), f.id("retracts_id")
	story, err := p.service.AnchorStory(ctx, who, anchor)
	if err != nil {
		return err
	}
	persons, err := p.persons(c, who)
	if err != nil {
		return err
	}
	page := retractPage{
		form: f, Frame: p.framed(c, "Take a record back"), Action: anchorHref(p.base(c), anchor) + "/retract", Persons: personOptions(persons),
	}
	base := page.Frame.Base
	page.Trail = append(anchorTrail(base, story), detail{story.Facts.Position.Label, anchorHref(base, anchor)}, detail{page.Frame.Title, ""})
	history := wording.History(story)
	page.Record = sentenceOf(history, record)
	made, err := p.service.PreviewRetraction(ctx, who, anchor, record)
	if fault.KindOf(err) == fault.Invalid {
		page.Refused = refusal(err)
		return render(c, http.StatusUnprocessableEntity, retractView(page))
	}
	if err != nil {
		return err
	}
	page.Follows, page.Better = retractionFollows(made, history), made.Then.Standing.Rank() < made.Now.Standing.Rank()
	return render(c, f.status(), retractView(page))
}

// refusal is the first thing that is wrong, as a sentence.
func refusal(err error) string {
	if e, known := fault.As(err); known && len(e.Violations) > 0 {
		return wording.Violation(e.Violations[0])
	}
	return wording.Fault(fault.CodeOf(err), nil)
}

// retractionFollows says all that would follow, other records included.
func retractionFollows(r report.Retraction, history []wording.HistoryLine) []string {
	lines := wording.WouldStand(r.Now, r.Then)
	for _, id := range r.Revived {
		lines = append(lines, wording.CountsAgain(sentenceOf(history, id)))
	}
	for _, id := range r.Lost {
		lines = append(lines, wording.CountsNoMore(sentenceOf(history, id)))
	}
	if lines == nil {
		lines = []string{wording.RetractionNothing}
	}
	return lines
}

// sentenceOf is a record of an anchor's history as a sentence; blank: it has
// none of that id.
func sentenceOf(history []wording.HistoryLine, record uuid.UUID) string {
	i := slices.IndexFunc(history, func(l wording.HistoryLine) bool { return l.ID == record && !l.Shown() })
	if i < 0 {
		return ""
	}
	return history[i].Words
}

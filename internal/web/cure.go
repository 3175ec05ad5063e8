package web

import (
	"net/http"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// anchorFormPage is a form of its own page about one anchor.
type anchorFormPage struct {
	*form
	Frame   frame
	Trail   []detail
	Action  string
	Persons []option
	Held    []findingLine // what weighs against it
	Cure    []detail      // what is known of its cure
}

// firstUseForm answers the form with which a person allows first use.
func (p *Pages) firstUseForm(c echo.Context) error {
	return p.openAnchorForm(c, app.RecordFirstUse, p.showFirstUse)
}

// cureForm answers the form for what was found out about a cure.
func (p *Pages) cureForm(c echo.Context) error {
	return p.openAnchorForm(c, app.RecordCure, p.showCure)
}

// openAnchorForm shows an empty form for today, by whoever was chosen last.
func (p *Pages) openAnchorForm(c echo.Context, op app.Operation, show func(echo.Context, registry.Actor, uuid.UUID, *form) error) error {
	who, id, err := p.recording(c, op)
	if err != nil {
		return err
	}
	f, err := p.newInspectionForm(c, who)
	if err != nil {
		return err
	}
	return show(c, who, id, f)
}

// allowFirstUse records that a person allows an anchor to be used.
func (p *Pages) allowFirstUse(c echo.Context) error {
	return p.postAnchorForm(c, app.RecordFirstUse, "first-use", p.showFirstUse, func(who registry.Actor, f *form, by setter, r registry.Record) error {
		use := registry.FirstUse{
			Record: r, At: f.momentOn("at", f.date("done_on"), zoneOf(who)), Sample: registry.SampleState(f.text("sample")),
		}
		f.checks.Nest("", use.Validate(p.service.AsOf(who)))
		return p.whenRight(c, who, f, by, func() error {
			_, _, err := p.service.RecordFirstUse(c.Request().Context(), who, use)
			return err
		})
	})
}

// recordCure records what a person found out about the cure of an anchor.
func (p *Pages) recordCure(c echo.Context) error {
	return p.postAnchorForm(c, app.RecordCure, "cure", p.showCure, func(who registry.Actor, f *form, by setter, r registry.Record) error {
		cure := registry.Cure{
			Record: r, LowestC: f.reading("lowest_c"), LabelWorkingMinutes: f.whole("label_working_minutes"),
			LabelCureMinutes: f.whole("label_cure_minutes"), LabelC: f.temperature("label_c"),
			LoadedAt: f.momentOn("loaded_at", f.date("done_on"), zoneOf(who)),
		}
		f.checks.Nest("", cure.Validate(p.service.AsOf(who)))
		return p.whenRight(c, who, f, by, func() error {
			_, _, err := p.service.RecordCure(c.Request().Context(), who, cure)
			return err
		})
	})
}

// postAnchorForm reads a form about one anchor and keeps it, or shows it again
// with what is wrong.
func (p *Pages) postAnchorForm(c echo.Context, op app.Operation, done string, show func(echo.Context, registry.Actor, uuid.UUID, *form) error,
	keep func(registry.Actor, *form, setter, registry.Record) error,
) error {
	who, id, err := p.recording(c, op)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	persons, err := p.persons(c, who)
	if err != nil {
		return err
	}
	by := setter{}
	by.person, by.add = chosenPerson(f, persons)
	err = keep(who, f, by, registry.Record{
		ID: f.id("id"), AnchorID: id, DoneOn: calendar.Exactly(f.date("done_on")), PersonID: &by.person.ID, Words: f.text("words"),
	})
	if fault.KindOf(err) == fault.Conflict {
		return c.Redirect(http.StatusSeeOther, anchorHref(p.base(c), id)+"?done=inspection-before")
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return show(c, who, id, f)
	}
	return c.Redirect(http.StatusSeeOther, anchorHref(p.base(c), id)+"?done="+done)
}

// setter is who did something, and whether they are to be added first.
type setter struct {
	person registry.Person
	add    bool
}

// whenRight stores what a form says if nothing is wrong with it, a person who is
// not in the register yet included.
func (p *Pages) whenRight(c echo.Context, who registry.Actor, f *form, by setter, store func() error) error {
	if err := f.checks.Err(); err != nil {
		return err
	}
	if err := p.keepPerson(c.Request().Context(), who, by.person, by.add); err != nil {
		return err
	}
	return store()
}

func (p *Pages) showFirstUse(c echo.Context, who registry.Actor, id uuid.UUID, f *form) error {
	page, err := p.anchorForm(c, who, id, f, "Allow first use")
	if err != nil {
		return err
	}
	page.Action = anchorHref(page.Frame.Base, id) + "/first-use"
	return render(c, f.status(), firstUseView(page))
}

func (p *Pages) showCure(c echo.Context, who registry.Actor, id uuid.UUID, f *form) error {
	page, err := p.anchorForm(c, who, id, f, "What the label says, or how it cured")
	if err != nil {
		return err
	}
	page.Action = anchorHref(page.Frame.Base, id) + "/cure"
	return render(c, f.status(), cureView(page))
}

// anchorForm is the page of a form about one anchor.
func (p *Pages) anchorForm(c echo.Context, who registry.Actor, id uuid.UUID, f *form, title string) (anchorFormPage, error) {
	page := anchorFormPage{form: f, Frame: p.framed(c, title)}
	ctx := c.Request().Context()
	s, err := p.service.AnchorStory(ctx, who, id)
	if err != nil {
		return page, err
	}
	persons, err := p.persons(c, who)
	if err != nil {
		return page, err
	}
	page.Held = weighing(s)
	times, err := p.service.CureTimes(ctx, who, []uuid.UUID{id})
	if t, bonded := times[id]; bonded {
		page.Cure = cureDetails(t, who)
	}
	page.Persons = personOptions(persons)
	page.Trail = append(anchorTrail(page.Frame.Base, s), detail{s.Facts.Position.Label, anchorHref(page.Frame.Base, id)}, detail{title, ""})
	return page, err
}

// weighing is what weighs against an anchor, watch or worse, but that nobody has
// allowed its first use.
func weighing(s registry.AnchorStory) []findingLine {
	var lines []findingLine
	for _, f := range s.Assessment.Findings {
		if f.Weighs().Rank() >= registry.Watch.Rank() && f.Rule != "first-use-not-allowed" {
			lines = append(lines, newFindingLine(f))
		}
	}
	return lines
}

// cureDetails say what is known of a cure.
func cureDetails(t registry.CureTime, who registry.Actor) []detail {
	return []detail{{"Cure", wording.NotBefore(t, zoneOf(who))}, {"Rests on", wording.CureRests(t)}}
}

// sampleOptions say what became of the sample that was kept.
func sampleOptions() []option {
	options := []option{{Text: wording.SampleMeaning("")}}
	for _, s := range registry.SampleStates() {
		options = append(options, option{Value: string(s), Text: wording.SampleMeaning(s)})
	}
	return options
}

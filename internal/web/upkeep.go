package web

import (
	"context"
	"net/http"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// act is one kind of thing that somebody did to an anchor, with its form.
type act struct {
	op      app.Operation
	path    string // below the anchor's
	heading string
	done    string // the word of the notice
	help    string
	// record reads the form and records what it says, made by a person.
	record func(p *Pages, f *form, r registry.Record) func(context.Context, registry.Actor) error
}

var acts = []act{
	{app.RecordMaintenance, "maintain", "Record maintenance", "maintenance", wording.MaintenanceHelp, readMaintenance},
	{app.RecordMarking, "mark", "Record a marking at the rock", "marking", wording.MarkingHelp, readMarking},
	{app.RecordMarking, "unmark", "Record that a marking was taken away", "unmarking", wording.UnmarkingHelp, readUnmarking},
	{app.RecordRemoval, "remove", "Record that it came out", "removal", wording.RemovalHelp, readRemoval},
}

// actPage is the form for one of them.
type actPage struct {
	*form
	Frame    frame
	Trail    []detail
	Path     string
	Heading  string
	Help     string
	Action   string
	Persons  []option
	Fittings []option // that hang on the anchor
	Markings []option // that stand at the rock
}

// actForm shows the form of an act.
func (p *Pages) actForm(a act) echo.HandlerFunc {
	return func(c echo.Context) error {
		who, anchor, err := p.recording(c, a.op)
		if err != nil {
			return err
		}
		f, err := p.newInspectionForm(c, who)
		if err != nil {
			return err
		}
		return p.showAct(c, a, who, anchor, f)
	}
}

// act records what a form says was done.
func (p *Pages) act(a act) echo.HandlerFunc {
	return func(c echo.Context) error {
		who, anchor, err := p.recording(c, a.op)
		if err != nil {
			return err
		}
		f, err := postedForm(c)
		if err != nil {
			return err
		}
		switch bad, err := f.reject(p.recordAct(c, a, who, f, anchor)); {
		case err != nil:
			return err
		case bad:
			return p.showAct(c, a, who, anchor, f)
		}
		return c.Redirect(http.StatusSeeOther, anchorHref(p.base(c), anchor)+"?done="+a.done)
	}
}

// recordAct reads the whole form before it adds anything, a person included.
func (p *Pages) recordAct(c echo.Context, a act, who registry.Actor, f *form, anchor uuid.UUID) error {
	persons, err := p.persons(c, who)
	if err != nil {
		return err
	}
	person, add := chosenPerson(f, persons)
	record := a.record(p, f, registry.Record{
		ID: f.id("id"), AnchorID: anchor, DoneOn: calendar.Exactly(f.date("done_on")), PersonID: &person.ID, Words: f.text("words"),
	})
	f.checks.Require(f.text("done_on") != "", "done_on", fault.Required)
	if err := f.checks.Err(); err != nil {
		return err
	}
	ctx := c.Request().Context()
	if err := p.keepPerson(ctx, who, person, add); err != nil {
		return err
	}
	return record(ctx, who)
}

func readMaintenance(p *Pages, f *form, r registry.Record) func(context.Context, registry.Actor) error {
	m := registry.Maintenance{
		Record: r, Done: chosen[registry.Upkeep](f, "done"), FittingID: f.optionalID("fitting_id"),
		TorqueNM: f.number("torque_nm"), TorqueTool: f.text("torque_tool"),
	}
	f.checks.Require(f.text("new_fitting.kind") != "" || f.text("new_fitting.metal_text") == "", "new_fitting.kind", fault.Required)
	var fresh *registry.Fitting
	if kind := f.text("new_fitting.kind"); kind != "" {
		fresh = &registry.Fitting{
			Kind: registry.FittingKind(kind), Presence: registry.Present, MetalWords: f.text("new_fitting.metal_text"),
		}
	}
	return func(ctx context.Context, who registry.Actor) error {
		_, _, err := p.service.RecordMaintenance(ctx, who, m, fresh)
		return err
	}
}

func readMarking(p *Pages, f *form, r registry.Record) func(context.Context, registry.Actor) error {
	return p.marking(registry.Marking{Record: r, How: chosen[registry.MarkingHow](f, "how")})
}

func readUnmarking(p *Pages, f *form, r registry.Record) func(context.Context, registry.Actor) error {
	f.checks.Require(f.id("lifts") != uuid.Nil, "lifts", fault.Required)
	return p.marking(registry.Marking{Record: r, Lifts: f.optionalID("lifts")})
}

func (p *Pages) marking(m registry.Marking) func(context.Context, registry.Actor) error {
	return func(ctx context.Context, who registry.Actor) error {
		_, _, err := p.service.RecordMarking(ctx, who, m)
		return err
	}
}

func readRemoval(p *Pages, f *form, r registry.Record) func(context.Context, registry.Actor) error {
	n := registry.Removal{
		Record: r, How: registry.RemovalHow(f.text("how")), OldHole: registry.OldHole(f.text("old_hole")),
		Observations: chosen[registry.Observation](f, "observations"),
		MetalKept:    f.flag("metal_kept"), MetalWhere: f.text("metal_where"),
	}
	if mm := f.number("stub_mm"); mm != nil {
		stub := quantity.Length(*mm)
		n.Stub = &stub
	}
	return func(ctx context.Context, who registry.Actor) error {
		_, _, err := p.service.RecordRemoval(ctx, who, n)
		return err
	}
}

// chosen reads a choice of several.
func chosen[T ~string](f *form, name string) []T {
	var out []T
	for _, v := range f.Values[name] {
		if v != "" {
			out = append(out, T(v))
		}
	}
	return out
}

// optionalID reads an id; nil: none chosen.
func (f *form) optionalID(name string) *uuid.UUID {
	id := f.id(name)
	if id == uuid.Nil {
		return nil
	}
	return &id
}

func (p *Pages) showAct(c echo.Context, a act, who registry.Actor, anchor uuid.UUID, f *form) error {
	story, err := p.service.AnchorStory(c.Request().Context(), who, anchor)
	if err != nil {
		return err
	}
	persons, err := p.persons(c, who)
	if err != nil {
		return err
	}
	page := actPage{
		form: f, Frame: p.framed(c, a.heading), Path: a.path, Heading: a.heading, Help: a.help,
		Action: anchorHref(p.base(c), anchor) + "/" + a.path, Persons: personOptions(persons),
		Fittings: []option{{Text: "Not said, or none"}},
	}
	base := page.Frame.Base
	page.Trail = append(anchorTrail(base, story), detail{story.Facts.Position.Label, anchorHref(base, anchor)}, detail{a.heading, ""})
	for _, t := range story.Facts.Fittings {
		if t.EndedOn.IsZero() {
			page.Fittings = append(page.Fittings, option{Value: t.ID.String(), Text: wording.Label(t.Kind) + ", " + wording.Metal(t.Metal, t.MetalWords)})
		}
	}
	for _, m := range story.Facts.Current().StandingMarkings() {
		page.Markings = append(page.Markings, option{Value: m.ID.String(), Text: wording.MarkedNow([]registry.Marking{m})})
	}
	return render(c, f.status(), actView(page))
}

// offerActs links an anchor to the forms for what somebody did to it.
func (page *anchorPage) offerActs(c echo.Context, s registry.AnchorStory) {
	if s.Facts.Anchor.Removed {
		return
	}
	marked := len(s.Facts.Current().StandingMarkings()) > 0
	for _, a := range acts {
		if allowed(c, a.op) && (a.path != "unmark" || marked) {
			page.Acts = append(page.Acts, detail{a.heading, anchorHref(page.Frame.Base, s.Facts.Anchor.ID) + "/" + a.path})
		}
	}
}

// markedLine says which markings stand, and of an anchor that is out of use that
// none does.
func markedLine(s registry.Standing, f registry.Facts) string {
	line := wording.MarkedNow(f.StandingMarkings())
	if line == "" && s == registry.StandingOutOfUse {
		return wording.NotMarked
	}
	return line
}

// kindOptions are the kinds of a new fitting, after none.
func kindOptions() []option {
	return labelled(registry.FittingKinds(), option{Text: "None, or as the old one"})
}

// notRecordedOptions are the values of a closed list, after none.
func notRecordedOptions[T ~string](list []T) []option {
	return labelled(list, option{Text: "Not recorded"})
}

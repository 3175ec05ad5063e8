package web

import (
	"net/http"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// inspectionForm asks what somebody saw at an anchor.
type inspectionForm struct {
	*form
	Action  string
	Open    bool // shown unfolded
	Persons []option
}

// newInspectionForm is an empty form for today, by whoever was chosen last.
func (p *Pages) newInspectionForm(c echo.Context, who registry.Actor) (*form, error) {
	id, err := newID()
	if err != nil {
		return nil, err
	}
	person, err := newID()
	return newForm("id", id, "new_person_id", person,
		"done_on", p.service.AsOf(who).String(), "person_id", p.sessions.Kept(c.Request().Context(), lastPerson)), err
}

// inspect records an inspection of one anchor.
func (p *Pages) inspect(c echo.Context) error {
	who, id, err := p.recording(c, app.RecordInspection)
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
	err = p.recordInspection(c, who, f, id, persons)
	if fault.KindOf(err) == fault.Conflict {
		return c.Redirect(http.StatusSeeOther, anchorHref(p.base(c), id)+"?done=inspection-before")
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return p.showAnchor(c, who, id, anchorForms{inspection: f})
	}
	return c.Redirect(http.StatusSeeOther, anchorHref(p.base(c), id)+"?done=inspection")
}

// recording returns who asks and the id in the path, or an error if they may
// not do op.
func (p *Pages) recording(c echo.Context, op app.Operation) (registry.Actor, uuid.UUID, error) {
	who, err := actorOf(c)
	if err != nil {
		return who, uuid.Nil, err
	}
	if !allowed(c, op) {
		return who, uuid.Nil, notAllowed(c, op)
	}
	id, err := idOf(c)
	return who, id, err
}

// base is the path of the group's pages.
func (p *Pages) base(c echo.Context) string { return "/g/" + c.Param("slug") }

// recordInspection checks the whole form before it adds anything, a person
// included.
func (p *Pages) recordInspection(c echo.Context, who registry.Actor, f *form, anchor uuid.UUID, persons []registry.Person) error {
	person, add := chosenPerson(f, persons)
	r := readInspection(f, anchor, person.ID)
	f.checks.Require(r.Level != "", "level", fault.Required)
	f.checks.Nest("", r.Validate(p.service.AsOf(who)))
	if err := f.checks.Err(); err != nil {
		return err
	}
	ctx := c.Request().Context()
	if err := p.keepPerson(ctx, who, person, add); err != nil {
		return err
	}
	_, _, err := p.service.RecordInspection(ctx, who, r)
	return err
}

// readInspection reads the form. What is recorded for one anchor is ticked.
func readInspection(f *form, anchor, person uuid.UUID) registry.Inspection {
	r := registry.Inspection{
		Record: registry.Record{
			ID: f.id("id"), AnchorID: anchor, DoneOn: calendar.Exactly(f.date("done_on")), PersonID: &person, Words: f.text("words"),
		},
		Level: registry.Level(f.text("level")), Found: f.flag("found"), Verdict: registry.Verdict(f.text("verdict")),
		InspectBy: f.date("inspect_by"), Ticked: true,
	}
	for _, o := range f.Values["observations"] {
		r.Observations = append(r.Observations, registry.Observation(o))
	}
	return r
}

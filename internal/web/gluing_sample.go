package web

import (
	"net/http"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// samplePage is the form for what the kept sample of a session was found to be.
type samplePage struct {
	*form
	Frame   frame
	Trail   []detail
	Action  string
	Persons []option
	Found   []option
}

// sampleForm answers an empty form for today, by whoever was chosen last.
func (p *Pages) sampleForm(c echo.Context) error {
	who, _, err := p.recording(c, app.RecordGluing)
	if err != nil {
		return err
	}
	told, err := p.gluingStory(c, who)
	if err != nil {
		return err
	}
	f, err := p.newInspectionForm(c, who)
	if err != nil {
		return err
	}
	return p.showSample(c, who, f, told)
}

// recordSample records a session that says beside all that the one in the path
// says what its sample was found to be, and replaces it.
func (p *Pages) recordSample(c echo.Context) error {
	who, _, err := p.recording(c, app.RecordGluing)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	told, err := p.gluingStory(c, who)
	if err != nil {
		return err
	}
	persons, err := p.persons(c, who)
	if err != nil {
		return err
	}
	f.checks.Require(f.text("sample_found") != "", "sample_found", fault.Required)
	by := setter{}
	by.person, by.add = chosenPerson(f, persons)
	s := withSample(f, told.story.Session, by.person.ID)
	if s.SampleFound != "" {
		f.checks.Nest("", inSampleForm(s.Validate(p.service.AsOf(who))))
	}
	err = p.whenRight(c, who, f, by, func() error {
		_, _, err := p.service.RecordGluing(c.Request().Context(), who, registry.Gluing{Session: s})
		return inSampleForm(err)
	})
	if fault.KindOf(err) == fault.Conflict {
		return c.Redirect(http.StatusSeeOther, gluingHref(p.base(c), s.ID)+"?done=gluing-before")
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return p.showSample(c, who, f, told)
	}
	return c.Redirect(http.StatusSeeOther, gluingHref(p.base(c), s.ID)+"?done=gluing-corrected")
}

// withSample is a session that replaces s and says beside all that it says what
// its sample was found to be. What is typed comes behind the words of s.
func withSample(f *form, s registry.GluingSession, by uuid.UUID) registry.GluingSession {
	replaced := s.ID
	s.ID, s.Replaces = f.id("id"), &replaced
	s.SampleFound, s.SampleFoundOn, s.SampleFoundByID = registry.SampleState(f.text("sample_found")), f.date("done_on"), &by
	s.Words = strings.TrimSpace(s.Words + " " + f.text("words"))
	return s
}

// sampleFields are the names that fields of a session have in the form for its
// sample.
var sampleFields = map[string]string{"sample_found_on": "done_on", "sample_found_by_id": "person_id"}

// inSampleForm gives violations the names that their fields have in the form. A
// person of the session who is asked for is the one who looked.
func inSampleForm(err error) error { return renamed(err, sampleFields) }

func (p *Pages) showSample(c echo.Context, who registry.Actor, f *form, told toldSession) error {
	persons, err := p.persons(c, who)
	if err != nil {
		return err
	}
	page := samplePage{form: f, Frame: p.framed(c, "The kept sample"), Persons: personOptions(persons)}
	here := gluingHref(page.Frame.Base, told.story.Session.ID)
	page.Action = here + "/sample"
	page.Trail = []detail{{told.site.Name, siteHref(page.Frame.Base, told.site.ID)}, {wording.Gluing(told.story.Session), here}, {"Sample", ""}}
	for _, s := range registry.SamplesFound() {
		page.Found = append(page.Found, option{Value: string(s), Text: wording.SampleMeaning(s)})
	}
	return render(c, f.status(), sampleView(page))
}

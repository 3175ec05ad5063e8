package web

import (
	"net/http"
	"strconv"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// correctPage is the form with which a session is corrected: its head, as it was
// recorded.
type correctPage struct {
	*form
	Frame   frame
	Trail   []detail
	Action  string
	Choices cardChoices
}

// correctForm answers the head of a session as it was recorded.
func (p *Pages) correctForm(c echo.Context) error {
	who, _, err := p.recording(c, app.RecordGluing)
	if err != nil {
		return err
	}
	told, err := p.gluingStory(c, who)
	if err != nil {
		return err
	}
	f := newForm()
	fillSession(f, &told.story, zoneOf(who))
	for _, name := range []string{"id", "new_person_id"} {
		if err := keepID(f, name); err != nil {
			return err
		}
	}
	return p.showCorrect(c, who, f, told.site, told.story.Session)
}

// correct records a session that replaces another; what was set in that one then
// reads this one.
func (p *Pages) correct(c echo.Context) error {
	who, id, err := p.recording(c, app.RecordGluing)
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
	f.Values.Set("site_id", told.site.ID.String())
	r := &gluingReader{form: f, zone: zoneOf(who), day: f.date("done_on")}
	g := registry.Gluing{Session: r.session(), BatchText: f.text("batch_id")}
	g.Session.Replaces = &id
	was := &told.story.Session // what its sample was found to be has a form of its own
	g.Session.SampleFound, g.Session.SampleFoundOn, g.Session.SampleFoundByID = was.SampleFound, was.SampleFoundOn, was.SampleFoundByID
	err = p.storeGluing(c.Request().Context(), who, r, g, newSetter(f, &g.Session, persons))
	if fault.KindOf(err) == fault.Conflict {
		return c.Redirect(http.StatusSeeOther, gluingHref(p.base(c), f.id("id"))+"?done=gluing-before")
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return p.showCorrect(c, who, f, told.site, told.story.Session)
	}
	return c.Redirect(http.StatusSeeOther, gluingHref(p.base(c), f.id("id"))+"?done=gluing-corrected")
}

func (p *Pages) showCorrect(c echo.Context, who registry.Actor, f *form, site registry.Site, s registry.GluingSession) error {
	choices, err := p.cardChoices(c, who)
	if err != nil {
		return err
	}
	page := correctPage{form: f, Frame: p.framed(c, "Correct a gluing session"), Choices: choices}
	here := gluingHref(page.Frame.Base, s.ID)
	page.Action = here + "/correct"
	page.Trail = []detail{{site.Name, siteHref(page.Frame.Base, site.ID)}, {wording.Gluing(s), here}, {"Correct", ""}}
	return render(c, f.status(), correctView(page))
}

// fillSession fills a form with the head of a session. A day that is not known
// exactly is left open, to be given.
func fillSession(f *form, story *registry.GluingStory, zone *time.Location) {
	s := &story.Session
	if s.DoneOn.Exact() {
		f.Values.Set("done_on", s.DoneOn.From.String())
	}
	if s.BatchID != nil {
		f.Values.Set("batch_id", story.Batches[*s.BatchID].Text)
	}
	f.Values.Set("expires_on", s.ExpiresOn.String())
	f.Values.Set("opened_at", clockText(s.OpenedAt, zone))
	for name, text := range map[string]string{
		"cartridge": s.Cartridge, "method_statement": s.MethodStatement, "sample_where": s.SampleWhere, "words": s.Words,
	} {
		f.Values.Set(name, text)
	}
	for name, v := range map[string]*bool{
		"nozzle_new": s.NozzleNew, "first_mix_discarded": s.FirstMixDiscarded, "sample_kept": s.SampleKept, "sample_at_rock": s.SampleAtRock,
	} {
		if v != nil {
			f.Values.Set(name, yesNo(v))
		}
	}
	for name, v := range map[string]*registry.Reading{"rock_c": s.RockC, "air_c": s.AirC, "cartridge_c": s.CartridgeC, "night_c": s.NightC} {
		if v != nil {
			f.Values.Set(name, strconv.FormatFloat(v.C.Celsius(), 'f', -1, 64))
			f.Values.Set(howField(name), string(v.How))
		}
	}
	for name, v := range map[string]*uuid.UUID{
		"adhesive_id": s.AdhesiveID, "set_by_id": s.SetByID, "supervised_by_id": s.SupervisedByID, "checked_by_id": s.CheckedByID,
	} {
		if v != nil {
			f.Values.Set(name, v.String())
		}
	}
}

// clockText is a moment as it can be typed: the words of it, or else its hours.
func clockText(m calendar.Moment, zone *time.Location) string {
	switch {
	case m.Words != "" || !m.Known():
		return m.Words
	case m.From.Equal(m.To):
		return m.From.In(zone).Format("15:04")
	}
	return m.From.In(zone).Format("15:04") + "-" + m.To.In(zone).Format("15:04")
}

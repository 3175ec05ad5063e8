package web

import (
	"cmp"
	"context"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// Lines of a gluing form: as many at first, and more at a time; and the most.
const (
	linesAtFirst = 6
	mostLines    = 24
)

// gluingPage is the form for what was glued from one cartridge.
type gluingPage struct {
	*form
	Frame   frame
	Trail   []detail
	Where   string // site and route
	Card    string // link to the card to print
	Choices cardChoices
	Holes   []option
	Lines   int
	Accept  string // media types of a line's picture; blank: whoever asks may add none
}

// gluingForm answers the form, or asks first where it was.
func (p *Pages) gluingForm(c echo.Context) error {
	who, err := p.mayGlue(c)
	if err != nil {
		return err
	}
	f := newForm("route_id", c.QueryParam("route"), "site_id", c.QueryParam("site"), "lines", strconv.Itoa(linesAtFirst))
	at, err := p.ground(c.Request().Context(), who, f)
	if err != nil {
		return err
	}
	if at == nil {
		return p.gluingPlaces(c, who)
	}
	if err := p.fillGluing(c, who, f, at); err != nil {
		return err
	}
	return p.showGluing(c, who, f, at)
}

// mayGlue returns who asks, or an error if they may not record a session.
func (p *Pages) mayGlue(c echo.Context) (registry.Actor, error) {
	who, err := actorOf(c)
	if err == nil && !allowed(c, app.RecordGluing) {
		err = notAllowed(c, app.RecordGluing)
	}
	return who, err
}

// fillGluing fills in what can be known before anything is typed: today, whoever
// was chosen last, and a position where no anchor stands for each line.
func (p *Pages) fillGluing(c echo.Context, who registry.Actor, f *form, at *gluingGround) error {
	f.Values.Set("site_id", at.site.ID.String())
	f.Values.Set("done_on", p.service.AsOf(who).String())
	f.Values.Set("set_by_id", p.sessions.Kept(c.Request().Context(), lastPerson))
	for _, name := range []string{"id", "new_person_id"} {
		if err := keepID(f, name); err != nil {
			return err
		}
	}
	if at.route == nil {
		return nil
	}
	n := 0
	for _, h := range at.holes {
		if h.standing == nil && n < linesAtFirst {
			f.Values.Set(lineField(n, "position_id"), h.position.ID.String())
			n++
		}
	}
	return nil
}

// keepID puts a new id into a field that has none yet.
func keepID(f *form, name string) error {
	if f.text(name) != "" {
		return nil
	}
	id, err := newID()
	f.Values.Set(name, id)
	return err
}

// showGluing draws the form as far as it was filled in.
func (p *Pages) showGluing(c echo.Context, who registry.Actor, f *form, at *gluingGround) error {
	lines := linesOf(f)
	for n := range lines {
		for _, name := range []string{"id", "anchor_id"} {
			if err := keepID(f, lineField(n, name)); err != nil {
				return err
			}
		}
	}
	choices, err := p.cardChoices(c, who)
	if err != nil {
		return err
	}
	page := gluingPage{
		form: f, Frame: p.framed(c, "Enter a gluing card"), Where: at.name(), Choices: choices, Holes: at.options(), Lines: lines,
		Accept: takesPictures(c),
	}
	page.Trail = append(at.trail(page.Frame.Base), detail{"Gluing", ""})
	page.Card = page.Frame.Base + "/gluing/card?" + at.query()
	return render(c, f.status(), gluingView(page))
}

// linesOf is how many lines the form has.
func linesOf(f *form) int {
	n, err := strconv.Atoi(f.text("lines"))
	if err != nil {
		return linesAtFirst
	}
	return min(max(n, 1), mostLines)
}

// enterGluing records what was typed, or adds lines to the form.
func (p *Pages) enterGluing(c echo.Context) error {
	who, err := p.mayGlue(c)
	if err != nil {
		return err
	}
	f, err := postedGluing(c)
	if err != nil {
		return err
	}
	at, err := p.ground(c.Request().Context(), who, f)
	if err != nil {
		return err
	}
	if at == nil {
		return fault.New(fault.NotFound, "gluing form without a site")
	}
	if f.text("more") != "" {
		f.Values.Set("lines", strconv.Itoa(min(linesOf(f)+linesAtFirst, mostLines)))
		return p.showGluing(c, who, f, at)
	}
	persons, err := p.persons(c, who)
	if err != nil {
		return err
	}
	done, err := p.recordGluing(c, who, f, persons)
	if fault.KindOf(err) == fault.Conflict {
		return c.Redirect(http.StatusSeeOther, gluingHref(p.base(c), f.id("id"))+"?done=gluing-before")
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return p.showGluing(c, who, f, at)
	}
	return c.Redirect(http.StatusSeeOther, gluingHref(p.base(c), f.id("id"))+"?done="+done)
}

// recordGluing reads the whole form and records what it says, then the pictures,
// and names the notice of what was done.
func (p *Pages) recordGluing(c echo.Context, who registry.Actor, f *form, persons []registry.Person) (string, error) {
	r := &gluingReader{form: f, zone: zoneOf(who)}
	g := r.read(linesOf(f))
	if err := p.storeGluing(c.Request().Context(), who, r, g, newSetter(f, &g.Session, persons)); err != nil {
		return "", err
	}
	refused, err := p.keepPictures(c, who, r, g)
	if refused {
		return "gluing-no-picture", err
	}
	return "gluing", err
}

// storeGluing checks everything before it adds anything, a person included; nil:
// none is to be added.
func (p *Pages) storeGluing(ctx context.Context, who registry.Actor, r *gluingReader, g registry.Gluing, person *registry.Person) error {
	asOf := p.service.AsOf(who)
	r.checks.Nest("", r.inForm(g.Session.Validate(asOf)))
	for k := range g.Installations {
		if err := g.Installations[k].Validate(asOf); err != nil {
			var at fault.Checks
			at.Nest("installations["+strconv.Itoa(k)+"]", err)
			r.checks.Nest("", r.byLine(at.Err()))
		}
	}
	if err := r.checks.Err(); err != nil {
		return err
	}
	if person != nil {
		if _, _, err := p.service.AddPerson(ctx, who, *person); err != nil {
			return personNamed(err)
		}
	}
	if g.Session.SetByID != nil {
		if err := p.sessions.Keep(ctx, lastPerson, g.Session.SetByID.String()); err != nil {
			return err
		}
	}
	_, _, err := p.service.RecordGluing(ctx, who, g)
	return r.byLine(err)
}

// newSetter returns the person to add where a name is given that is not on the
// list, nil otherwise. Whoever is named stands as who set the anchors.
func newSetter(f *form, s *registry.GluingSession, persons []registry.Person) *registry.Person {
	if f.text("person_name") == "" {
		return nil
	}
	person, add := chosenPerson(f, persons)
	s.SetByID = &person.ID
	if !add {
		return nil
	}
	return &person
}

func gluingHref(base string, id uuid.UUID) string { return base + "/gluing/" + id.String() }

// gluingPlaces asks where it was.
func (p *Pages) gluingPlaces(c echo.Context, who registry.Actor) error {
	sites, err := everything(func(at registry.Page) ([]registry.Site, error) {
		return p.service.Sites(c.Request().Context(), who, at)
	}, func(s registry.Site) uuid.UUID { return s.ID })
	if err != nil {
		return err
	}
	slices.SortFunc(sites, func(a, b registry.Site) int {
		return cmp.Compare(registry.Fold(a.Name), registry.Fold(b.Name))
	})
	page := gluingListPage{Frame: p.framed(c, "Enter a gluing card"), Find: c.QueryParam(searchField("site_id"))}
	sites = slices.DeleteFunc(sites, func(s registry.Site) bool { return !s.EndedOn.IsZero() })
	n := newFinder(newForm(searchField("site_id"), page.Find), "site_id", siteOptions(sites))
	for _, o := range n.Found {
		page.Places = append(page.Places, siteLine{c.Request().URL.Path + "?" + url.Values{"site": {o.Value}}.Encode(), o.Text, kindOf(sites, o.Value)})
	}
	page.State = n.State
	return ok(c, gluingPlacesView(page))
}

// kindOf is the kind of the site with that id, as words.
func kindOf(sites []registry.Site, id string) string {
	for i := range sites {
		if sites[i].ID.String() == id {
			return wording.Label(sites[i].Kind)
		}
	}
	return ""
}

// gluingLink leads to the form for what was glued at a site or on a route;
// blank for whoever may not record it.
func gluingLink(c echo.Context, base, kind string, id uuid.UUID) string {
	if !allowed(c, app.RecordGluing) {
		return ""
	}
	return base + "/gluing/new?" + url.Values{kind: {id.String()}}.Encode()
}

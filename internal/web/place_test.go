package web_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// story reads everything on record about the anchor of a page.
func (s *stack) story(t *testing.T, href string) registry.AnchorStory {
	t.Helper()
	id, err := uuid.Parse(href[strings.LastIndex(href, "/")+1:])
	if err != nil {
		t.Fatal(err)
	}
	story, err := s.service.AnchorStory(t.Context(), s.actor(registry.RoleReader), id)
	if err != nil {
		t.Fatal(err)
	}
	return story
}

func TestPlacesLeadDownToAPosition(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleReader)
	site := b.get(b.get("/g/fell-end/places").link(t, "Gutter Edge"))
	sector := b.get(site.link(t, "Left Wall"))
	if n := len(web.All(sector.doc, web.Class("anchor-row"))); sector.status != http.StatusOK || n != 2 {
		t.Errorf("sector = %d with %d anchors, want 200 with 2", sector.status, n)
	}
	route := b.get(sector.link(t, "Left Wall › Slate Rib"))
	if got := web.Texts(web.All(route.doc, web.Tag("h3"))); strings.Join(got, " ") != "1 2" {
		t.Errorf("positions of the route %q, want 1 and 2 in order", got)
	}
	position := b.get(route.link(t, "2"))
	for _, want := range []string{"Slate Rib", "number 2 from the start", "Suspect", "Invented Estate", wording.NoneCoordinates, wording.NoneEnvironment, wording.Caution} {
		if !strings.Contains(position.text(), want) {
			t.Errorf("position's page lacks %q: %s", want, position.text())
		}
	}
	back := position.link(t, "Gutter Edge")
	if p := b.get(back); p.status != http.StatusOK {
		t.Errorf("back to the site = %d, want 200", p.status)
	}
	anchor := b.get(suspectAnchor(t, b))
	if got := anchor.link(t, "More about this position"); b.get(got).status != http.StatusOK {
		t.Errorf("from the anchor to its position = %d, want 200", b.get(got).status)
	}
}

func TestPagesOfPlacesThatAreNot(t *testing.T) {
	t.Parallel()
	b := newStack(t).member(t, registry.RoleSteward)
	for _, path := range []string{"places", "sectors", "routes", "positions", "anchors"} {
		for _, id := range []string{newID(t).String(), "nothing"} {
			for _, more := range []string{"", "/environment"} {
				if p := b.get("/g/fell-end/" + path + "/" + id + more); p.status != http.StatusNotFound {
					t.Errorf("%s/%s%s = %d, want 404", path, id, more, p.status)
				}
			}
		}
	}
}

func TestPositionSaysWhatIsAroundIt(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(gutter)
	anchor := suspectAnchor(t, b)
	s.surround(t, anchor)
	position := b.get(b.get(anchor).link(t, "More about this position"))
	for _, want := range []string{
		"Rockfall on 3 May 2026: every anchor here is to be inspected",
		"Site Gutter Edge: No climbing from 1 February to 30 June every year, by agreement: nesting birds; never confirmed. in force today",
		"Distance to the sea 0.3 km All from the site Gutter Edge, since 3 May 2026",
		"Permission of Invented Estate, from 3 May 2026 on. in force today",
		"Rib belay, equalised",
	} {
		if !strings.Contains(position.text(), want) {
			t.Errorf("position's page lacks %q: %s", want, position.text())
		}
	}
	site := b.get(position.link(t, "Gutter Edge"))
	for _, want := range []string{"No climbing from 1 February", "from here, since 3 May 2026", "Permission of Invented Estate"} {
		if !strings.Contains(site.text(), want) {
			t.Errorf("site's page lacks %q: %s", want, site.text())
		}
	}
}

// surround records something of every kind around the position of an anchor.
func (s *stack) surround(t *testing.T, anchor string) {
	t.Helper()
	ctx, who, f := t.Context(), s.actor(registry.RoleSteward), s.story(t, anchor).Facts
	today, sea := s.service.AsOf(who), 0.3
	parcel, err := s.service.Parcel(ctx, who, *f.Position.ParcelID)
	if err != nil {
		t.Fatal(err)
	}
	positions, err := s.service.Positions(ctx, who, &f.Site.ID, nil, registry.Page{})
	if err != nil {
		t.Fatal(err)
	}
	place := registry.Place{Kind: registry.AtSite, ID: f.Site.ID}
	_, _, err = s.service.AddEvent(ctx, who, registry.Event{SiteID: f.Site.ID, Kind: registry.Rockfall, HappenedOn: today})
	check(t, err)
	_, _, err = s.service.AddEnvironment(ctx, who, registry.Environment{SiteID: f.Site.ID, Place: place, From: today, SeaKm: &sea})
	check(t, err)
	_, _, err = s.service.AddAgreement(ctx, who, registry.Agreement{Kind: registry.Permission, LandownerID: &parcel.LandownerID, Issuer: "Invented Estate", From: today})
	check(t, err)
	_, _, err = s.service.AddRestriction(ctx, who, registry.Restriction{
		Place: &place, Kind: registry.NoClimbing, Weight: registry.ByAgreement, Why: "nesting birds",
		Yearly: &calendar.Window{FromMonth: time.February, FromDay: 1, ToMonth: time.June, ToDay: 30},
	})
	check(t, err)
	_, _, err = s.service.AddAssembly(ctx, who, registry.Assembly{
		SiteID: f.Site.ID, Name: "Rib belay", Kind: registry.Equalised, PositionIDs: []uuid.UUID{f.Position.ID, other(positions, f.Position.ID)},
	})
	check(t, err)
}

func check(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// other is a position that is not the one with that id.
func other(list []registry.Position, id uuid.UUID) uuid.UUID {
	for _, p := range list {
		if p.ID != id {
			return p.ID
		}
	}
	return uuid.Nil
}

func TestEnvironmentIsEnteredCorrectedAndReplaced(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(gutter)
	today := b.get("/g/fell-end/")
	if !strings.Contains(today.text(), wording.EnvironmentTask) {
		t.Errorf("Today lacks the task %q: %s", wording.EnvironmentTask, today.text())
	}
	site := "/g/fell-end/places/" + siteID(t, b)
	path := b.get(site).link(t, "Enter it")

	form := b.get(path).form(t, path)
	if p := b.post(path, form); p.status != http.StatusUnprocessableEntity {
		t.Errorf("an environment that says nothing = %d, want 422", p.status)
	}
	form.Set("sea_km", "far")
	form.Set("until", "2020-01-01")
	wrong := b.post(path, form)
	for _, field := range []string{"sea_km", "until"} {
		web.One(t, wrong.doc, "what is wrong with "+field, web.Has("id", field+"-wrong"))
	}
	if got := wrong.form(t, path).Get("sea_km"); wrong.status != http.StatusUnprocessableEntity || got != "far" {
		t.Errorf("wrong environment = %d with %q typed, want 422 and what was typed", wrong.status, got)
	}
	form.Set("sea_km", "0,4")
	form.Set("until", "")
	form.Set("washed", "no")
	form.Set("zinc_category", "C4")
	if p := b.post(path, form); p.status != http.StatusSeeOther {
		t.Fatalf("enter = %d, want 303: %s", p.status, p.text())
	}
	if p := b.get(site); !strings.Contains(p.text(), "Distance to the sea 0.4 km") || !strings.Contains(p.text(), "Washed by rain no") {
		t.Errorf("site's page reads %s", p.text())
	}
	if p := b.get("/g/fell-end/"); strings.Contains(p.text(), wording.EnvironmentTask) {
		t.Error("Today still has the task")
	}

	// the same day: a correction in place
	form = b.get(path).form(t, path)
	if got := form.Get("sea_km") + form.Get("washed") + form.Get("zinc_category"); got != "0.4noC4" {
		t.Errorf("form stands at %q, want what was entered", got)
	}
	form.Set("sea_km", "0.5")
	form.Set("from", "2026-01-01")
	b.post(path, form)
	statements := s.statements(t)
	if len(statements) != 1 || *statements[0].SeaKm != 0.5 {
		t.Fatalf("after a correction: %+v, want one statement", statements)
	}
	// a later day: what was entered ends on the day before
	form = b.get(path).form(t, path)
	form.Set("washed", "yes")
	form.Set("from", "2026-03-01")
	b.post(path, form)
	statements = s.statements(t)
	if len(statements) != 2 || statements[0].Until.String() != "2026-02-28" || !statements[1].Until.IsZero() {
		t.Fatalf("after a change: %+v, want the first ended on the day before", statements)
	}
	// a version read before that is stale
	if p := b.post(path, form); p.status != http.StatusPreconditionFailed {
		t.Errorf("a form read before the change = %d, want 412", p.status)
	}
}

func (s *stack) statements(t *testing.T) []registry.Environment {
	t.Helper()
	list, err := s.service.Environments(t.Context(), s.actor(registry.RoleReader), nil, registry.Page{})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func TestOnlyStewardsEnterAnEnvironment(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleRecorder)
	path := "/g/fell-end/places/" + siteID(t, b) + "/environment"
	if p := b.get(path); p.status != http.StatusForbidden {
		t.Errorf("form = %d, want 403", p.status)
	}
	if p := b.post(path, nil); p.status != http.StatusForbidden {
		t.Errorf("entering = %d, want 403", p.status)
	}
	for _, page := range []string{"/g/fell-end/", "/g/fell-end/places/" + siteID(t, b)} {
		if p := b.get(page); strings.Contains(p.body, path) {
			t.Errorf("%s offers a recorder to enter the environment", page)
		}
	}
}

func TestWorkLandAndHouseRules(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleReader)
	work := b.get("/g/fell-end/reports/work")
	for _, want := range []string{"Slate Rib, 2", "What to bring", "1 anchor to inspect", "This season"} {
		if !strings.Contains(work.text(), want) {
			t.Errorf("work list lacks %q: %s", want, work.text())
		}
	}
	land := b.get("/g/fell-end/reports/land")
	for _, want := range []string{"Invented Estate", "Known problems", "3 anchors in the rock", "Done in the period"} {
		if !strings.Contains(land.text(), want) {
			t.Errorf("land report lacks %q: %s", want, land.text())
		}
	}
	if n := len(web.All(land.doc, web.Class("anchor-row"))); n != 0 {
		t.Errorf("land report names %d anchors unasked, want none", n)
	}
	if n := len(web.All(b.get("/g/fell-end/reports/land?detail=yes").doc, web.Class("anchor-row"))); n == 0 {
		t.Error("land report names no anchor when asked")
	}
	for _, query := range []string{"?from=soon", "?from=2026-05-02&to=2026-05-01"} {
		if p := b.get("/g/fell-end/reports/land" + query); p.status != http.StatusUnprocessableEntity {
			t.Errorf("land report for %s = %d, want 422", query, p.status)
		}
		if p := b.get("/g/fell-end/reports/land.csv" + query); p.status != http.StatusUnprocessableEntity {
			t.Errorf("land report as CSV for %s = %d, want 422", query, p.status)
		}
	}
	for _, p := range []page{b.get(work.link(t, "Download as CSV")), b.get(land.link(t, "Download as CSV"))} {
		if p.status != http.StatusOK || !strings.Contains(p.body, wording.Caution) {
			t.Errorf("CSV = %d %q, want 200 with the caution", p.status, p.body)
		}
	}
	rules := b.get("/g/fell-end/house-rules")
	for _, want := range []string{"Version 1.", "default of this project", "60 days"} {
		if !strings.Contains(rules.text(), want) {
			t.Errorf("house rules lack %q", want)
		}
	}
}

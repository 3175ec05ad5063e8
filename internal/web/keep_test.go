package web_test

import (
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// filled opens the form at a path and sets some fields: alternating names and
// values.
func (b *browser) filled(at string, fields ...string) url.Values {
	b.t.Helper()
	form := b.get(at).form(b.t, at)
	for i := 0; i+1 < len(fields); i += 2 {
		form.Set(fields[i], fields[i+1])
	}
	return form
}

// idIn is the last step of the address that an answer leads on to.
func idIn(p page) string {
	path, _, _ := strings.Cut(p.header.Get("Location"), "?")
	return path[strings.LastIndex(path, "/")+1:]
}

// A steward enters a crag from nothing, page by page: site, sector, route and
// position.
func TestACragIsEnteredByPages(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	at := b.get("/g/fell-end/places").link(t, "Add a site")
	answer := b.post(at, b.filled(at, "name", "Hollin Scar (invented)", "kind", "crag", "lat", "54,4", "lon", "-2.1", "notes", "One\r\ntwo"))
	site := b.led(t, answer)
	if !strings.Contains(site.text(), wording.RecordedSite) || !strings.Contains(site.text(), wording.Caution) {
		t.Fatalf("page of the new site = %d: %s", site.status, site.text())
	}
	stored, err := s.service.Site(t.Context(), s.actor(registry.RoleReader), uuid.MustParse(idIn(answer)))
	check(t, err)
	if *stored.Lat != 54.4 || stored.Notes != "One\ntwo" || stored.Rock != "" {
		t.Errorf("stored %+v, want 54.4 N, two lines of notes and rock not known", stored)
	}
	at = site.link(t, "Add a sector")
	sector := b.led(t, b.post(at, b.filled(at, "name", "Left Wing")))
	if !strings.Contains(sector.text(), wording.RecordedSector) {
		t.Fatalf("page of the new sector: %s", sector.text())
	}
	at = sector.link(t, "Add a route")
	route := b.led(t, b.post(at, b.filled(at, "name", "Long Rib", "kind", "climb")))
	if !strings.Contains(route.text(), wording.RecordedRoute) || route.link(t, "Left Wing") == "" {
		t.Fatalf("page of the new route: %s", route.text())
	}
	at = route.link(t, "Add a position")
	if p := b.led(t, b.post(at, b.filled(at, "label", "Runner 1"))); !strings.Contains(p.text(), "Long Rib, Runner 1") {
		t.Errorf("page of the new position: %s", p.text())
	}
	at = site.link(t, "Add a route")
	if p := b.led(t, b.post(at, b.filled(at, "name", "Short Rib", "kind", "climb"))); !strings.Contains(p.text(), "Short Rib") {
		t.Errorf("page of a route in no sector: %s", p.text())
	}
}

// What cannot be right is named beside its field, and nothing typed is lost; the
// form sent twice adds one.
func TestANewSiteIsCheckedAndAddedOnce(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	const at = "/g/fell-end/places/new"
	right := b.filled(at, "name", "Hollin Pot (invented)", "kind", "cave", "coordinates_text", "SD 123 456")
	for _, c := range []struct{ field, text string }{
		{"name", " "}, {"kind", ""}, {"lat", "91"}, {"lon", "east"}, {"rock", "granite"}, {"first_round_ends", "some day"},
	} {
		form := maps.Clone(right)
		form.Set(c.field, c.text)
		p := b.post(at, form)
		if p.status != http.StatusUnprocessableEntity || len(web.All(p.doc, web.Has("id", c.field+"-wrong"))) != 1 {
			t.Errorf("%s %q = %d: %s", c.field, c.text, p.status, p.text())
		}
		if again := p.form(t, at); again.Get("coordinates_text") != "SD 123 456" || again.Get("id") != right.Get("id") {
			t.Errorf("%s %q: the form came back as %v", c.field, c.text, again)
		}
	}
	b.led(t, b.post(at, right))
	if p := b.led(t, b.post(at, right)); !strings.Contains(p.text(), wording.RecordedSite) {
		t.Errorf("sent twice: %s", p.text())
	}
	right.Set("name", "Another Pot (invented)")
	if p := b.led(t, b.post(at, right)); !strings.Contains(p.text(), wording.SiteBefore) || !strings.Contains(p.text(), "Hollin Pot") {
		t.Errorf("the same form with another name: %s", p.text())
	}
}

func TestPlacesAreChangedByPages(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	b := s.member(t, registry.RoleSteward)
	site := "/g/fell-end/places/" + w.site.String()
	at := b.get(site).link(t, "Add a sector")
	sector := strings.Split(b.post(at, b.filled(at, "name", "Left Wing")).header.Get("Location"), "?")[0]
	sectorID := sector[strings.LastIndex(sector, "/")+1:]
	route, position := "/g/fell-end/routes/"+w.route.String(), "/g/fell-end/positions/"+w.positions[0].String()
	for _, c := range []struct {
		at, link string
		fields   []string
		want     []string
	}{
		{site, "Change this site", []string{"name", "Fell End Quarry (invented)", "kind", "quarry", "rock", "soft", "rock_text", "slate"}, []string{"Fell End Quarry", "Quarry", "slate", wording.ChangedSite}},
		{sector, "Change this sector", []string{"name", "Left Buttress"}, []string{"Left Buttress", wording.ChangedSector}},
		{route, "Change this route", []string{"name", "High Traverse", "traffic", "seldom", "sector_id", sectorID}, []string{"High Traverse", "Seldom", "Left Buttress", wording.ChangedRoute}},
		{position, "Change this position", []string{"label", "T1 left", "role", "belay", "face", "slab", "backed_up", "no", "how_to_find", "Left of the crack.", "sector_id", sectorID}, []string{
			"T1 left", "Belay", "Slab", "Left of the crack.", "Left Buttress", wording.ChangedPosition, wording.Caution,
		}},
	} {
		at := b.get(c.at).link(t, c.link)
		p := b.led(t, b.post(at, b.filled(at, c.fields...)))
		for _, want := range c.want {
			if !strings.Contains(p.text(), want) {
				t.Errorf("%s: the page lacks %q: %s", c.link, want, p.text())
			}
		}
		form := b.get(at).form(t, at)
		for i := 0; i < len(c.fields); i += 2 {
			if got := form.Get(c.fields[i]); got != c.fields[i+1] {
				t.Errorf("%s: %s stands at %q, want %q", c.link, c.fields[i], got, c.fields[i+1])
			}
		}
		form.Set("version", "2")
		for i := 0; i < len(c.fields); i += 2 {
			form.Set(c.fields[i], " ")
		}
		if p := b.post(at, form); p.status != http.StatusUnprocessableEntity {
			t.Errorf("%s: all blank = %d, want 422", c.link, p.status)
		}
	}
	if got := stopsOn(b.get(route)); !slices.Equal(got, []string{"T1 left", "T2"}) {
		t.Errorf("positions %v, want them where they were", got)
	}
}

// Whoever was slower sees what is stored now beside what they typed, loses
// nothing, and may then store theirs.
func TestAStaleChangeShowsBoth(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 1)
	b := s.member(t, registry.RoleSteward)
	at := "/g/fell-end/positions/" + w.positions[0].String() + "/change"
	slow := b.filled(at, "label", "Threshold", "how_to_find", "By the <b>tree</b>.")
	quick := b.filled(at, "label", "Doorstep", "role", "belay")
	b.led(t, b.post(at, quick))
	if p := b.post(at, quick); p.status != http.StatusSeeOther {
		t.Errorf("sent twice = %d, want it taken as done", p.status)
	}
	p := b.post(at, slow)
	if p.status != http.StatusPreconditionFailed || !strings.Contains(p.text(), wording.FormStale) {
		t.Fatalf("a stale change = %d: %s", p.status, p.text())
	}
	for field, want := range map[string]string{"label": "Doorstep", "role": "Belay", "how_to_find": wording.NothingStored} {
		if got := web.Text(web.One(t, p.doc, field, web.Has("id", field+"-stored"))); got != wording.StoredNow(want) {
			t.Errorf("beside %s stands %q, want %q", field, got, want)
		}
	}
	if len(web.All(p.doc, web.Has("id", "face-stored"))) != 0 {
		t.Error("where both say the same it is said that they do not")
	}
	again := p.form(t, at)
	if again.Get("label") != "Threshold" || again.Get("how_to_find") != "By the <b>tree</b>." || again.Get("role") != "" {
		t.Errorf("the form came back as %v, want what was typed", again)
	}
	if shown := b.get(strings.TrimSuffix(at, "/change")); !strings.Contains(shown.text(), "Doorstep") {
		t.Errorf("a stale change was stored: %s", shown.text())
	}
	again.Set("role", "belay")
	if shown := b.led(t, b.post(at, again)); !strings.Contains(shown.text(), "Threshold") || !strings.Contains(shown.text(), "Belay") {
		t.Errorf("sent again: %s", shown.text())
	}
	again.Set("version", "")
	again.Set("label", "Step")
	if p := b.post(at, again); p.status != http.StatusPreconditionFailed {
		t.Errorf("a change of no version = %d, want 412", p.status)
	}
}

// A place ends once no anchor stands there; it leaves the lists, keeps its page,
// and the end can be taken out again.
func TestAPlaceEndsByItsPage(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 1)
	b := s.member(t, registry.RoleSteward)
	add := "/g/fell-end/positions/" + w.positions[0].String() + "/anchors/new"
	b.led(t, b.post(add, b.filled(add)))
	site := "/g/fell-end/places/" + w.site.String()
	at := site + "/change"
	p := b.post(at, b.filled(at, "place_ended_on", "2026-05-01", "notes", "Quarried away."))
	if p.status != http.StatusUnprocessableEntity || !strings.Contains(p.text(), wording.Fault(fault.InUse, map[string]string{"standing": "1"})) ||
		len(web.All(p.doc, web.Has("id", "place_ended_on-wrong"))) != 1 || p.form(t, at).Get("notes") != "Quarried away." {
		t.Errorf("ended over an anchor = %d: %s", p.status, p.text())
	}
	for _, c := range []struct{ day, wrong string }{{"2026-06-01", "ahead"}, {"someday", "No date"}} {
		if p := b.post(at, b.filled(at, "place_ended_on", c.day)); p.status != http.StatusUnprocessableEntity || !strings.Contains(p.text(), c.wrong) {
			t.Errorf("ended on %s = %d: %s", c.day, p.status, p.text())
		}
	}
	empty := "/g/fell-end/places/new"
	made := b.post(empty, b.filled(empty, "name", "Empty Crag (invented)", "kind", "crag"))
	at = "/g/fell-end/places/" + idIn(made) + "/change"
	ended := b.led(t, b.post(at, b.filled(at, "place_ended_on", "2026-05-01")))
	if !strings.Contains(ended.text(), "1 May 2026") || strings.Contains(ended.body, "/new\"") {
		t.Errorf("page of what has ended: %s", ended.text())
	}
	gone := b.get("/g/fell-end/places")
	if web.Text(web.One(t, gone.doc, "those that ended", web.Tag("summary"))) != wording.SitesEnded(1) {
		t.Errorf("places after an end: %s", gone.text())
	}
	back := b.led(t, b.post(at, b.filled(at, "place_ended_on", "")))
	if strings.Contains(back.text(), "1 May 2026") || !strings.Contains(back.body, "/routes/new\"") {
		t.Errorf("page of what is looked after again: %s", back.text())
	}
}

// What describes an anchor is changed, and it is assessed anew. What was not
// touched stays exactly as it was, however it would be read.
func TestAnAnchorIsChangedByItsPage(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(gutter)
	anchor := suspectAnchor(t, b)
	at := b.get(anchor).link(t, "Change what describes it")
	asListed := s.story(t, anchor).Facts.Anchor
	before, err := s.service.ChangeAnchor(t.Context(), s.actor(registry.RoleSteward), asListed.ID, asListed.Version, func(a *registry.Anchor) error {
		a.Metal, a.MetalWords, a.Notes = metal.NewSet("1.4301"), " shiny ", " <i>loose</i> "
		return nil
	})
	check(t, err)
	b.led(t, b.post(at, b.filled(at, "overall_length_mm", "80")))
	if now := s.story(t, anchor).Facts.Anchor; now.Notes != before.Notes || now.MetalWords != before.MetalWords || !now.Metal.Equal(before.Metal) {
		t.Errorf("what was not touched is %+v, want it as in %+v", now, before)
	}
	before = s.story(t, anchor).Facts.Anchor
	p := b.led(t, b.post(at, b.filled(at, "notes", "By the bush.", "shank_diameter_mm", "1/2 in")))
	after := s.story(t, anchor).Facts.Anchor
	if !strings.Contains(p.text(), wording.ChangedAnchor) || after.Version != before.Version+1 {
		t.Fatalf("changed anchor, version %d after %d: %s", after.Version, before.Version, p.text())
	}
	want := before
	shank := quantity.Length(12.7)
	want.Version, want.Notes, want.Shank = after.Version, "By the bush.", &shank
	if diff := cmp.Diff(want, after); diff != "" {
		t.Errorf("anchor (-want +got):\n%s", diff)
	}
	if s := s.story(t, anchor).Assessment.Standing; s != registry.StandingSuspect {
		t.Errorf("standing = %s after its notes were changed, want suspect still", s)
	}
	for field, text := range map[string]string{"set_on": "some day", "overall_length_mm": "-3", "shank_diameter_mm": "thick", "form": "nail"} {
		p := b.post(at, b.filled(at, field, text, "metal_text", "Typed long."))
		if p.status != http.StatusUnprocessableEntity || len(web.All(p.doc, web.Has("id", field+"-wrong"))) != 1 || p.form(t, at).Get("metal_text") != "Typed long." {
			t.Errorf("%s %q = %d: %s", field, text, p.status, p.text())
		}
	}
	b.led(t, b.post(at, b.filled(at, "metal_text", "316L", "set_on", "c. 2013", "form", "staple")))
	now := s.story(t, anchor).Facts.Anchor
	if grades := now.Metal.Strings(); !slices.Equal(grades, []string{"1.4404"}) || now.SetOn.Words != "c. 2013" || now.Form != registry.Staple {
		t.Errorf("stored %v, %+v, %s", grades, now.SetOn, now.Form)
	}
	b.led(t, b.post(at, b.filled(at, "metal_text", "")))
	if now := s.story(t, anchor).Facts.Anchor; now.Metal.Known() || now.MetalWords != "" {
		t.Errorf("the metal that was taken out is %v still", now.Metal)
	}
}

// Other roles see no link, and are refused; what is not there is not found.
func TestOnlyStewardsKeepTheInventory(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	steward := s.member(t, registry.RoleSteward)
	add := "/g/fell-end/positions/" + w.positions[0].String() + "/anchors/new"
	anchor := "/g/fell-end/anchors/" + idIn(steward.post(add, steward.filled(add)))
	made := "/g/fell-end/places/" + w.site.String() + "/sectors/new"
	sector := "/g/fell-end/sectors/" + idIn(steward.post(made, steward.filled(made, "name", "Left Wing")))
	site, route, position := "/g/fell-end/places/"+w.site.String(), "/g/fell-end/routes/"+w.route.String(), "/g/fell-end/positions/"+w.positions[0].String()
	forms := map[string][]string{
		"/g/fell-end/places": {"/new"}, site: {"/change", "/sectors/new", "/routes/new"}, sector: {"/change", "/routes/new"},
		route: {"/change", "/order"}, position: {"/change"}, anchor: {"/change"},
	}
	for _, role := range []registry.Role{registry.RoleReader, registry.RoleRecorder} {
		b := s.member(t, role)
		for at, paths := range forms {
			shown := b.get(at)
			for _, path := range paths {
				if strings.Contains(shown.body, at+path) {
					t.Errorf("%s offers a %s %s", at, role, path)
				}
				if p := b.get(at + path); p.status != http.StatusForbidden {
					t.Errorf("%s%s for a %s = %d, want 403", at, path, role, p.status)
				}
				if p := b.post(at+path, url.Values{"name": {"X"}, "kind": {"crag"}, "label": {"X"}, "version": {"1"}}); p.status != http.StatusForbidden {
					t.Errorf("posted to %s%s by a %s = %d, want 403", at, path, role, p.status)
				}
			}
		}
	}
	for at, paths := range forms {
		shown := steward.get(at)
		for _, path := range paths {
			if !strings.Contains(shown.body, at+path) {
				t.Errorf("%s does not offer a steward %s", at, path)
			}
			if strings.Count(at, "/") < 4 {
				continue
			}
			nowhere := at[:strings.LastIndex(at, "/")+1] + newID(t).String() + path
			if p := steward.get(nowhere); p.status != http.StatusNotFound {
				t.Errorf("%s = %d, want 404", nowhere, p.status)
			}
			if p := steward.post(nowhere, url.Values{"name": {"X"}, "version": {"1"}}); p.status != http.StatusNotFound {
				t.Errorf("posted to %s = %d, want 404", nowhere, p.status)
			}
		}
	}
}

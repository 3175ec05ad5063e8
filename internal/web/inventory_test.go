package web_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// stopsOn are the positions of a route as its page lists them.
func stopsOn(p page) []string {
	var names []string
	for _, li := range web.All(p.doc, web.Tag("h3")) {
		for _, a := range web.All(li, web.Tag("a")) {
			names = append(names, web.Text(a))
		}
	}
	return names
}

// A position goes last, first or behind another; those behind it move up, and
// the form sent twice adds one.
func TestAPositionIsAddedWhereItBelongs(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 3)
	b := s.member(t, registry.RoleSteward)
	route := "/g/fell-end/routes/" + w.route.String()
	at := b.get(route).link(t, "Add a position")
	add := func(label, after string) (url.Values, page) {
		form := b.get(at).form(t, at)
		form.Set("label", label)
		form.Set("after", after)
		return form, b.led(t, b.post(at, form))
	}
	_, last := add("T4", "")
	if !strings.Contains(last.text(), wording.RecordedPosition) || !strings.Contains(last.text(), "Low Traverse, T4") {
		t.Errorf("page of the new position: %s", last.text())
	}
	form, _ := add("Wedge", w.positions[0].String())
	add("Threshold", "first")
	want := []string{"Threshold", "T1", "Wedge", "T2", "T3", "T4"}
	if got := stopsOn(b.get(route)); !slices.Equal(got, want) {
		t.Errorf("positions %v, want %v", got, want)
	}
	again := b.led(t, b.post(at, form))
	if got := stopsOn(b.get(route)); !slices.Equal(got, want) || !strings.Contains(again.text(), wording.RecordedPosition) {
		t.Errorf("sent twice: positions %v, want %v", got, want)
	}
	form.Set("label", "Another")
	if other := b.led(t, b.post(at, form)); !strings.Contains(other.text(), wording.PositionBefore) {
		t.Errorf("the same form with another name: %s", other.text())
	}
}

// An anchor that stands there is entered behind its position, once.
func TestAnAnchorIsEnteredAtAPosition(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 1)
	b := s.member(t, registry.RoleSteward)
	at := b.get("/g/fell-end/routes/"+w.route.String()).link(t, "Add a position")
	form := b.get(at).form(t, at)
	form.Set("label", "T2")
	form.Set("then", "anchor")
	answer := b.post(at, form)
	at = strings.Split(answer.header.Get("Location"), "?")[0]
	shown := b.led(t, answer)
	if !strings.Contains(shown.text(), wording.RecordedPosition) || !strings.Contains(shown.text(), wording.AnchorAddHelp) {
		t.Fatalf("after the position comes %s", shown.text())
	}
	form = shown.form(t, at)
	form.Set("form", "through-bolt")
	form.Set("metal_text", "A4")
	form.Set("set_on", "some day")
	wrong := b.post(at, form)
	if wrong.status != http.StatusUnprocessableEntity || len(web.All(wrong.doc, web.Has("id", "set_on-wrong"))) != 1 {
		t.Errorf("a day that is none = %d: %s", wrong.status, wrong.text())
	}
	form.Set("set_on", "c. 2013")
	anchor := b.led(t, b.post(at, form))
	for _, want := range []string{wording.RecordedAnchor, "Through bolt", "c. 2013", "“A4”", wording.Caution} {
		if !strings.Contains(anchor.text(), want) {
			t.Errorf("page of the anchor lacks %q: %s", want, anchor.text())
		}
	}
	position := b.get(strings.TrimSuffix(at, "/anchors/new"))
	if strings.Contains(position.body, "/anchors/new") {
		t.Error("where an anchor stands another is offered")
	}
	here := "/g/fell-end/anchors/" + form.Get("id")
	form.Set("id", newID(t).String())
	if taken := b.post(at, form); taken.status != http.StatusUnprocessableEntity ||
		!strings.Contains(taken.text(), wording.Fault(fault.InUse, map[string]string{"occupied": "1"})) {
		t.Errorf("a second anchor there = %d: %s", taken.status, taken.text())
	} else {
		// The summary leads to what stands there, and on to how it came out.
		web.One(t, web.One(t, taken.doc, "summary", web.Has("id", "summary-wrong")), "link to the field", web.Tag("a"), web.Has("href", "#position_id"))
		there := web.One(t, taken.doc, "field", web.Has("id", "position_id"))
		web.One(t, there, "link to the anchor", web.Tag("a"), web.Has("href", here))
		web.One(t, there, "link to its removal", web.Tag("a"), web.Has("href", here+"/remove"))
	}
	if before := b.get(at); len(web.All(before.doc, web.Has("id", "position_id"))) != 1 {
		t.Error("the form does not say beforehand that an anchor stands there")
	}
}

func TestWrongPositionsAreRefused(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 1)
	b := s.member(t, registry.RoleSteward)
	at := "/g/fell-end/routes/" + w.route.String() + "/positions/new"
	blank := b.get(at).form(t, at)
	for _, c := range []struct{ field, text string }{
		{"label", " "}, {"lat", "91"}, {"lon", "east"}, {"after", newID(t).String()}, {"role", "ladder"},
	} {
		form := url.Values{}
		for name, v := range blank {
			form[name] = v
		}
		form.Set("label", "T2")
		form.Set("lat", "54.4")
		form.Set("lon", "-2.1")
		form.Set(c.field, c.text)
		if p := b.post(at, form); p.status != http.StatusUnprocessableEntity || len(web.All(p.doc, web.Has("id", c.field+"-wrong"))) != 1 {
			t.Errorf("%s %q = %d: %s", c.field, c.text, p.status, p.text())
		}
	}
	if got := stopsOn(b.get("/g/fell-end/routes/" + w.route.String())); len(got) != 1 {
		t.Errorf("positions %v after refusals, want the one there was", got)
	}
}

// A position in a cave has no coordinates, not asked for and not taken.
func TestACavePositionHasNoCoordinates(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	ctx, who := t.Context(), s.actor(registry.RoleSteward)
	cave, _, err := s.service.AddSite(ctx, who, registry.Site{Name: "Fell End Pot (invented)", Kind: registry.Cave})
	check(t, err)
	pitch, _, err := s.service.AddRoute(ctx, who, registry.Route{SiteID: cave.ID, Name: "First Pitch", Kind: registry.Pitch})
	check(t, err)
	b := s.member(t, registry.RoleSteward)
	at := "/g/fell-end/routes/" + pitch.ID.String() + "/positions/new"
	p := b.get(at)
	form := p.form(t, at)
	if form.Has("lat") || !strings.Contains(p.text(), wording.CaveCoordinates) {
		t.Errorf("the form of a cave asks for coordinates: %s", p.text())
	}
	form.Set("label", "P1 left")
	form.Set("lat", "54.4")
	form.Set("lon", "-2.1")
	if p := b.post(at, form); p.status != http.StatusUnprocessableEntity {
		t.Errorf("coordinates in a cave = %d, want 422", p.status)
	}
}

func TestOnlyStewardsAddPositionsAndAnchors(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 1)
	b := s.member(t, registry.RoleRecorder)
	route, position := "/g/fell-end/routes/"+w.route.String(), "/g/fell-end/positions/"+w.positions[0].String()
	for _, path := range []string{route + "/positions/new", position + "/anchors/new"} {
		if p := b.get(path); p.status != http.StatusForbidden {
			t.Errorf("%s = %d, want 403", path, p.status)
		}
		if p := b.post(path, url.Values{"label": {"T9"}, "id": {newID(t).String()}}); p.status != http.StatusForbidden {
			t.Errorf("posted to %s = %d, want 403", path, p.status)
		}
	}
	for _, path := range []string{route, position} {
		if p := b.get(path); strings.Contains(p.body, "/new\"") || !strings.Contains(p.text(), "Enter a gluing card") {
			t.Errorf("%s offers a recorder what would be refused, or no gluing card", path)
		}
	}
	steward := s.member(t, registry.RoleSteward)
	for _, path := range []string{"/routes/" + newID(t).String() + "/positions/new", "/positions/" + newID(t).String() + "/anchors/new"} {
		if p := steward.get("/g/fell-end" + path); p.status != http.StatusNotFound {
			t.Errorf("%s = %d, want 404", path, p.status)
		}
	}
}

// From an anchor's page the record of how it was set is corrected: what was
// recorded stays, the later one counts.
func TestASettingIsCorrected(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	g := s.glue(t, w)
	b := s.member(t, registry.RoleRecorder)
	anchor := "/g/fell-end/anchors/" + g.Anchors[0].ID.String()
	at := b.get(anchor).link(t, "Correct how it was set")
	form := b.get(at).form(t, at)
	if form.Get("setting.done_on") != "2026-05-02" || form.Get("setting.moisture") != "dry" || form.Get("setting.form") != "twisted-leg" {
		t.Errorf("the form stands at %v, want what was recorded", form)
	}
	form.Set("setting.hole_depth_mm", "deep")
	if p := b.post(at, form); p.status != http.StatusUnprocessableEntity || len(web.All(p.doc, web.Has("id", "setting.hole_depth_mm-wrong"))) != 1 {
		t.Errorf("a wrong correction = %d: %s", p.status, p.text())
	}
	form.Set("setting.hole_depth_mm", "105")
	form.Set("setting.words", "Depth was left out.")
	p := b.led(t, b.post(at, form))
	for _, want := range []string{wording.CorrectedSetting, "105 mm", "Depth was left out.", "A. Example", wording.Caution} {
		if !strings.Contains(p.text(), want) {
			t.Errorf("corrected anchor lacks %q: %s", want, p.text())
		}
	}
	id, err := uuid.Parse(g.Anchors[0].ID.String())
	check(t, err)
	story, err := s.service.AnchorStory(t.Context(), s.actor(registry.RoleReader), id)
	check(t, err)
	if n := len(story.Facts.Installations); n != 2 {
		t.Errorf("%d installations on record, want the one corrected and its correction", n)
	}
	b.led(t, b.post(at, form)) // sent twice
	form.Set("id", newID(t).String())
	if p := b.post(at, form); p.status != http.StatusUnprocessableEntity || !strings.Contains(p.text(), "corrected already") {
		t.Errorf("a second correction beside the first = %d: %s", p.status, p.text())
	}
	reader := s.member(t, registry.RoleReader)
	if p := reader.get(anchor); strings.Contains(p.body, at) || reader.get(at).status != http.StatusForbidden {
		t.Error("a reader is offered to correct, or may")
	}
	if p := b.get("/g/fell-end/anchors/" + newID(t).String() + "/setting"); p.status != http.StatusNotFound {
		t.Errorf("correction of nothing = %d, want 404", p.status)
	}
}

// A correction that lifts what is in doubt takes a steward, a name and a reason,
// and the form says so beside its fields.
func TestACorrectionThatLiftsADoubtAsksWhy(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	none := 0
	g := s.glue(t, w, func(g *registry.Gluing) { g.Installations[0].CleaningCycles = &none })
	at := "/g/fell-end/anchors/" + g.Anchors[0].ID.String() + "/setting"
	recorder, steward := s.member(t, registry.RoleRecorder), s.member(t, registry.RoleSteward)
	form := recorder.get(at).form(t, at)
	form.Set("setting.cleaning_cycles", "4")
	if p := recorder.post(at, form); p.status != http.StatusForbidden {
		t.Errorf("a recorder lifts a doubt = %d, want 403", p.status)
	}
	p := steward.post(at, form)
	for _, field := range []string{"setting.person_id", "setting.words"} {
		if p.status != http.StatusUnprocessableEntity || len(web.All(p.doc, web.Has("id", field+"-wrong"))) != 1 {
			t.Errorf("lifted without %s = %d: %s", field, p.status, p.text())
		}
	}
	form.Set("setting.person_id", w.person.String())
	form.Set("setting.words", "Cleaned four times; the zero was a slip of the pen.")
	if p := steward.led(t, steward.post(at, form)); !strings.Contains(p.text(), wording.CorrectedSetting) {
		t.Errorf("the correction was not taken: %s", p.text())
	}
}

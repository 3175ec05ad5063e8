package web_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

const newGluing = "/g/fell-end/gluing/new"

// Sent twice, as by a second tap, a session is recorded once; changed and sent
// again, it is told apart.
func TestGluingFormSentTwiceRecordsOnce(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 6)
	b := s.member(t, registry.RoleRecorder)
	form := b.get(newGluing+"?route="+w.route.String()).form(t, newGluing)
	if got := form.Get("done_on"); got != "2026-05-03" {
		t.Errorf("the form stands at day %q, want today", got)
	}
	for k, at := range w.positions {
		if got := form.Get("installations[" + string(rune('0'+k)) + "].position_id"); got != at.String() {
			t.Errorf("line %d stands at %q, want position %d of the route", k+1, got, k+1)
		}
	}
	form.Set("person_name", "B. Example")
	form.Set("batch_id", "new 7")
	form.Set("adhesive_id", w.adhesive.String())
	form.Set("all.hole_depth_mm", "90")
	form.Set("installations[0].set_at", "14:05")
	form.Set("installations[4].set", "yes")
	done := b.post(newGluing, form)
	if done.status != http.StatusSeeOther {
		t.Fatalf("record = %d, want 303: %s", done.status, done.text())
	}
	page := b.get(done.header.Get("Location"))
	for _, want := range []string{wording.RecordedGluing, "Low Traverse, T1", "Low Traverse, T5", "B. Example", "new 7", "3 May 2026, 14:05", wording.CureCardNoTime, wording.Caution} {
		if !strings.Contains(page.text(), want) {
			t.Errorf("session's page lacks %q: %s", want, page.text())
		}
	}
	if strings.Contains(page.text(), "T2") {
		t.Error("a line with only a position was recorded")
	}
	if again := b.post(newGluing, form); again.header.Get("Location") != done.header.Get("Location") {
		t.Errorf("the same form again = %d to %q, want to %q", again.status, again.header.Get("Location"), done.header.Get("Location"))
	}
	form.Set("cartridge", "2")
	changed := b.post(newGluing, form)
	if p := b.get(changed.header.Get("Location")); !strings.Contains(p.text(), wording.RecordedBefore) {
		t.Errorf("the form changed and sent again = %d, reads %s", changed.status, p.text())
	}
	list := b.get("/g/fell-end/gluing")
	if n := len(web.All(web.One(t, list.doc, "list", web.Class("places")), web.Tag("li"))); n != 1 {
		t.Errorf("%d sessions on the list, want 1", n)
	}
	// the same name in another spelling is the same person
	again := b.get(newGluing+"?route="+w.route.String()).form(t, newGluing)
	again.Set("person_name", "b.  EXAMPLE")
	again.Set("installations[0].set_at", "15:00")
	b.post(newGluing, again)
	if people, err := s.service.Persons(t.Context(), s.actor(registry.RoleReader), registry.Page{}); err != nil || len(people) != 2 {
		t.Errorf("persons = %v, %v, want the two of before", people, err)
	}
	// the positions that were filled are not offered for new anchors
	next := b.get(newGluing+"?route="+w.route.String()).form(t, newGluing)
	if got := next.Get("installations[0].position_id"); got != w.positions[2].String() {
		t.Errorf("the next form begins at %q, want the third position", got)
	}
}

func TestGluingFormSaysWhatIsWrongAndKeepsWhatWasTyped(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 3)
	b := s.member(t, registry.RoleRecorder)
	form := b.get(newGluing+"?route="+w.route.String()).form(t, newGluing)
	form.Set("rock_c", "warm")
	form.Set("done_on", "2026-05-04") // tomorrow
	form.Set("installations[1].set_at", "never")
	form.Set("installations[1].edge_distance_mm", "-3")
	p := b.post(newGluing, form)
	if p.status != http.StatusUnprocessableEntity {
		t.Fatalf("a wrong form = %d, want 422", p.status)
	}
	for _, field := range []string{"rock_c", "done_on", "installations[1].set_at", "installations[1].edge_distance_mm"} {
		web.One(t, p.doc, "sentence about "+field, web.Has("id", field+"-wrong"))
		one := web.One(t, p.doc, "field "+field, web.Has("name", field))
		if got, _ := web.Attr(one, "value"); got != form.Get(field) {
			t.Errorf("%s stands at %q, want what was typed", field, got)
		}
	}
	kept := p.form(t, newGluing)
	for _, name := range []string{"id", "installations[1].id", "installations[1].anchor_id"} {
		if kept.Get(name) != form.Get(name) || kept.Get(name) == "" {
			t.Errorf("%s became %q, want the same id %q", name, kept.Get(name), form.Get(name))
		}
	}
	// a form without an anchor
	empty := b.post(newGluing, b.get(newGluing+"?route="+w.route.String()).form(t, newGluing))
	if empty.status != http.StatusUnprocessableEntity || !strings.Contains(empty.text(), wording.GluingNothing) {
		t.Errorf("a form without an anchor = %d, reads %s", empty.status, empty.text())
	}
	// more lines keep what was typed
	form.Set("more", "yes")
	more := b.post(newGluing, form).form(t, newGluing)
	if more.Get("lines") != "12" || more.Get("rock_c") != "warm" || more.Get("installations[11].id") == "" {
		t.Errorf("more lines: %s lines, rock %q, want 12 and what was typed", more.Get("lines"), more.Get("rock_c"))
	}
}

// What the service refuses stands beside its field too: here a batch of another
// adhesive, and a position that was taken in the meantime.
func TestGluingFormShowsWhatTheRegisterRefuses(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 3)
	b := s.member(t, registry.RoleRecorder)
	form := b.get(newGluing+"?route="+w.route.String()).form(t, newGluing)
	form.Set("installations[0].set_at", "14:05")
	form.Set("installations[2].set_at", "14:15")
	s.glue(t, w) // takes the first two positions
	p := b.post(newGluing, form)
	if p.status != http.StatusUnprocessableEntity {
		t.Fatalf("a position that is taken = %d, want 422: %s", p.status, p.text())
	}
	if wrong := web.Text(web.One(t, p.doc, "sentence", web.Has("id", "installations[0].position_id-wrong"))); wrong == "" {
		t.Error("nothing is said about the position that is taken")
	}
}

func TestOnlyRecordersGlue(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	g := s.glue(t, w)
	session, anchor := "/g/fell-end/gluing/"+g.Session.ID.String(), "/g/fell-end/anchors/"+g.Anchors[0].ID.String()
	reader := s.member(t, registry.RoleReader)
	for _, path := range []string{newGluing, anchor + "/first-use", anchor + "/cure"} {
		if p := reader.get(path); p.status != http.StatusForbidden {
			t.Errorf("reader: %s = %d, want 403", path, p.status)
		}
		if p := reader.post(path, nil); p.status != http.StatusForbidden {
			t.Errorf("reader: sent %s = %d, want 403", path, p.status)
		}
	}
	for _, path := range []string{"/g/fell-end/gluing", session, session + "/cure-card", "/g/fell-end/gluing/card?route=" + w.route.String()} {
		p := reader.get(path)
		if p.status != http.StatusOK || !strings.Contains(p.text(), wording.Caution) {
			t.Errorf("reader: %s = %d, want 200 and the caution", path, p.status)
		}
		if strings.Contains(p.body, "/first-use") || strings.Contains(p.body, newGluing+`"`) {
			t.Errorf("reader: %s offers what would be refused", path)
		}
	}
	stranger := s.browser(t)
	stranger.post("/sign-in", credentials("stranger@example.org", password))
	for _, path := range []string{
		"gluing/" + g.Session.ID.String(), "gluing/" + g.Session.ID.String() + "/cure-card", "gluing/new?route=" + w.route.String(),
		"gluing/card?site=" + w.site.String(), "anchors/" + g.Anchors[0].ID.String() + "/cure",
	} {
		if p := stranger.get("/g/other/" + path); p.status != http.StatusNotFound || strings.Contains(p.body, "Fell End Crag") {
			t.Errorf("stranger: %s = %d, want 404", path, p.status)
		}
	}
}

func TestCureAndFirstUseAreRecordedFromTheirForms(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	anchor := "/g/fell-end/anchors/" + s.glue(t, w).Anchors[0].ID.String()
	b := s.member(t, registry.RoleRecorder)

	cure := b.get(anchor+"/cure").form(t, anchor+"/cure")
	cure.Set("person_name", "C. Example")
	if p := b.post(anchor+"/cure", cure); p.status != http.StatusUnprocessableEntity {
		t.Errorf("a cure that says nothing = %d, want 422", p.status)
	}
	cure.Set("lowest_c", "4")
	cure.Set("lowest_how", "measured")
	cure.Set("label_cure_minutes", "90")
	cure.Set("label_c", "0")
	done := b.post(anchor+"/cure", cure)
	if done.status != http.StatusSeeOther {
		t.Fatalf("record cure = %d, want 303: %s", done.status, done.text())
	}
	page := b.get(done.header.Get("Location"))
	for _, want := range []string{wording.RecordedCure, "Coldest rock until release: 4 °C, measured. Read off the label: cure time 1 hour 30 minutes, for rock at 0 °C."} {
		if !strings.Contains(page.text(), want) {
			t.Errorf("anchor's page lacks %q: %s", want, page.text())
		}
	}

	use := b.get(anchor+"/first-use").form(t, anchor+"/first-use")
	use.Set("sample", "soft")
	if p := b.post(anchor+"/first-use", use); p.status != http.StatusUnprocessableEntity {
		t.Errorf("first use with a soft sample = %d, want 422", p.status)
	} else if want := "A soft sample has not cured: do not use the anchor."; !strings.Contains(p.text(), want) {
		t.Errorf("first use with a soft sample lacks %q: %s", want, p.text())
	}
	use.Set("sample", "hard")
	use.Set("at", "11:30")
	done = b.post(anchor+"/first-use", use)
	if done.status != http.StatusSeeOther {
		t.Fatalf("allow first use = %d, want 303: %s", done.status, done.text())
	}
	page = b.get(done.header.Get("Location"))
	if want := "First use allowed on 3 May 2026 (“11:30”) by C. Example. The kept sample: it is hard."; !strings.Contains(page.text(), want) {
		t.Errorf("anchor's page lacks %q: %s", want, page.text())
	}
	if got := web.Text(web.One(t, page.doc, "standing", web.Class("verdict-standing"))); strings.Contains(got, wording.Standing(registry.NotInUseYet)) {
		t.Errorf("standing reads %q after first use was allowed", got)
	}
}

// With a sheet the session's page, its cure card and the anchor's page say until
// when; first use waits for that, and the anchor then is in use. Its times are
// invented: 100 minutes from 0 to 19 degC after 13:00 UTC.
func TestSheetGivesTheCureTimeOnEveryPage(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	_, _, err := s.service.AddProductVersion(t.Context(), s.actor(registry.RoleSteward), registry.ProductVersion{
		ID: newID(t), ProductID: w.adhesive, From: calendar.NewDate(2024, time.January, 1), Source: "invented sheet",
		CureRows: []registry.CureRow{{FromC: 0, ToC: 19, WorkMinutes: 10, CureMinutes: 100}},
	})
	if err != nil {
		t.Fatal(err)
	}
	g := s.glue(t, w)
	session, anchor := "/g/fell-end/gluing/"+g.Session.ID.String(), "/g/fell-end/anchors/"+g.Anchors[0].ID.String()
	b := s.member(t, registry.RoleRecorder)
	for _, path := range []string{session, session + "/cure-card", anchor, anchor + "/first-use", anchor + "/cure"} {
		p := b.get(path)
		for _, want := range []string{"Do not load before Saturday 2 May 2026, 15:40 (BST).", "Cure time 1 hour 40 minutes, by the product's sheet (invented sheet)", wording.Caution} {
			if !strings.Contains(p.text(), want) {
				t.Errorf("%s lacks %q: %s", path, want, p.text())
			}
		}
	}
	use := b.get(anchor+"/first-use").form(t, anchor+"/first-use")
	use.Set("person_name", "C. Example")
	use.Set("done_on", "2026-05-02")
	use.Set("sample", "hard")
	use.Set("at", "15:39")
	if p := b.post(anchor+"/first-use", use); p.status != http.StatusUnprocessableEntity {
		t.Errorf("first use before the cure is over = %d, want 422", p.status)
	}
	use.Set("at", "15:40")
	done := b.post(anchor+"/first-use", use)
	if done.status != http.StatusSeeOther {
		t.Fatalf("first use = %d, want 303: %s", done.status, done.text())
	}
	page := b.get(done.header.Get("Location"))
	if got := web.Text(web.One(t, page.doc, "standing", web.Class("verdict-standing"))); strings.Contains(got, wording.Standing(registry.NotInUseYet)) {
		t.Errorf("standing reads %q after first use was allowed", got)
	}
}

func TestSessionIsCorrectedByALaterOne(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 3)
	g := s.glue(t, w)
	at := "/g/fell-end/gluing/" + g.Session.ID.String()
	b := s.member(t, registry.RoleRecorder)
	form := b.get(b.get(at).link(t, "Correct this session")).form(t, at+"/correct")
	if form.Get("rock_c") != "11" || form.Get("rock_how") != "measured" || form.Get("batch_id") != "L1709-A" || form.Get("nozzle_new") != "yes" {
		t.Errorf("the form stands at %v, want what was recorded", form)
	}
	form.Set("rock_c", "cold")
	if p := b.post(at+"/correct", form); p.status != http.StatusUnprocessableEntity {
		t.Errorf("a wrong correction = %d, want 422", p.status)
	}
	form.Set("rock_c", "1.5")
	done := b.post(at+"/correct", form)
	if done.status != http.StatusSeeOther {
		t.Fatalf("correct = %d, want 303: %s", done.status, done.text())
	}
	later := b.get(done.header.Get("Location"))
	for _, want := range []string{wording.CorrectedGluing, "1.5 °C, measured", "Low Traverse, T1"} {
		if !strings.Contains(later.text(), want) {
			t.Errorf("the later session lacks %q: %s", want, later.text())
		}
	}
	earlier := b.get(at)
	if !strings.Contains(earlier.text(), wording.GluingReplaced) || !strings.Contains(earlier.text(), "11 °C") || strings.Contains(earlier.body, "/correct\"") {
		t.Errorf("the earlier session reads %s, want it kept, marked and left alone", earlier.text())
	}
}

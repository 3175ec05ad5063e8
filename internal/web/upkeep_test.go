package web_test

import (
	"net/http"
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// has says what a page lacks of some texts.
func has(t *testing.T, name string, p page, want ...string) {
	t.Helper()
	for _, w := range want {
		if !strings.Contains(p.text(), w) {
			t.Errorf("%s lacks %q: %s", name, w, p.text())
		}
	}
}

// An anchor is condemned, stands on Today as unmarked, is marked, and then has
// its marking taken away by a steward.
func TestMarkingAnAnchor(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	steward := s.member(t, registry.RoleSteward)
	steward.enter(gutter)
	b := s.member(t, registry.RoleRecorder)
	anchor := suspectAnchor(t, b)
	form := b.get(anchor).form(t, anchor+"/inspections")
	form.Set("person_name", "C. Example")
	form.Set("level", "hands-on")
	form.Set("verdict", "take-out-of-use")
	b.post(anchor+"/inspections", form)
	p := b.get(anchor)
	has(t, "anchor out of use", p, wording.NotMarked, wording.NoDay, "Why no date", "clears nothing")
	for _, pacifier := range []string{"Inspect by", "Not due", "Awaiting the first round"} {
		if strings.Contains(p.text(), pacifier) {
			t.Errorf("the page of an anchor out of use says %q: %s", pacifier, p.text())
		}
	}
	work := b.get("/g/fell-end/reports/work")
	has(t, "work list", work, wording.NoDay)
	has(t, "Today", b.get("/g/fell-end/"), "No marking recorded", wording.NoneMarked)

	form = b.get(anchor+"/mark").form(t, anchor+"/mark")
	p = b.post(anchor+"/mark", form)
	if got := web.Text(web.One(t, p.doc, "what is wrong", web.Has("id", "how-wrong"))); p.status != http.StatusUnprocessableEntity || got == "" {
		t.Errorf("marked with nothing = %d, %q", p.status, got)
	}
	form["how"] = []string{"tape", "sign"}
	for range 2 { // as by a second tap
		if p := b.post(anchor+"/mark", form); p.status != http.StatusSeeOther {
			t.Fatalf("mark = %d: %s", p.status, p.text())
		}
	}
	has(t, "marked anchor", b.get(anchor), "Marked at the rock: tape on it, sign put up (since 3 May 2026).", "Marked at the rock on 3 May 2026 by C. Example: tape on it, sign put up.")
	has(t, "Today", b.get("/g/fell-end/"), "Marked at the rock", wording.NoneUnmarked)

	form = b.get(anchor+"/unmark").form(t, anchor+"/unmark")
	if p := b.post(anchor+"/unmark", form); p.status != http.StatusForbidden {
		t.Errorf("a recorder takes it away = %d, want 403", p.status)
	}
	form = steward.get(anchor+"/unmark").form(t, anchor+"/unmark")
	form.Set("person_name", "C. Example")
	if p := steward.post(anchor+"/unmark", form); p.status != http.StatusSeeOther {
		t.Errorf("a steward takes it away = %d: %s", p.status, p.text())
	}
	has(t, "unmarked anchor", b.get(anchor), wording.NotMarked, "Marking at the rock taken away on 3 May 2026 by C. Example.")
}

func TestMaintainingAndRemovingAnAnchor(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleRecorder)
	anchor := suspectAnchor(t, b)
	form := b.get(anchor+"/maintain").form(t, anchor+"/maintain")
	form.Set("person_name", "C. Example")
	form["done"] = []string{"tightened", "fitting-added"}
	form.Set("new_fitting.metal_text", "316L")
	form.Set("torque_nm", "a lot")
	p := b.post(anchor+"/maintain", form)
	if got := web.Text(web.One(t, p.doc, "what is wrong", web.Has("id", "new_fitting.kind-wrong"))); !strings.Contains(got, "missing") {
		t.Errorf("the metal of no fitting: %d, %q", p.status, got)
	}
	form.Set("new_fitting.kind", "ring")
	if got := web.Text(web.One(t, p.doc, "what is wrong", web.Has("id", "torque_nm-wrong"))); !strings.Contains(got, "number") {
		t.Errorf("torque in words: %d, %q", p.status, got)
	}
	form.Set("torque_nm", "25,5")
	if p := b.post(anchor+"/maintain", form); p.status != http.StatusSeeOther {
		t.Fatalf("maintain = %d: %s", p.status, p.text())
	}
	has(t, "maintained anchor", b.get(anchor), "Maintained on 3 May 2026 by C. Example: nut or bolt tightened, fitting added.", "New: ring, metal stainless steel 1.4404 (316L).", "Torque 25.5 Nm.", "Fitting: Ring")

	form = b.get(anchor+"/remove").form(t, anchor+"/remove")
	form.Set("how", "cut-off")
	form.Set("stub_mm", "3")
	form.Set("old_hole", "stub-left")
	form.Set("metal_kept", "yes")
	form.Set("metal_where", "an invented shed")
	form["observations"] = []string{"cracked-metal"}
	if p := b.post(anchor+"/remove", form); p.status != http.StatusSeeOther {
		t.Fatalf("remove = %d: %s", p.status, p.text())
	}
	p = b.get(anchor)
	has(t, "removed anchor", p, "How: cut off.", "What is left stands 3 mm out of the rock.", "The metal was kept: “an invented shed”.")
	if strings.Contains(p.text(), "Record maintenance") {
		t.Error("a removed anchor can be maintained")
	}
}

func TestReaderRecordsNoUpkeep(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleReader)
	anchor := suspectAnchor(t, b)
	if strings.Contains(b.get(anchor).text(), "Record maintenance") {
		t.Error("a reader is offered the forms")
	}
	for _, path := range []string{"/maintain", "/mark", "/unmark", "/remove"} {
		if p := b.post(anchor+path, nil); p.status != http.StatusForbidden {
			t.Errorf("%s = %d, want 403", path, p.status)
		}
		if p := b.get(anchor + path); p.status != http.StatusForbidden {
			t.Errorf("form %s = %d, want 403", path, p.status)
		}
	}
}

// The table of what settles what stands on the page of the house rules, in words.
func TestHouseRulesSayWhatSettlesWhat(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	p := s.member(t, registry.RoleReader).get("/g/fell-end/house-rules")
	has(t, "house rules", p, "Which record settles which finding", "Loose nut",
		"inspection, hands-on or closer; nut or bolt tightened; fitting renewed; taking it out or replacing it; a named person's answer", "judgement of this project")
}

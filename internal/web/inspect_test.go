package web_test

import (
	"net/http"
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// suspectAnchor is the page of the anchor that the list says spins.
func suspectAnchor(t *testing.T, b *browser) string {
	t.Helper()
	return b.get("/g/fell-end/").link(t, "Slate Rib, 2")
}

func TestRecorderRecordsAnInspection(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleRecorder)
	anchor := suspectAnchor(t, b)
	form := b.get(anchor).form(t, anchor+"/inspections")
	if got := form.Get("done_on"); got != "2026-05-03" {
		t.Errorf("the form stands at day %q, want today", got)
	}
	form.Set("person_name", "C.  Example")
	form.Set("level", "hands-on")
	form["observations"] = []string{"loose-nut", "surface-rust"}
	form.Set("verdict", "watch")
	form.Set("inspect_by", "2026-09-01")
	form.Set("words", "Tightened it by hand.")
	done := b.post(anchor+"/inspections", form)
	if done.status != http.StatusSeeOther {
		t.Fatalf("record = %d, want 303: %s", done.status, done.text())
	}
	p := b.get(done.header.Get("Location"))
	for _, want := range []string{
		wording.RecordedInspection,
		"Inspected hands-on on 3 May 2026 by C. Example. Seen: loose nut, surface rust. Verdict: watch. To be inspected again by 1 September 2026.",
		"Tightened it by hand.", "last inspection 3 May 2026, hands-on",
	} {
		if !strings.Contains(p.text(), want) {
			t.Errorf("anchor's page lacks %q: %s", want, p.text())
		}
	}

	// sent again, as by a second tap, it records nothing more
	if again := b.post(anchor+"/inspections", form); again.status != http.StatusSeeOther {
		t.Errorf("the same form again = %d, want 303", again.status)
	}
	story := s.story(t, anchor)
	if n := len(story.Facts.Inspections); n != 2 { // the list's own, and this one
		t.Errorf("%d inspections on record, want 2", n)
	}
	// changed and sent again, it is told apart
	form.Set("words", "Something else.")
	changed := b.post(anchor+"/inspections", form)
	if p = b.get(changed.header.Get("Location")); !strings.Contains(p.text(), wording.RecordedBefore) {
		t.Errorf("the form changed and sent again reads %s", p.text())
	}
	// whoever was chosen last is chosen in the next form
	next := b.get(anchor).form(t, anchor+"/inspections")
	if got, want := next.Get("person_id"), personOf(story); got != want {
		t.Errorf("next form stands at person %q, want %q", got, want)
	}
	// the same name in another spelling is the same person
	next.Set("person_id", "")
	next.Set("person_name", "c. example")
	next.Set("level", "glance")
	b.post(anchor+"/inspections", next)
	people, err := s.service.Persons(t.Context(), s.actor(registry.RoleReader), registry.Page{})
	if err != nil || len(people) != 1 {
		t.Errorf("persons = %v, %v, want one", people, err)
	}
}

// personOf is who made the inspection that was not taken over from a list.
func personOf(s registry.AnchorStory) string {
	for _, i := range s.Facts.Inspections {
		if i.Origin == registry.Recorded && i.PersonID != nil {
			return i.PersonID.String()
		}
	}
	return ""
}

func TestInspectionFormSaysWhatIsWrong(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleRecorder)
	anchor := suspectAnchor(t, b)
	form := b.get(anchor).form(t, anchor+"/inspections")
	form.Set("done_on", "2026-05-04")
	form.Set("verdict", "keep")
	form.Set("inspect_by", "soon")
	form.Set("words", "<i>kept</i>")
	form["observations"] = []string{"rust"}
	p := b.post(anchor+"/inspections", form)
	if p.status != http.StatusUnprocessableEntity {
		t.Fatalf("record = %d, want 422", p.status)
	}
	for field, want := range map[string]string{
		"person_id": "This is missing", "done_on": "This lies ahead of today", "level": "This is missing", "inspect_by": "No date can be read",
	} {
		if got := web.Text(web.One(t, p.doc, "what is wrong with "+field, web.Has("id", field+"-wrong"))); !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q in it", field, got, want)
		}
	}
	kept := p.form(t, anchor+"/inspections")
	for field, want := range map[string]string{"done_on": "2026-05-04", "inspect_by": "soon", "words": "<i>kept</i>", "observations": "rust", "verdict": "keep", "id": form.Get("id")} {
		if kept.Get(field) != want {
			t.Errorf("%s stands at %q, want what was typed, %q", field, kept.Get(field), want)
		}
	}
	if _, open := web.Attr(web.One(t, p.doc, "fold", web.Has("id", "record-inspection")), "open"); !open {
		t.Error("the form is folded away, want it open")
	}
	people, err := s.service.Persons(t.Context(), s.actor(registry.RoleReader), registry.Page{})
	if err != nil || len(people) != 0 {
		t.Errorf("persons = %v, %v, want none: nothing was recorded", people, err)
	}
}

func TestReaderRecordsNothing(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleReader)
	anchor := suspectAnchor(t, b)
	p := b.get(anchor)
	if n := len(web.All(p.doc, web.Has("id", "record-inspection"))); n != 0 {
		t.Error("a reader is offered the form")
	}
	for _, path := range []string{anchor + "/inspections", anchor + "/settle"} {
		if p := b.post(path, nil); p.status != http.StatusForbidden {
			t.Errorf("%s = %d, want 403", path, p.status)
		}
	}
}

func TestStewardSettlesAFinding(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(gutter)
	anchor := suspectAnchor(t, b)
	if n := len(web.All(s.member(t, registry.RoleRecorder).get(anchor).doc, web.Class("settle-link"))); n != 0 {
		t.Error("a recorder is offered to settle findings")
	}
	links := web.All(b.get(anchor).doc, web.Tag("a"), web.Class("settle-link"))
	if len(links) == 0 {
		t.Fatal("a steward is not offered to settle findings")
	}
	href, _ := web.Attr(links[0], "href")
	form := b.get(href).form(t, anchor+"/settle")

	wrong := b.post(anchor+"/settle", form)
	for _, field := range []string{"person_id", "reason"} {
		web.One(t, wrong.doc, "what is wrong with "+field, web.Has("id", field+"-wrong"))
	}
	if wrong.status != http.StatusUnprocessableEntity {
		t.Errorf("settle without a reason = %d, want 422", wrong.status)
	}
	form.Set("person_name", "D. Example")
	form.Set("reason", "It is the hanger of the neighbour that spins.")
	form.Set("until", "2027-05-03")
	done := b.post(anchor+"/settle", form)
	if done.status != http.StatusSeeOther {
		t.Fatalf("settle = %d, want 303: %s", done.status, done.text())
	}
	p := b.get(done.header.Get("Location"))
	settled := web.One(t, p.doc, "settled finding", web.Class("settled"))
	for _, want := range []string{"Settled", "D. Example", "It is the hanger of the neighbour that spins.", "3 May 2027"} {
		if !strings.Contains(web.Text(settled), want) {
			t.Errorf("settled finding reads %q, want %q in it", web.Text(settled), want)
		}
	}
	if strings.Contains(p.text(), "Suspect as of") {
		t.Error("the settled finding still weighs")
	}
	// what is settled cannot be settled again
	if p := b.get(href); !strings.Contains(p.text(), wording.FindingGone) {
		t.Errorf("form of a settled finding reads %s", p.text())
	}
}

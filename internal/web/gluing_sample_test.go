package web_test

import (
	"net/http"
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// softLink is the text of the link to the form for the kept sample.
const softLink = "What the kept sample was found to be"

// A sample found soft holds every anchor of its session, on its own page too, and
// first use is refused in words that say why. What was recorded before stays.
func TestASampleFoundSoftStandsOnEveryAnchorOfItsSession(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 3)
	g := s.glue(t, w, func(g *registry.Gluing) { g.Session.Words = "Windy." })
	session := "/g/fell-end/gluing/" + g.Session.ID.String()
	b := s.member(t, registry.RoleRecorder)
	at := b.get(session).link(t, softLink)
	form := b.get(at).form(t, at)
	if form.Get("done_on") != "2026-05-03" || form.Get("sample_found") != "" {
		t.Errorf("the form stands at %v, want today and no answer", form)
	}
	form.Set("sample_found", "soft")
	form.Set("person_name", "B. Example")
	form.Set("words", "A nail goes in.")
	done := b.post(at, form)
	later := b.led(t, done)
	for _, want := range []string{
		wording.CorrectedGluing, "Sample was found Soft", "Sample looked at on 3 May 2026", "Sample looked at by B. Example", "Windy. A nail goes in.", "11 °C, measured", "L1709-A",
		wording.Caution,
	} {
		if !strings.Contains(later.text(), want) {
			t.Errorf("the session's page lacks %q: %s", want, later.text())
		}
	}
	if again := b.post(at, form); again.header.Get("Location") != done.header.Get("Location") {
		t.Errorf("the same form again = %d to %q, want to %q: %s", again.status, again.header.Get("Location"), done.header.Get("Location"), again.text())
	}
	form.Set("words", "Something else.")
	if p := b.led(t, b.post(at, form)); !strings.Contains(p.text(), wording.RecordedBefore) || strings.Contains(p.text(), "Something else.") {
		t.Errorf("the form changed and sent again reads %s", p.text())
	}
	for _, a := range g.Anchors {
		here := "/g/fell-end/anchors/" + a.ID.String()
		held := "The kept sample of its gluing session was found soft on 3 May 2026"
		for _, path := range []string{here, here + "/first-use"} {
			if p := b.get(path); !strings.Contains(p.text(), held) || !strings.Contains(p.text(), wording.Caution) {
				t.Errorf("%s does not say %q: %s", path, held, p.text())
			}
		}
		use := b.get(here+"/first-use").form(t, here+"/first-use")
		use.Set("person_name", "C. Example")
		use.Set("sample", "hard")
		p := b.post(here+"/first-use", use)
		if wrong := web.Text(web.One(t, p.doc, "sentence", web.Has("id", "sample-wrong"))); p.status != http.StatusUnprocessableEntity || !strings.Contains(wrong, "found soft: do not use the anchor.") {
			t.Errorf("first use = %d %q, want 422 and why", p.status, wrong)
		}
	}
}

// Only a steward finds that a sample called soft is not so, and says why.
func TestASampleCalledSoftIsClearedByASteward(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	g := s.glue(t, w, func(g *registry.Gluing) {
		g.Session.SetByID = nil
		g.Session.SampleFound, g.Session.SampleFoundOn, g.Session.SampleFoundByID = registry.SampleSoft, g.Session.DoneOn.From, &w.person
	})
	at := "/g/fell-end/gluing/" + g.Session.ID.String() + "/sample"
	recorder, steward := s.member(t, registry.RoleRecorder), s.member(t, registry.RoleSteward)
	form := steward.get(at).form(t, at)
	form.Set("sample_found", "hard")
	form.Set("person_id", w.person.String())
	if p := recorder.post(at, form); p.status != http.StatusForbidden || !strings.Contains(p.text(), "takes at least the role of steward") {
		t.Errorf("cleared by a recorder = %d, want 403 and who may: %s", p.status, p.text())
	}
	if p := steward.post(at, form); p.status != http.StatusUnprocessableEntity || len(web.All(p.doc, web.Has("id", "words-wrong"))) != 1 {
		t.Errorf("cleared for no reason = %d: %s", p.status, p.text())
	}
	form.Set("words", "Pressed the wrong one.")
	if p := steward.led(t, steward.post(at, form)); !strings.Contains(p.text(), wording.CorrectedGluing) {
		t.Errorf("a steward is not heard: %s", p.text())
	}
	if p := steward.get("/g/fell-end/anchors/" + g.Anchors[0].ID.String()); strings.Contains(p.text(), "was found soft") {
		t.Errorf("the anchor is held still: %s", p.text())
	}
}

func TestTheSampleFormSaysWhatIsWrongAndKeepsWhatWasTyped(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	g := s.glue(t, w)
	at := "/g/fell-end/gluing/" + g.Session.ID.String() + "/sample"
	b := s.member(t, registry.RoleRecorder)
	form := b.get(at).form(t, at)
	for _, tt := range []struct{ name, field, value, wrong string }{
		{"nothing found", "sample_found", "", "sample_found"},
		{"a state that is none", "sample_found", "chewy", "sample_found"},
		{"tomorrow", "done_on", "2026-05-04", "done_on"},
		{"before it was set", "done_on", "2026-05-01", "done_on"},
		{"no day", "done_on", "", "done_on"},
		{"a day that is none", "done_on", "2026-02-30", "done_on"},
		{"nobody", "person_name", "", "person_id"},
		{"too many words", "words", strings.Repeat("x", registry.MaxWords+1), "words"},
	} {
		form.Set("sample_found", "soft")
		form.Set("done_on", "2026-05-03")
		form.Set("person_name", "B. Example")
		form.Set("words", "A nail goes in.")
		form.Set(tt.field, tt.value)
		p := b.post(at, form)
		if p.status != http.StatusUnprocessableEntity || len(web.All(p.doc, web.Has("id", tt.wrong+"-wrong"))) != 1 {
			t.Errorf("%s = %d, want 422 and a sentence about %s: %s", tt.name, p.status, tt.wrong, p.text())
			continue
		}
		kept := p.form(t, at)
		for name := range form {
			if got := kept.Get(name); got != form.Get(name) && form.Get(name) != "chewy" {
				t.Errorf("%s: %s stands at %q, want %q", tt.name, name, got, form.Get(name))
			}
		}
	}
	if got, err := s.service.GluingSession(t.Context(), s.actor(registry.RoleReader), g.Session.ID); err != nil || got.ReplacedBy != nil {
		t.Errorf("something was recorded: %+v, %v", got, err)
	}
}

func TestTheSampleOfASessionWithoutOne(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	no := false
	g := s.glue(t, w, func(g *registry.Gluing) { g.Session.SampleKept = &no })
	at := "/g/fell-end/gluing/" + g.Session.ID.String() + "/sample"
	b := s.member(t, registry.RoleRecorder)
	form := b.get(at).form(t, at)
	form.Set("sample_found", "soft")
	form.Set("person_id", w.person.String())
	want := "By its session no sample was kept. If that is wrong, correct the session first"
	if p := b.post(at, form); p.status != http.StatusUnprocessableEntity || !strings.Contains(p.text(), want) {
		t.Errorf("the sample of none = %d, want 422 and %q: %s", p.status, want, p.text())
	}
}

func TestOnlyRecordersSayWhatASampleIs(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	g := s.glue(t, w)
	session := "/g/fell-end/gluing/" + g.Session.ID.String()
	reader, stranger := s.member(t, registry.RoleReader), s.browser(t)
	stranger.post("/sign-in", credentials("stranger@example.org", password))
	if strings.Contains(reader.get(session).body, session+"/sample") {
		t.Error("a reader is offered what would be refused")
	}
	for _, answer := range []func(path string) page{reader.get, func(path string) page { return reader.post(path, nil) }} {
		if p := answer(session + "/sample"); p.status != http.StatusForbidden {
			t.Errorf("reader = %d, want 403", p.status)
		}
	}
	elsewhere := strings.Replace(session, "fell-end", "other", 1) + "/sample"
	for _, p := range []page{stranger.get(elsewhere), stranger.post(elsewhere, nil), stranger.get(session + "/sample")} {
		if p.status != http.StatusNotFound || strings.Contains(p.body, "Fell End Crag") {
			t.Errorf("stranger = %d, want 404 and nothing said", p.status)
		}
	}
	for _, path := range []string{newID(t).String(), "nothing"} {
		if p := s.member(t, registry.RoleRecorder).get("/g/fell-end/gluing/" + path + "/sample"); p.status != http.StatusNotFound {
			t.Errorf("the sample of session %s = %d, want 404", path, p.status)
		}
	}
}

// A session that was corrected since is told apart: the earlier one takes no
// sample more, and says which one counts.
func TestTheSampleOfACorrectedSession(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	session := "/g/fell-end/gluing/" + s.glue(t, w).Session.ID.String()
	b := s.member(t, registry.RoleRecorder)
	at := session + "/sample"
	form := b.get(at).form(t, at)
	form.Set("sample_found", "soft")
	form.Set("person_id", w.person.String())
	correct := b.get(session+"/correct").form(t, session+"/correct")
	correct.Set("rock_c", "3")
	b.led(t, b.post(session+"/correct", correct))
	if strings.Contains(b.get(session).body, at) {
		t.Error("the session that was replaced offers its sample")
	}
	if p := b.post(at, form); p.status != http.StatusUnprocessableEntity || len(web.All(p.doc, web.Has("id", "summary-wrong"))) != 1 {
		t.Errorf("the sample of a session replaced = %d: %s", p.status, p.text())
	}
}

// A name typed once more, after another was kept from a form that was refused, is
// somebody of its own.
func TestAnotherNameAfterARefusalIsAnotherPerson(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	g := s.glue(t, w, func(g *registry.Gluing) {
		g.Session.SampleFound, g.Session.SampleFoundOn, g.Session.SampleFoundByID = registry.SampleSoft, g.Session.DoneOn.From, &w.person
	})
	at := "/g/fell-end/gluing/" + g.Session.ID.String() + "/sample"
	b := s.member(t, registry.RoleSteward)
	form := b.get(at).form(t, at)
	form.Set("sample_found", "hard")
	form.Set("person_name", "C. Example")
	if p := b.post(at, form); p.status != http.StatusUnprocessableEntity {
		t.Fatalf("for no reason = %d, want 422", p.status)
	}
	form.Set("person_name", "D. Example")
	form.Set("words", "Pressed the wrong one.")
	if p := b.led(t, b.post(at, form)); !strings.Contains(p.text(), "D. Example") || strings.Contains(p.text(), "C. Example") {
		t.Errorf("looked at by another than was typed last: %s", p.text())
	}
}

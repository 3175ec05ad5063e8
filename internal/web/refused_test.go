package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// keeps fails unless a page says that nothing was recorded, and its form stands as
// it was sent.
func (p page) keeps(t *testing.T, what, action string, status int, sent url.Values) {
	t.Helper()
	if p.status != status || !strings.Contains(p.text(), wording.FormRefused) {
		t.Errorf("%s = %d, want %d and %q: %s", what, p.status, status, wording.FormRefused, p.text())
		return
	}
	kept := p.form(t, action)
	for name := range sent {
		if name != "version" && kept.Get(name) != sent.Get(name) {
			t.Errorf("%s: %s stands at %q, want what was typed, %q", what, name, kept.Get(name), sent.Get(name))
		}
	}
}

// Who may not lift what another decided reads so above the form, which stands as
// it was typed: somebody who may can be called.
func TestARefusalForTheRoleKeepsWhatWasTyped(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	none := 0
	g := s.glue(t, w, func(g *registry.Gluing) {
		g.Installations[0].CleaningCycles = &none
		g.Session.SampleFound, g.Session.SampleFoundOn, g.Session.SampleFoundByID = registry.SampleSoft, g.Session.DoneOn.From, &w.person
	})
	recorder := s.member(t, registry.RoleRecorder)
	for _, tt := range []struct {
		name, path string
		typed      map[string]string
	}{
		{"a soft sample cleared", "/gluing/" + g.Session.ID.String() + "/sample", map[string]string{
			"sample_found": "hard", "person_name": "C. Example", "words": "Pressed the wrong one.",
		}},
		{"a setting corrected", "/anchors/" + g.Anchors[0].ID.String() + "/setting", map[string]string{
			"setting.cleaning_cycles": "4", "setting.words": "The zero was a slip of the pen.",
		}},
	} {
		at := "/g/fell-end" + tt.path
		form := recorder.get(at).form(t, at)
		for name, text := range tt.typed {
			form.Set(name, text)
		}
		p := recorder.post(at, form)
		delete(form, "person_id") // the person typed was kept, and is chosen now
		delete(form, "person_name")
		p.keeps(t, tt.name, at, http.StatusForbidden, form)
		if !strings.Contains(p.text(), "takes at least the role of steward") {
			t.Errorf("%s is refused without saying who may: %s", tt.name, p.text())
		}
	}
}

// What changed meanwhile is not overwritten unseen: the page says what is stored
// now beside what was typed, and the form sent again then is taken.
func TestACountThatIsStaleStandsBesideWhatIsStored(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	_, batch := s.stocked(t)
	b := s.member(t, registry.RoleSteward)
	at := "/g/fell-end/batches/" + batch.String()
	form := b.get(at).form(t, at)
	other := b.get(at).form(t, at)
	other.Set("count_on_hand", "2")
	b.led(t, b.post(at, other))
	form.Set("count_on_hand", "1")
	p := b.post(at, form)
	p.keeps(t, "a stale count", at, http.StatusPreconditionFailed, form)
	if !strings.Contains(p.text(), "On hand 2 of ") {
		t.Errorf("the page does not say what is stored now: %s", p.text())
	}
	if again := b.led(t, b.post(at, p.form(t, at))); !strings.Contains(again.text(), "On hand 1 of ") {
		t.Errorf("sent again: %s", again.text())
	}
}

func TestAnEnvironmentThatIsStaleKeepsWhatWasTyped(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(gutter)
	at := "/g/fell-end/places/" + siteID(t, b) + "/environment"
	form := b.get(at).form(t, at)
	form.Set("sea_km", "0.4")
	b.led(t, b.post(at, form))
	first, second := b.get(at).form(t, at), b.get(at).form(t, at)
	second.Set("sea_km", "0.5")
	b.led(t, b.post(at, second))
	first.Set("source", "A long account of who measured this, and how.")
	b.post(at, first).keeps(t, "a stale environment", at, http.StatusPreconditionFailed, first)
}

func TestAHoldKeepsWhatWasTypedToErase(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	owner := s.member(t, registry.RoleOwner)
	person := registry.Person{ID: newID(t), Name: "Invented Person"}
	if _, _, err := s.service.AddPerson(t.Context(), s.actor(registry.RoleOwner), person); err != nil {
		t.Fatal(err)
	}
	owner.post("/g/fell-end/holds", url.Values{"id": {newID(t).String()}, "over": {"all"}, "reason": {"an invented claim"}})
	at := "/g/fell-end/people/" + person.ID.String() + "/erase"
	form := owner.get(at).form(t, at)
	form.Set("confirmation", person.Name)
	form.Set("reason", "Asked to be forgotten.")
	owner.post(at, form).keeps(t, "erasing what is held", at, http.StatusConflict, form)
}

func TestAPictureTooLargeKeepsTheWordsBesideIt(t *testing.T) {
	t.Parallel()
	s, path := withAnchor(t)
	p := s.member(t, registry.RoleRecorder).picture(path+"/pictures", strings.Repeat("x", 15<<20+1), "picture_words", "The eye from below.", "taken_on", "2026-05-02")
	sent := url.Values{"picture_words": {"The eye from below."}, "taken_on": {"2026-05-02"}}
	p.keeps(t, "a picture too large", path+"/pictures", http.StatusRequestEntityTooLarge, sent)
	if got := web.Text(web.One(t, p.doc, "what is wrong with the file", web.Has("id", "file-wrong"))); !strings.Contains(got, "15 MiB") {
		t.Errorf("beside the file stands %q, want the limit", got)
	}
}

// Ticks of what was refused stay, those that are open still.
func TestADecisionRefusedKeepsItsTicks(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(notedGutter)
	at := "/g/fell-end/proposals"
	p := b.get(at)
	ban, hollow := p.box(t, "bird ban"), p.box(t, "hollow")
	b.post(at, url.Values{"ids": {ban}, "decision": {"decline"}})
	p = b.post(at, url.Values{"ids": {ban, hollow}, "decision": {"accept"}})
	ticked := web.All(p.doc, web.Has("name", "ids"), func(n *html.Node) bool { _, on := web.Attr(n, "checked"); return on })
	if p.status != http.StatusConflict || len(ticked) != 1 {
		t.Fatalf("decided meanwhile = %d with %d boxes ticked, want 409 and one", p.status, len(ticked))
	}
	if got, _ := web.Attr(ticked[0], "value"); got != hollow {
		t.Errorf("ticked is %q, want %q", got, hollow)
	}
}

// The list that was shown is there still when entering it is refused: nobody has
// to find the file again.
func TestAListThatIsNotEnteredStaysOnThePage(t *testing.T) {
	t.Parallel()
	b := newStack(t).member(t, registry.RoleSteward)
	at := "/g/fell-end/import/enter"
	form := b.upload("/g/fell-end/import", map[string]string{"file": gutter}).form(t, at)
	sent := url.Values{"name": form["name"], "kept": form["kept"], "columns": {": no mapping"}}
	p := b.post(at, sent)
	if p.status != http.StatusUnprocessableEntity {
		t.Fatalf("with a mapping that is none = %d: %s", p.status, p.text())
	}
	kept := p.form(t, at)
	if kept.Get("kept") != form.Get("kept") || kept.Get("name") != form.Get("name") || kept.Get("name") == "" {
		t.Errorf("the list stands at %q of %d bytes, want %q of %d", kept.Get("name"), len(kept.Get("kept")), form.Get("name"), len(form.Get("kept")))
	}
	kept.Set("columns", "")
	if p = b.post(at, kept); !strings.Contains(p.text(), wording.ImportDone) {
		t.Errorf("sent again = %d: %s", p.status, p.text())
	}
}

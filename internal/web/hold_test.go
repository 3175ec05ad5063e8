package web_test

import (
	"net/url"
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

func TestHoldsAndErasing(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	owner := s.member(t, registry.RoleOwner)
	owner.enter(gutter)
	person := registry.Person{ID: newID(t), Name: "Invented Person"}
	if _, _, err := s.service.AddPerson(t.Context(), s.actor(registry.RoleOwner), person); err != nil {
		t.Fatal(err)
	}
	people := "/g/fell-end/people"
	erase := people + "/" + person.ID.String() + "/erase"
	p := owner.post("/g/fell-end/holds", url.Values{"id": {newID(t).String()}, "over": {"person"}, "reason": {""}})
	if p.status != 422 {
		t.Errorf("a hold over nobody, for no reason = %d, want 422", p.status)
	}
	hold := newID(t).String()
	owner.post("/g/fell-end/holds", url.Values{"id": {hold}, "over": {"all"}, "reason": {"an invented claim"}})
	if p = owner.get("/g/fell-end/holds"); !strings.Contains(p.text(), "Over everything, until it is lifted.") || !strings.Contains(p.text(), "an invented claim") {
		t.Errorf("holds = %s", p.text())
	}
	if p = owner.get(erase); p.status != 200 || !strings.Contains(p.text(), registry.ErasedName) {
		t.Errorf("form to erase = %d %s", p.status, p.text())
	}
	asked := url.Values{"reason": {"asked to be forgotten"}, "confirmation": {"Somebody Else"}}
	if p = owner.post(erase, asked); p.status != 422 || !strings.Contains(owner.get(people).text(), person.Name) {
		t.Errorf("erased with another name typed = %d, want 422", p.status)
	}
	asked.Set("confirmation", "invented person")
	if p = owner.post(erase, asked); p.status != 409 || !strings.Contains(p.text(), "legal hold") {
		t.Errorf("erased while held = %d %s, want 409", p.status, p.text())
	}
	owner.post("/g/fell-end/holds/"+hold+"/lift", nil)
	owner.post(erase, asked)
	if text := owner.get(people).text(); strings.Contains(text, person.Name) || !strings.Contains(text, registry.ErasedName) {
		t.Errorf("people after erasing: %s", text)
	}
	steward := s.member(t, registry.RoleSteward)
	for path, want := range map[string]int{people: 403, erase: 403, "/g/fell-end/holds": 200} {
		if p := steward.get(path); p.status != want {
			t.Errorf("%s for a steward = %d, want %d", path, p.status, want)
		}
	}
}

// What a hold is over is found by its name, also without script: a search brings
// the form back as it was typed.
func TestAHoldIsPlacedByName(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(gutter)
	const at = "/g/fell-end/holds"
	form := b.filled(at, "reason", "An invented claim.")
	if form.Has("over") {
		t.Errorf("a hold over %q stands chosen before anybody chose", form.Get("over"))
	}
	if p := b.post(at, form); p.status != 422 || len(web.All(p.doc, web.Has("id", "over-wrong"))) != 1 || p.form(t, at).Get("reason") != "An invented claim." {
		t.Errorf("a hold over nothing = %d: %s", p.status, p.text())
	}
	anchor := suspectAnchor(t, b)
	site := b.get("/g/fell-end/places").link(t, "Gutter Edge")
	value := func(kind, href string) string { return kind + ":" + href[strings.LastIndex(href, "/")+1:] }
	for _, c := range []struct{ search, text, value, href string }{
		{"slate gutter 2", "Anchor: Gutter Edge, Slate Rib, 2", value("anchor", anchor), anchor},
		{"GUTTER edge", "Site: Gutter Edge", value("site", site), site},
	} {
		form := b.filled(at, "reason", c.text, "find.over", c.search, "step", "find:over")
		p := b.post(at, form)
		choice := web.One(t, p.doc, c.search, web.Tag("input"), web.Has("type", "radio"), web.Has("value", c.value))
		id, _ := web.Attr(choice, "id")
		if got := web.Text(web.One(t, p.doc, "label", web.Tag("label"), web.Has("for", id))); p.status != 200 || got != c.text {
			t.Fatalf("search %q = %d, found %q", c.search, p.status, got)
		}
		form = p.form(t, at)
		form.Set("over", c.value)
		form.Set("step", "add")
		if form.Get("reason") != c.text {
			t.Errorf("the reason came back as %q", form.Get("reason"))
		}
		held := b.led(t, b.post(at, form))
		if len(web.All(held.doc, web.Tag("a"), web.Has("href", c.href))) == 0 || !strings.Contains(held.text(), "The legal hold is in force.") {
			t.Errorf("hold over %s: %s", c.text, held.text())
		}
	}
	searched := b.filled(at, "over", value("anchor", anchor), "find.over", "nowhere", "step", "find:over")
	if p := b.post(at, searched); p.form(t, at).Get("over") != value("anchor", anchor) || !strings.Contains(p.text(), wording.HoldFound(0, 0, true)) {
		t.Errorf("what was chosen is lost in a search: %s", p.text())
	}
	for over, want := range map[string]int{"anchor:" + newID(t).String(): 422, "person:x": 422, "ladder:" + newID(t).String(): 422} {
		form := b.filled(at, "reason", "Invented.", "over", over, "step", "add")
		if p := b.post(at, form); p.status != want || p.form(t, at).Get("reason") != "Invented." {
			t.Errorf("a hold over %s = %d, want %d: %s", over, p.status, want, p.text())
		}
	}
}

func TestErasingALandowner(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	owner := s.member(t, registry.RoleOwner)
	l := registry.Landowner{ID: newID(t), Name: "Invented Holder"}
	if _, _, err := s.service.AddLandowner(t.Context(), s.actor(registry.RoleOwner), l); err != nil {
		t.Fatal(err)
	}
	land, erase := "/g/fell-end/reports/land", "/g/fell-end/landowners/"+l.ID.String()+"/erase"
	if p := owner.get(land); !strings.Contains(p.body, erase) {
		t.Error("the page Land has no way to erase a landowner")
	}
	if p := s.member(t, registry.RoleSteward).get(erase); p.status != 403 {
		t.Errorf("form to erase for a steward = %d, want 403", p.status)
	}
	asked := url.Values{"reason": {"asked to be forgotten"}, "confirmation": {"Somebody Else"}}
	if p := owner.post(erase, asked); p.status != 422 || !strings.Contains(p.text(), "This is not the name that stands above.") {
		t.Errorf("erased with another name typed = %d, want 422 and what to type: %s", p.status, p.text())
	}
	asked.Set("confirmation", "invented holder")
	owner.post(erase, asked)
	if text := owner.get(land).text(); strings.Contains(text, l.Name) || !strings.Contains(text, "name erased on") {
		t.Errorf("land after erasing: %s", text)
	}
	if p := owner.get("/g/fell-end/holds"); !strings.Contains(p.text(), "only an owner lifts it") {
		t.Error("the page of holds does not say who lifts one")
	}
}

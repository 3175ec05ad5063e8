package web_test

import (
	"net/url"
	"strings"
	"testing"

	"rockledger/internal/registry"
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

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
	if p = owner.post(erase, asked); p.status != 422 || !strings.Contains(p.text(), "legal hold") {
		t.Errorf("erased while held = %d %s, want 422", p.status, p.text())
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

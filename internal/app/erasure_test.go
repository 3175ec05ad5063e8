package app_test

import (
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// A hold that has ended holds nothing, whatever it is over.
func TestLegalHoldsDoNotBeginAtTheirEnd(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	person := add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
	for _, hold := range []registry.LegalHold{
		{Over: registry.HoldAll},
		{Over: registry.HoldPerson, OverID: &person.ID},
	} {
		hold.Reason, hold.Until = "invented", firstDay-1
		_, _, err := h.AddLegalHold(t.Context(), h.who, hold)
		violated(t, "over "+string(hold.Over)+" until yesterday", err, "until", fault.OutOfRange)
		hold.Until = firstDay
		add(t, h, hold, h.AddLegalHold)
	}
}

func TestNobodyOnHoldIsRenamed(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	person := add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
	other := add(t, h, registry.Person{Name: "Invented Other"}, h.AddPerson)
	hold := add(t, h, registry.LegalHold{Over: registry.HoldPerson, OverID: &person.ID, Reason: "invented"}, h.AddLegalHold)
	rename := func(p registry.Person) error {
		_, err := h.ChangePerson(t.Context(), h.who, p.ID, p.Version, func(n *registry.Person) error {
			n.Name = "Somebody Else, invented"
			return nil
		})
		return err
	}
	if f, _ := fault.As(rename(person)); f == nil || f.Kind != fault.Conflict || f.Code != fault.OnHold {
		t.Errorf("another name under a hold: %v, want code on-hold", f)
	}
	if err := rename(other); err != nil {
		t.Errorf("another name beside the hold: %v", err)
	}
	if _, err := h.LiftLegalHold(t.Context(), h.who, hold.ID); err != nil {
		t.Fatal(err)
	}
	if err := rename(person); err != nil {
		t.Errorf("another name after the hold was lifted: %v", err)
	}
}

// Of a landowner on hold neither name nor contact is changed; of one who is
// erased neither comes back.
func TestNoLandownerOnHoldIsRenamed(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	owner := add(t, h, registry.Landowner{Name: "Invented Holder", Contact: "0100 200 300"}, h.AddLandowner)
	hold := add(t, h, registry.LegalHold{Over: registry.HoldLandowner, OverID: &owner.ID, Reason: "invented"}, h.AddLegalHold)
	change := func(edit func(*registry.Landowner)) error {
		now, err := h.Landowner(t.Context(), h.who, owner.ID)
		if err != nil {
			t.Fatal(err)
		}
		_, err = h.ChangeLandowner(t.Context(), h.who, owner.ID, now.Version, func(n *registry.Landowner) error { edit(n); return nil })
		return err
	}
	rename := func(n *registry.Landowner) { n.Name = "Somebody Else, invented" }
	silence := func(n *registry.Landowner) { n.Contact = "" }
	for name, edit := range map[string]func(*registry.Landowner){"name": rename, "contact": silence} {
		if f, _ := fault.As(change(edit)); f == nil || f.Kind != fault.Conflict || f.Code != fault.OnHold {
			t.Errorf("another %s under a hold: %v, want code on-hold", name, f)
		}
	}
	if err := change(func(n *registry.Landowner) { n.EndedOn = firstDay }); err != nil {
		t.Errorf("ended under a hold: %v", err)
	}
	if _, err := h.LiftLegalHold(t.Context(), h.who, hold.ID); err != nil {
		t.Fatal(err)
	}
	if _, err := h.EraseLandowner(t.Context(), h.who, owner.ID, "asked to, invented"); err != nil {
		t.Fatal(err)
	}
	violated(t, "named again", change(rename), "name", fault.NotAllowed)
	violated(t, "a contact again", change(func(n *registry.Landowner) { n.Contact = "x" }), "contact", fault.NotAllowed)
}

package postgres_test

import (
	"strings"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

var erasedOn = calendar.NewDate(2026, 5, 3)

// addPerson enters a person whom nothing names.
func (r *register) addPerson(t *testing.T) uuid.UUID {
	t.Helper()
	p := sample.Person()
	r.enter(t, registry.Change{What: "person added", Persons: []registry.Person{p}})
	return p.ID
}

func (r *register) tryErase(t *testing.T, person uuid.UUID) error {
	t.Helper()
	e := registry.Erasure{ID: sample.ID(), PersonID: &person, Reason: "asked to, invented", At: sample.At}
	return r.store.ErasePerson(t.Context(), r.who, e, erasedOn)
}

func (r *register) erase(t *testing.T, person uuid.UUID) {
	t.Helper()
	if err := r.tryErase(t, person); err != nil {
		t.Fatal(err)
	}
}

func TestErasingBreaksNoSeal(t *testing.T) {
	t.Parallel()
	r, s := sealedScene(t)
	salts := r.count(t, `SELECT count(*) FROM ledger_salt WHERE row_id = $1`, s.person.ID)
	r.erase(t, s.person.ID)
	r.erase(t, s.person.ID) // once more is nothing
	p, err := r.store.Person(t.Context(), r.group.ID, s.person.ID)
	if err != nil || !p.Erased || p.Name != registry.ErasedName {
		t.Errorf("Person() = %+v, %v, want it erased", p, err)
	}
	if got := r.count(t, `SELECT count(*) FROM ledger_salt WHERE row_id = $1`, s.person.ID); salts != 1 || got != 0 {
		t.Errorf("%d salts before, %d after, want 1 and none", salts, got)
	}
	if n := r.count(t, `SELECT count(*) FROM erasure WHERE person_id = $1`, s.person.ID); n != 1 {
		t.Errorf("%d records of erasing, want 1", n)
	}
	r.seal(t)
	if got := r.verify(t, ""); !got.OK() {
		t.Errorf("VerifyLedger() = %v, want nothing wrong", faults(got))
	}
	if _, err := r.db.Owner().Exec(t.Context(), `UPDATE person SET name = 'Another, invented', erased = false WHERE id = $1`, s.person.ID); err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(faults(r.verify(t, "")), "; "); !strings.HasPrefix(got, "row-changed person ") {
		t.Errorf("VerifyLedger() of a person named again = %q", got)
	}
}

func TestLegalHoldsSuspendErasing(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	other := sample.Site()
	r.enter(t, registry.Change{What: "site", Sites: []registry.Site{other}})
	yesterday, today := erasedOn-1, erasedOn
	for _, tt := range []struct {
		name string
		hold registry.LegalHold
		held bool
	}{
		{"over all", registry.LegalHold{Over: registry.HoldAll}, true},
		{"over the person", registry.LegalHold{Over: registry.HoldPerson, OverID: &s.person.ID}, true},
		{"over an anchor that the person set", registry.LegalHold{Over: registry.HoldAnchor, OverID: &s.anchor.ID}, true},
		{"over its site", registry.LegalHold{Over: registry.HoldSite, OverID: &s.site.ID}, true},
		{"over another site", registry.LegalHold{Over: registry.HoldSite, OverID: &other.ID}, false},
		{"until today", registry.LegalHold{Over: registry.HoldAll, Until: today}, true},
		{"until yesterday", registry.LegalHold{Over: registry.HoldAll, Until: yesterday}, false},
		{"lifted", registry.LegalHold{Over: registry.HoldAll, LiftedOn: yesterday}, false},
	} {
		r := r.beside(t)
		s := newScene()
		r.enter(t, s.change())
		h := tt.hold
		if h.OverID != nil {
			over := map[registry.HoldOver]uuid.UUID{registry.HoldPerson: s.person.ID, registry.HoldAnchor: s.anchor.ID, registry.HoldSite: s.site.ID}[h.Over]
			if !tt.held {
				over = other.ID
			}
			h.OverID = &over
		}
		h.ID, h.Reason = sample.ID(), "invented"
		r.enter(t, registry.Change{What: "hold", LegalHolds: []registry.LegalHold{h}})
		err := r.tryErase(t, s.person.ID)
		f, _ := fault.As(err)
		if tt.held && (f == nil || f.Kind != fault.Conflict || f.Code != fault.OnHold) || !tt.held && err != nil {
			t.Errorf("%s: ErasePerson() = %v, held: want %v", tt.name, err, tt.held)
		}
	}
	if err := r.tryErase(t, sample.ID()); fault.KindOf(err) != fault.NotFound {
		t.Errorf("ErasePerson() of nobody = %v, want NotFound", err)
	}
}

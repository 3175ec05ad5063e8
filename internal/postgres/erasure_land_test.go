package postgres_test

import (
	"context"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/ledger"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

func (r *register) eraseOwner(t *testing.T, owner uuid.UUID) error {
	t.Helper()
	e := registry.Erasure{ID: sample.ID(), LandownerID: &owner, Reason: "asked to, invented", At: sample.At}
	return r.store.EraseLandowner(t.Context(), r.who, e, erasedOn, func(told registry.LandTold) registry.LandTold { return told.Unnamed(erasedOn) })
}

// told is a scene whose landowner is named in all that may name one.
func toldScene() *scene {
	s := newScene()
	s.landowner.Name, s.landowner.Contact = "Invented Holder", "0100 200 300, invented"
	s.parcel.Name = "Invented Holder"
	s.agreement.Issuer, s.agreement.Conditions = "I. Holder", "ring 0100 200 300 first"
	s.restriction.Place, s.restriction.ParcelID, s.restriction.Why = nil, &s.parcel.ID, "Invented Holder asks"
	return s
}

func TestErasingALandownerBreaksNoSeal(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), toldScene()
	r.enter(t, s.change())
	r.seal(t)
	before := r.salts(t)
	if err := r.eraseOwner(t, s.landowner.ID); err != nil {
		t.Fatal(err)
	}
	if err := r.eraseOwner(t, s.landowner.ID); err != nil { // once more is nothing
		t.Fatal(err)
	}
	l, err := r.store.Landowner(t.Context(), r.group.ID, s.landowner.ID)
	if err != nil || l.Name != registry.ErasedOn(erasedOn) || l.Contact != "" || l.ErasedOn != erasedOn {
		t.Errorf("Landowner() = %+v, %v, want it erased", l, err)
	}
	for table, text := range map[string]string{"landowner": "name || contact", "parcel": "name", "agreement": "issuer || conditions", "restriction": "why"} {
		if n := r.count(t, `SELECT count(*) FROM `+table+` WHERE (`+text+`) ~* 'holder|0100 200 300'`); n != 0 {
			t.Errorf("%d rows of %s still name the landowner", n, table)
		}
	}
	if n := r.count(t, `SELECT count(*) FROM ledger WHERE (COALESCE(before, '') || COALESCE(after, '')) ~* 'holder|0100 200 300'`); n != 0 {
		t.Errorf("%d entries of the ledger name the landowner", n)
	}
	after := r.salts(t)
	for noun, id := range map[string]uuid.UUID{"landowner": s.landowner.ID, "parcel": s.parcel.ID, "agreement": s.agreement.ID, "restriction": s.restriction.ID} {
		if before[id] == "" || before[id] == after[id] || (after[id] == "") != (noun == "landowner") {
			t.Errorf("salt of the %s: %q, then %q: want another, and none of the landowner", noun, before[id], after[id])
		}
	}
	if n := r.count(t, `SELECT count(*) FROM erasure WHERE landowner_id = $1`, s.landowner.ID); n != 1 {
		t.Errorf("%d records of erasing, want 1", n)
	}
	r.seal(t)
	if got := r.verify(t, ""); !got.OK() {
		t.Errorf("VerifyLedger() = %v, want nothing wrong", faults(got))
	}
	if _, err := r.db.Owner().Exec(t.Context(), `UPDATE agreement SET conditions = 'another, invented'`); err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(faults(r.verify(t, "")), "; "); got != "row-changed agreement [private]" {
		t.Errorf("VerifyLedger() of an agreement changed behind its back = %q", got)
	}
}

// salts lists all salts by row.
func (r *register) salts(t *testing.T) map[uuid.UUID]string {
	t.Helper()
	rows, err := r.db.Owner().Query(t.Context(), `SELECT row_id, encode(salt, 'hex') AS salt FROM ledger_salt`)
	if err != nil {
		t.Fatal(err)
	}
	type pair struct {
		RowID uuid.UUID
		Salt  string
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[pair])
	out := make(map[uuid.UUID]string)
	for _, p := range list {
		out[p.RowID] = p.Salt
	}
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Entries from before conditions were veiled tell them, and hold.
func TestOlderEntriesTellConditions(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	s.agreement.Conditions = "no drilling, invented"
	r.enter(t, s.change())
	var salt []byte
	if err := r.db.Owner().QueryRow(t.Context(), `SELECT salt FROM ledger_salt WHERE row_id = $1`, s.agreement.ID).Scan(&salt); err != nil {
		t.Fatal(err)
	}
	var row map[string]any
	err := r.db.Owner().QueryRow(t.Context(), `SELECT to_jsonb(a) - 'group_id' FROM agreement AS a WHERE id = $1`, s.agreement.ID).Scan(&row)
	if err != nil {
		t.Fatal(err)
	}
	text, err := ledger.Veil(row, []string{"issuer"}, func() ([]byte, error) { return salt, nil })
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range r.ledger(t, "test") {
		if l.RowID != s.agreement.ID {
			continue
		}
		hash, err := ledger.Entry{GroupID: l.GroupID, At: l.At, Who: l.Who, What: l.What, Noun: l.Noun, RowID: l.RowID, After: text}.Hash()
		if err == nil {
			_, err = r.db.Owner().Exec(t.Context(), `UPDATE ledger SET after = $1, hash = $2 WHERE row_id = $3`, text, hash[:], l.RowID)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	r.seal(t)
	if got := r.verify(t, ""); !got.OK() {
		t.Errorf("VerifyLedger() = %v, want nothing wrong", faults(got))
	}
	if _, err := r.db.Owner().Exec(t.Context(), `UPDATE agreement SET conditions = 'another, invented'`); err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(faults(r.verify(t, "")), "; "); got != "row-changed agreement [conditions]" {
		t.Errorf("VerifyLedger() of other conditions = %q", got)
	}
}

func TestLegalHoldsSuspendErasingALandowner(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	for _, tt := range []struct {
		name string
		over registry.HoldOver
		id   func(*scene, registry.Site) *uuid.UUID
		held bool
	}{
		{"over all", registry.HoldAll, func(*scene, registry.Site) *uuid.UUID { return nil }, true},
		{"over the landowner", registry.HoldLandowner, func(s *scene, _ registry.Site) *uuid.UUID { return &s.landowner.ID }, true},
		{"over an anchor on the land", registry.HoldAnchor, func(s *scene, _ registry.Site) *uuid.UUID { return &s.anchor.ID }, true},
		{"over the site", registry.HoldSite, func(s *scene, _ registry.Site) *uuid.UUID { return &s.site.ID }, true},
		{"over another site", registry.HoldSite, func(_ *scene, o registry.Site) *uuid.UUID { return &o.ID }, false},
		{"over a person", registry.HoldPerson, func(s *scene, _ registry.Site) *uuid.UUID { return &s.person.ID }, false},
	} {
		r, s, other := r.beside(t), toldScene(), sample.Site()
		r.enter(t, s.change())
		h := registry.LegalHold{ID: sample.ID(), Over: tt.over, OverID: tt.id(s, other), Reason: "invented"}
		r.enter(t, registry.Change{What: "hold", Sites: []registry.Site{other}, LegalHolds: []registry.LegalHold{h}})
		err := r.eraseOwner(t, s.landowner.ID)
		f, _ := fault.As(err)
		if tt.held && (f == nil || f.Kind != fault.Conflict || f.Code != fault.OnHold) || !tt.held && err != nil {
			t.Errorf("%s: EraseLandowner() = %v, held: want %v", tt.name, err, tt.held)
		}
	}
	if err := r.eraseOwner(t, sample.ID()); fault.KindOf(err) != fault.NotFound {
		t.Errorf("EraseLandowner() of nobody = %v, want NotFound", err)
	}
}

// A hold that is being placed while a name is about to change is waited for: it
// counts, though it was not there when the change began.
func TestAHoldSlipsInBeforeNoName(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	tx, err := r.db.Owner().Begin(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = tx.Rollback(context.Background()) }()
	_, err = tx.Exec(t.Context(), `
WITH held AS MATERIALIZED (SELECT pg_advisory_xact_lock(hashtextextended('legal hold ' || $1::text, 0)))
INSERT INTO legal_hold (group_id, id, version, over, reason)
SELECT $1::text::uuid, gen_random_uuid(), 1, 'all', 'invented' FROM held`, r.group.ID.String())
	if err != nil {
		t.Fatal(err)
	}
	person := stored(s.person, func(p *registry.Person) *int { return &p.Version })
	person.Name = "Somebody Else, invented"
	done := make(chan error, 1)
	go func() {
		done <- r.store.Write(t.Context(), r.who, registry.Change{
			What: "person changed", At: sample.At, Persons: []registry.Person{person},
			Unheld: []registry.Unheld{{Over: registry.HoldPerson, ID: person.ID, AsOf: erasedOn}},
		})
	}()
	for r.count(t, `SELECT count(*) FROM pg_locks WHERE locktype = 'advisory' AND NOT granted AND database = (SELECT oid FROM pg_database WHERE datname = current_database())`) == 0 {
		select {
		case err := <-done:
			t.Fatalf("the name changed while a hold was being placed: %v", err)
		default:
		}
	}
	if err := tx.Commit(t.Context()); err != nil {
		t.Fatal(err)
	}
	if f, _ := fault.As(<-done); f == nil || f.Code != fault.OnHold {
		t.Errorf("another name: %v, want code on-hold", f)
	}
}

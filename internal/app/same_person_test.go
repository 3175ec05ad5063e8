package app_test

import (
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// allowed is a workshop whose first anchor was set by one person, and its first
// use allowed by another.
type allowed struct {
	*workshop
	g     registry.Gluing
	use   registry.FirstUse
	other registry.Person
}

func newAllowed(t *testing.T) *allowed {
	t.Helper()
	w := newWorkshop(t)
	a := &allowed{workshop: w, g: w.gluing(w.positions[0]), other: add(t, w.house, registry.Person{Name: "Invented Other"}, w.AddPerson)}
	i := &a.g.Installations[0]
	i.Moisture, i.SetAt, i.PersonID = registry.HoleDry, around(firstDay, 8, 8), &w.person.ID
	a.g.Session.OpenedAt = around(firstDay, 7, 7)
	a.glue(t, a.g)
	row := quantity.Temperature(5)
	cure := registry.Cure{
		Record: record(i.AnchorID, w.person, firstDay), LabelCureMinutes: sample.Of(120), LabelC: &row,
		LowestC: &registry.Reading{C: 8, How: registry.Measured},
	}
	if _, _, err := w.RecordCure(t.Context(), w.who, cure); err != nil {
		t.Fatal(err)
	}
	a.use = registry.FirstUse{Record: record(i.AnchorID, a.other, firstDay), At: around(firstDay, 11, 11), Sample: registry.SampleNone}
	if _, _, err := w.RecordFirstUse(t.Context(), w.who, a.use); err != nil {
		t.Fatal(err)
	}
	return a
}

func (a *allowed) glue(t *testing.T, g registry.Gluing) {
	t.Helper()
	if _, _, err := a.RecordGluing(t.Context(), a.who, g); err != nil {
		t.Fatal(err)
	}
}

// session corrects the session as edit has it.
func (a *allowed) session(t *testing.T, edit func(*registry.GluingSession)) error {
	t.Helper()
	g := registry.Gluing{Session: a.g.Session, BatchText: a.g.BatchText}
	g.Session.ID, g.Session.Replaces, g.Session.Words = sample.ID(), &a.g.Session.ID, "misread, invented"
	edit(&g.Session)
	_, _, err := a.RecordGluing(t.Context(), a.who, g)
	return err
}

// set sends a copy of the installation with an id of its own.
func (a *allowed) set(t *testing.T, replaces *uuid.UUID, by *uuid.UUID) (uuid.UUID, error) {
	t.Helper()
	i := a.g.Installations[0]
	i.ID, i.SessionID, i.Replaces, i.PersonID, i.Words = sample.ID(), &a.g.Session.ID, replaces, by, "misread, invented"
	_, _, err := a.RecordInstallation(t.Context(), a.who, i)
	return i.ID, err
}

func (a *allowed) takeBack(t *testing.T, of uuid.UUID) (uuid.UUID, error) {
	t.Helper()
	r := registry.Retraction{Record: record(a.use.AnchorID, a.person, firstDay), RetractsID: of, Reason: "misread, invented"}
	_, _, err := a.RecordRetraction(t.Context(), a.who, r)
	return r.ID, err
}

// House rules: somebody else allows first use than who set the anchor. No
// correction makes one person of the two afterwards.
func TestCorrectionsMakeNobodyAllowTheirOwn(t *testing.T) {
	t.Parallel()
	a := newAllowed(t)
	set := &a.g.Installations[0].ID
	violated(t, "session set by who allowed", a.session(t, func(s *registry.GluingSession) { s.SetByID = &a.other.ID }), "set_by_id", fault.SamePerson)
	_, err := a.set(t, set, &a.other.ID)
	violated(t, "installation by who allowed", err, "person_id", fault.SamePerson)
	if e, _ := fault.As(err); e != nil && e.Violations[0].Values["first_use"] != a.use.ID.String() {
		t.Errorf("refusal names %v, want the first use", e.Violations[0].Values)
	}
	g := registry.Gluing{Session: a.g.Session, BatchText: a.g.BatchText, Installations: []registry.Installation{a.g.Installations[0]}}
	g.Session.ID, g.Session.Replaces = sample.ID(), &a.g.Session.ID
	i := &g.Installations[0]
	i.ID, i.Replaces, i.PersonID = sample.ID(), set, &a.other.ID
	_, _, err = a.RecordGluing(t.Context(), a.who, g)
	violated(t, "installation corrected with its session", err, "installations[0].person_id", fault.SamePerson)
	own := a.use
	own.ID, own.Replaces, own.PersonID = sample.ID(), &a.use.ID, &a.person.ID
	_, _, err = a.RecordFirstUse(t.Context(), a.who, own)
	violated(t, "first use by the setter", err, "person_id", fault.SamePerson)
	if _, err := a.set(t, set, &a.person.ID); err != nil {
		t.Errorf("a correction that leaves two persons: %v", err)
	}
}

// Nor does any order of corrections and retractions.
func TestNoOrderMakesAnybodyAllowTheirOwn(t *testing.T) {
	t.Parallel()
	must := func(t *testing.T, id uuid.UUID, err error) uuid.UUID {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return id
	}
	t.Run("a first use taken back comes back", func(t *testing.T) {
		t.Parallel()
		a := newAllowed(t)
		id, err := a.takeBack(t, a.use.ID)
		back := must(t, id, err)
		id, err = a.set(t, &a.g.Installations[0].ID, &a.other.ID)
		must(t, id, err) // the first use counts no longer
		_, err = a.takeBack(t, back)
		violated(t, "retraction of the retraction", err, "retracts_id", fault.SamePerson)
	})
	t.Run("an earlier setter comes back", func(t *testing.T) {
		t.Parallel()
		a := newAllowed(t)
		id, err := a.takeBack(t, a.use.ID)
		must(t, id, err)
		id, err = a.set(t, &a.g.Installations[0].ID, &a.other.ID)
		first := must(t, id, err)
		id, err = a.set(t, &first, &a.person.ID)
		second := must(t, id, err)
		again := a.use
		again.ID = sample.ID()
		_, _, err = a.RecordFirstUse(t.Context(), a.who, again)
		must(t, again.ID, err)
		_, err = a.takeBack(t, second)
		violated(t, "retraction of the correction", err, "retracts_id", fault.SamePerson)
	})
	t.Run("recorded anew", func(t *testing.T) {
		t.Parallel()
		a := newAllowed(t)
		id, err := a.set(t, nil, &a.person.ID)
		must(t, id, err)
		id, err = a.takeBack(t, a.g.Installations[0].ID)
		must(t, id, err)
		_, err = a.set(t, nil, &a.other.ID)
		violated(t, "set anew by who allowed", err, "person_id", fault.SamePerson)
	})
	t.Run("by another session", func(t *testing.T) {
		t.Parallel()
		a := newAllowed(t)
		g := a.gluing(a.positions[1])
		g.BatchText, g.Session.SetByID = "", &a.other.ID
		a.glue(t, g)
		i := a.g.Installations[0]
		i.ID, i.Replaces, i.SessionID, i.Words = sample.ID(), &a.g.Installations[0].ID, &g.Session.ID, "misread, invented"
		_, _, err := a.RecordInstallation(t.Context(), a.who, i)
		violated(t, "a session of who allowed", err, "session_id", fault.SamePerson)
	})
}

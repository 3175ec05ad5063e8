package app_test

import (
	"slices"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// upkeep is a house with the small list, a person, and what tests of upkeep ask.
type upkeep struct {
	*house
	person registry.Person
}

func newUpkeep(t *testing.T) upkeep {
	t.Helper()
	h := newHouse(t)
	h.enter(t, smallList)
	return upkeep{h, add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)}
}

func (u upkeep) standing(t *testing.T, label string) registry.Assessment {
	t.Helper()
	return u.story(t, label).Assessment
}

// see records that a person saw something at B1, hands-on, with a verdict.
func (u upkeep) see(t *testing.T, day calendar.Date, v registry.Verdict, seen ...registry.Observation) {
	t.Helper()
	i := inspected(u.anchor(t, "B1").ID, day, func(i *registry.Inspection) { i.Verdict, i.Observations = v, seen })
	if _, _, err := u.RecordInspection(t.Context(), u.who, i); err != nil {
		t.Fatal(err)
	}
}

// ring hangs a worn ring of 10 mm on B1.
func (u upkeep) ring(t *testing.T) registry.Fitting {
	t.Helper()
	return add(t, u.house, registry.Fitting{
		AnchorID: u.anchor(t, "B1").ID, Kind: registry.Ring, Presence: registry.Present, New: of(quantity.Length(10)),
	}, u.AddFitting)
}

func (u upkeep) done(t *testing.T, day calendar.Date, kinds ...registry.Upkeep) registry.Maintenance {
	t.Helper()
	return registry.Maintenance{Record: record(u.anchor(t, "B1").ID, u.person, day), Done: kinds}
}

func rules(a registry.Assessment) []string {
	var out []string
	for _, f := range a.Findings {
		if f.Weighs().Rank() > registry.Note.Rank() {
			out = append(out, f.Rule)
		}
	}
	return out
}

// A loose nut is settled by tightening it (design: a loose nut is watch, settled
// by maintenance), what a person decided is not.
func TestMaintenanceSettlesALooseNut(t *testing.T) {
	t.Parallel()
	u := newUpkeep(t)
	u.see(t, firstDay-10, registry.Repair, registry.LooseNut)
	m := u.done(t, firstDay-10, registry.Tightened)
	m.TorqueNM, m.TorqueTool = of(25.0), "click wrench"
	stored, created, err := u.RecordMaintenance(t.Context(), u.as(registry.RoleRecorder), m, nil)
	if err != nil || !created || stored.ID != m.ID {
		t.Fatalf("RecordMaintenance: %+v, %v, %v", stored, created, err)
	}
	got := rules(u.standing(t, "B1"))
	if slices.Contains(got, "loose-nut") || !slices.Contains(got, "verdict-repair") {
		t.Errorf("findings %v, want no loose nut, and the verdict", got)
	}
	if _, created, err := u.RecordMaintenance(t.Context(), u.who, m, nil); err != nil || created {
		t.Errorf("the same again: %v, %v, want the stored one", created, err)
	}
	m.Done = append(m.Done, registry.Cleaned)
	if _, _, err := u.RecordMaintenance(t.Context(), u.who, m, nil); fault.KindOf(err) != fault.Conflict {
		t.Errorf("other content: %v, want conflict", err)
	}
	back := registry.Retraction{Record: record(m.AnchorID, u.person, firstDay), RetractsID: m.ID, Reason: "the anchor beside it"}
	if _, _, err := u.RecordRetraction(t.Context(), u.who, back); err != nil {
		t.Fatal(err)
	}
	if got := rules(u.standing(t, "B1")); !slices.Contains(got, "loose-nut") {
		t.Errorf("findings %v after it was taken back, want the loose nut", got)
	}
}

func TestMaintenanceBeforeItWasSeenSettlesNothing(t *testing.T) {
	t.Parallel()
	u := newUpkeep(t)
	u.see(t, firstDay-10, "", registry.LooseNut)
	if _, _, err := u.RecordMaintenance(t.Context(), u.who, u.done(t, firstDay-11, registry.Tightened), nil); err != nil {
		t.Fatal(err)
	}
	if got := rules(u.standing(t, "B1")); !slices.Contains(got, "loose-nut") {
		t.Errorf("findings %v, want the loose nut", got)
	}
}

func TestMaintenanceThatCannotBeRight(t *testing.T) {
	t.Parallel()
	u := newUpkeep(t)
	stranger := uuid.Must(uuid.NewV7())
	for _, test := range []struct {
		name  string
		edit  func(*registry.Maintenance)
		fresh *registry.Fitting
		field string
		code  fault.Code
	}{
		{"nothing done", func(m *registry.Maintenance) { m.Done = nil }, nil, "done", fault.Required},
		{"no such work", func(m *registry.Maintenance) { m.Done[0] = "polished" }, nil, "done", fault.Unknown},
		{"torque in the wrong unit", func(m *registry.Maintenance) { m.TorqueNM = of(25000.0) }, nil, "torque_nm", fault.OutOfRange},
		{"ahead", func(m *registry.Maintenance) { m.DoneOn = calendar.Exactly(firstDay + 1) }, nil, "done_on", fault.DateAhead},
		{"nobody's fitting", func(m *registry.Maintenance) { m.FittingID = &stranger }, nil, "fitting_id", fault.NoSuchReference},
		{"no such person", func(m *registry.Maintenance) { m.PersonID = &stranger }, nil, "person_id", fault.NoSuchReference},
		{"replaces nothing", func(m *registry.Maintenance) { m.Replaces = &stranger }, nil, "replaces", fault.NoSuchReference},
		{"a new ring with a tightened nut", nil, &registry.Fitting{Kind: registry.Ring, Presence: registry.Present}, "new_fitting", fault.Mismatch},
		{
			"a new ring of no product", func(m *registry.Maintenance) { m.Done[0] = registry.FittingAdded },
			&registry.Fitting{Kind: registry.Ring, Presence: registry.Present, ProductID: &stranger}, "new_fitting.product_id", fault.NoSuchReference,
		},
	} {
		m := u.done(t, firstDay, registry.Tightened)
		if test.edit != nil {
			test.edit(&m)
		}
		_, _, err := u.RecordMaintenance(t.Context(), u.who, m, test.fresh)
		violated(t, test.name, err, test.field, test.code)
	}
	if _, _, err := u.RecordMaintenance(t.Context(), u.as(registry.RoleReader), u.done(t, firstDay, registry.Cleaned), nil); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("a reader: %v, want forbidden", err)
	}
}

// A renewed ring ends the worn one and settles its wear; taking the record back
// brings both back.
func TestRenewedFitting(t *testing.T) {
	t.Parallel()
	u := newUpkeep(t)
	ctx := t.Context()
	worn := u.ring(t)
	i := inspected(worn.AnchorID, firstDay-10, func(i *registry.Inspection) {
		i.Measured = []registry.Measurement{{FittingID: &worn.ID, Left: 7}}
	})
	if _, _, err := u.RecordInspection(ctx, u.who, i); err != nil {
		t.Fatal(err)
	}
	if got := rules(u.standing(t, "B1")); !slices.Contains(got, "worn-out") {
		t.Fatalf("findings %v, want a worn-out ring", got)
	}
	m := u.done(t, firstDay-5, registry.FittingRenewed)
	m.FittingID = &worn.ID
	fresh := registry.Fitting{Kind: registry.Ring, Presence: registry.Present, Metal: metal.NewSet("1.4404")}
	stored, _, err := u.RecordMaintenance(ctx, u.as(registry.RoleRecorder), m, &fresh)
	if err != nil {
		t.Fatal(err)
	}
	hangs := func() []uuid.UUID {
		var out []uuid.UUID
		for _, f := range u.story(t, "B1").Facts.Fittings {
			if f.Kind == registry.Ring && f.Hangs(firstDay) {
				out = append(out, f.ID)
			}
		}
		return out
	}
	if got := hangs(); len(got) != 1 || stored.NewFittingID == nil || got[0] != *stored.NewFittingID {
		t.Errorf("hanging %v, want the new ring %v alone", got, stored.NewFittingID)
	}
	if got := rules(u.standing(t, "B1")); slices.Contains(got, "worn-out") {
		t.Errorf("findings %v after the ring was renewed", got)
	}
	if _, created, err := u.RecordMaintenance(ctx, u.who, m, &fresh); err != nil || created {
		t.Errorf("the same again: %v, %v, want the stored one", created, err)
	}
	chain := fresh
	chain.Kind = registry.Chain
	if _, _, err := u.RecordMaintenance(ctx, u.who, m, &chain); fault.KindOf(err) != fault.Conflict {
		t.Errorf("the same id with a chain: %v, want conflict", err)
	}
	again := u.done(t, firstDay-4, registry.FittingTaken)
	again.FittingID = &worn.ID
	_, _, err = u.RecordMaintenance(ctx, u.who, again, nil)
	violated(t, "the worn ring taken off once more", err, "fitting_id", fault.Mismatch)

	corrected := m
	corrected.Record = record(m.AnchorID, u.person, firstDay-6)
	corrected.Replaces = &m.ID
	if _, _, err := u.RecordMaintenance(ctx, u.who, corrected, nil); err != nil {
		t.Fatalf("another day: %v", err)
	}
	if got := hangs(); len(got) != 1 || got[0] != *stored.NewFittingID {
		t.Errorf("hanging %v after the correction, want %v", got, *stored.NewFittingID)
	}
	back := registry.Retraction{Record: record(m.AnchorID, u.person, firstDay), RetractsID: corrected.ID, Reason: "another anchor"}
	if _, _, err := u.RecordRetraction(ctx, u.who, back); err != nil {
		t.Fatal(err)
	}
	if got := hangs(); len(got) != 1 || got[0] != *stored.NewFittingID {
		t.Errorf("hanging %v after the correction was taken back, want the first record to count again: %v", got, *stored.NewFittingID)
	}
	first := registry.Retraction{Record: record(m.AnchorID, u.person, firstDay), RetractsID: m.ID, Reason: "another anchor"}
	if _, _, err := u.RecordRetraction(ctx, u.who, first); err != nil {
		t.Fatal(err)
	}
	if got := hangs(); len(got) != 1 || got[0] != worn.ID {
		t.Errorf("hanging %v after both were taken back, want the worn ring %v", got, worn.ID)
	}
	if got := rules(u.standing(t, "B1")); !slices.Contains(got, "worn-out") {
		t.Errorf("findings %v, want the worn ring again", got)
	}
}

// A renewed fitting of which nothing is said hangs as one of its kind.
func TestRenewedFittingOfWhichNothingIsSaid(t *testing.T) {
	t.Parallel()
	u := newUpkeep(t)
	old := u.ring(t)
	m := u.done(t, firstDay, registry.FittingRenewed)
	m.FittingID = &old.ID
	stored, _, err := u.RecordMaintenance(t.Context(), u.who, m, nil)
	if err != nil || stored.NewFittingID == nil {
		t.Fatalf("RecordMaintenance: %+v, %v", stored, err)
	}
	for _, f := range u.story(t, "B1").Facts.Fittings {
		if f.ID == *stored.NewFittingID && (f.Kind != registry.Ring || f.Metal.Known() || f.SetOn.From != firstDay) {
			t.Errorf("new fitting %+v, want a ring of that day", f)
		}
	}
	if _, created, err := u.RecordMaintenance(t.Context(), u.who, m, nil); err != nil || created {
		t.Errorf("the same again: %v, %v, want the stored one", created, err)
	}
}

// Out of use without a marking is for now, with one for this year (house rules
// of this project); the standing stays.
func TestMarking(t *testing.T) {
	t.Parallel()
	u := newUpkeep(t)
	ctx, recorder := t.Context(), u.as(registry.RoleRecorder)
	u.see(t, firstDay-10, registry.TakeOutOfUse)
	if a := u.standing(t, "B1"); a.Band != registry.BandNow || a.BandReason != "out-of-use" {
		t.Fatalf("unmarked: %s, %s", a.Band, a.BandReason)
	}
	tape := registry.Marking{Record: record(u.anchor(t, "B1").ID, u.person, firstDay-9), How: []registry.MarkingHow{registry.MarkedTape}}
	if _, created, err := u.RecordMarking(ctx, recorder, tape); err != nil || !created {
		t.Fatalf("RecordMarking: %v, %v", created, err)
	}
	if _, created, err := u.RecordMarking(ctx, recorder, tape); err != nil || created {
		t.Errorf("the same again: %v, %v", created, err)
	}
	if a := u.standing(t, "B1"); a.Band != registry.BandThisYear || a.BandReason != "out-of-use-marked" || a.Standing != registry.StandingOutOfUse {
		t.Errorf("marked: %s, %s, %s", a.Standing, a.Band, a.BandReason)
	}
	lift := registry.Marking{Record: record(tape.AnchorID, u.person, firstDay), Lifts: &tape.ID}
	_, _, err := u.RecordMarking(ctx, recorder, lift)
	if e, ok := fault.As(err); !ok || e.Kind != fault.Forbidden || e.Values["unmarks"] == "" {
		t.Errorf("a recorder lifts it: %v, want forbidden", err)
	}
	nobody := lift
	nobody.PersonID = nil
	_, _, err = u.RecordMarking(ctx, u.who, nobody)
	violated(t, "nobody lifts it", err, "person_id", fault.Required)
	early := lift
	early.DoneOn = calendar.Exactly(firstDay - 10)
	_, _, err = u.RecordMarking(ctx, u.who, early)
	violated(t, "lifted before it was put up", err, "done_on", fault.Order)
	wrongKind := lift
	wrongKind.Replaces = &tape.ID
	_, _, err = u.RecordMarking(ctx, u.who, wrongKind)
	if err == nil {
		t.Error("a marking was corrected to one that lifts it")
	}
	if _, _, err := u.RecordMarking(ctx, u.who, lift); err != nil {
		t.Fatalf("a steward lifts it: %v", err)
	}
	if a := u.standing(t, "B1"); a.Band != registry.BandNow {
		t.Errorf("lifted: %s, want now", a.Band)
	}
	twice := lift
	twice.ID = uuid.Must(uuid.NewV7())
	_, _, err = u.RecordMarking(ctx, u.who, twice)
	violated(t, "lifted twice", err, "lifts", fault.NoSuchReference)
	later := tape
	later.Record = record(tape.AnchorID, u.person, firstDay-8)
	later.Replaces = &tape.ID
	_, _, err = u.RecordMarking(ctx, u.who, later)
	violated(t, "a lifted marking corrected", err, "replaces", fault.InUse)
	back := registry.Retraction{Record: record(tape.AnchorID, u.person, firstDay), RetractsID: lift.ID, Reason: "it still hangs"}
	if _, _, err := u.RecordRetraction(ctx, u.who, back); err != nil {
		t.Fatal(err)
	}
	if a := u.standing(t, "B1"); a.Band != registry.BandThisYear {
		t.Errorf("the lifting taken back: %s, want this year", a.Band)
	}
}

func TestLiftingAMarkingOfAnAnchorInUse(t *testing.T) {
	t.Parallel()
	u := newUpkeep(t)
	tape := registry.Marking{Record: record(u.anchor(t, "B1").ID, u.person, firstDay-9), How: []registry.MarkingHow{registry.MarkedSign}}
	if _, _, err := u.RecordMarking(t.Context(), u.as(registry.RoleRecorder), tape); err != nil {
		t.Fatal(err)
	}
	lift := registry.Marking{Record: record(tape.AnchorID, u.person, firstDay), Lifts: &tape.ID}
	lift.PersonID = nil
	if _, _, err := u.RecordMarking(t.Context(), u.as(registry.RoleRecorder), lift); err != nil {
		t.Errorf("a recorder lifts it: %v", err)
	}
	elsewhere := registry.Marking{Record: record(u.anchor(t, "B2").ID, u.person, firstDay), Lifts: &tape.ID}
	_, _, err := u.RecordMarking(t.Context(), u.who, elsewhere)
	violated(t, "another anchor's marking", err, "lifts", fault.NoSuchReference)
}

func TestRemovalSaysHow(t *testing.T) {
	t.Parallel()
	u := newUpkeep(t)
	r := registry.Removal{
		Record: record(u.anchor(t, "B1").ID, u.person, firstDay), How: registry.CutOff, Stub: of(quantity.Length(3)),
		OldHole: registry.HoleStub, Observations: []registry.Observation{registry.CrackedMetal}, MetalKept: of(true), MetalWhere: "an invented shed",
	}
	bad := r
	bad.MetalKept = of(false)
	_, _, err := u.RecordRemoval(t.Context(), u.who, bad)
	violated(t, "where metal lies that was not kept", err, "metal_where", fault.Mismatch)
	if _, created, err := u.RecordRemoval(t.Context(), u.who, r); err != nil || !created {
		t.Fatalf("RecordRemoval: %v, %v", created, err)
	}
	if _, created, err := u.RecordRemoval(t.Context(), u.who, r); err != nil || created {
		t.Errorf("the same again: %v, %v", created, err)
	}
	if a := u.anchor(t, "B1"); !a.Removed {
		t.Error("B1 stands in the rock still")
	}
}

package app_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// smallList is invented.
const smallList = `Crag,Route,Bolt,Type,Metal,Glue,Batch,Fitted,State
Tarn Edge,Plum Line,B1,wedge anchor,1.4404,,,12/05/2016,ok
Tarn Edge,Plum Line,B2,glue-in eye,1.4404,resin one,L12-A,12/05/2016,
Tarn Edge,Plum Line,B3,wedge anchor,1.4404,resin two,L13-A,12/05/2016,spins
`

func TestRecordInspection(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	anchor := h.anchor(t, "B1").ID
	before, err := h.AnchorStory(t.Context(), h.who, anchor)
	if err != nil {
		t.Fatal(err)
	}
	sent := inspected(anchor, firstDay.AddDays(-1), func(i *registry.Inspection) { i.Words = "sound" })
	stored, created, err := h.RecordInspection(t.Context(), h.as(registry.RoleRecorder), sent)
	if err != nil || !created {
		t.Fatalf("record = %v, %v; want it created", created, err)
	}
	after, err := h.AnchorStory(t.Context(), h.who, anchor)
	if err != nil {
		t.Fatal(err)
	}
	if after.Assessment.DueState != registry.NotDue || before.Assessment.DueState != registry.AwaitingFirstRound {
		t.Errorf("due state %q, then %q; want the first round to end with the inspection", before.Assessment.DueState, after.Assessment.DueState)
	}
	if len(after.History) != len(before.History)+1 {
		t.Errorf("%d rows of history, want %d", len(after.History), len(before.History)+1)
	}

	h.turnTo(firstDay.AddDays(3))
	again, created, err := h.RecordInspection(t.Context(), h.who, sent)
	if err != nil || created {
		t.Fatalf("the same again = %v, %v; want the stored one", created, err)
	}
	if diff := cmp.Diff(stored, again); diff != "" {
		t.Errorf("the same again (-stored +answered):\n%s", diff)
	}
	sent.Words = "not so sound"
	if _, _, err := h.RecordInspection(t.Context(), h.who, sent); fault.KindOf(err) != fault.Conflict {
		t.Errorf("same id, other content: %v, want conflict", err)
	}
	sent.AnchorID, sent.Words = h.anchor(t, "B2").ID, "sound"
	if _, _, err := h.RecordInspection(t.Context(), h.who, sent); fault.KindOf(err) != fault.Conflict {
		t.Errorf("same id, another anchor: %v, want conflict", err)
	}
}

func TestRecordInspectionRejects(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	anchor, nobody := h.anchor(t, "B1").ID, uuid.New()
	for _, c := range []struct {
		name  string
		who   registry.Actor
		edit  func(*registry.Inspection)
		kind  fault.Kind
		field string
	}{
		{"a reader", h.as(registry.RoleReader), nil, fault.Forbidden, ""},
		{"tomorrow", h.who, func(i *registry.Inspection) { i.DoneOn = calendar.Exactly(firstDay + 1) }, fault.Invalid, "done_on"},
		{"no such level", h.who, func(i *registry.Inspection) { i.Level = "peek" }, fault.Invalid, "level"},
		{"no such person", h.who, func(i *registry.Inspection) { i.PersonID = &nobody }, fault.Invalid, "person_id"},
		{"replaces nothing", h.who, func(i *registry.Inspection) { i.Replaces = &nobody }, fault.Invalid, "replaces"},
		{"no such anchor", h.who, func(i *registry.Inspection) { i.AnchorID = nobody }, fault.NotFound, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			_, created, err := h.RecordInspection(t.Context(), c.who, inspected(anchor, firstDay, c.edit))
			if created || fault.KindOf(err) != c.kind {
				t.Fatalf("record = %v, %v; want %v", created, err, c.kind)
			}
			if e, _ := fault.As(err); c.field != "" && (len(e.Violations) != 1 || e.Violations[0].Field != c.field) {
				t.Errorf("violations = %+v, want one of %q", e.Violations, c.field)
			}
		})
	}
}

func TestRecordInspectionReplacing(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	person := add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
	wrong := inspected(h.anchor(t, "B1").ID, firstDay, func(i *registry.Inspection) {
		i.Observations = []registry.Observation{registry.CrackedMetal}
	})
	right := inspected(wrong.AnchorID, firstDay, func(i *registry.Inspection) { i.Replaces, i.PersonID = &wrong.ID, &person.ID })
	for _, c := range []struct {
		record registry.Inspection
		want   registry.Standing
	}{{wrong, registry.StandingOutOfUse}, {right, registry.NoProblem}} {
		if _, _, err := h.RecordInspection(t.Context(), h.who, c.record); err != nil {
			t.Fatal(err)
		}
		story, err := h.AnchorStory(t.Context(), h.who, wrong.AnchorID)
		if err != nil || story.Assessment.Standing != c.want {
			t.Errorf("standing = %q, %v; want %q", story.Assessment.Standing, err, c.want)
		}
	}
}

func TestRecordInstallation(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	products, err := h.Products(t.Context(), h.who, registry.Adhesive, registry.Page{})
	if err != nil || len(products) != 2 {
		t.Fatalf("products = %+v, %v; want two adhesives", products, err)
	}
	batches, err := h.Batches(t.Context(), h.who, &products[0].ID, registry.Page{})
	if err != nil || len(batches) != 1 {
		t.Fatalf("batches = %+v, %v; want one", batches, err)
	}
	hole, nothing := 12*quantity.Millimetre, uuid.New()
	sent := registry.Installation{
		Record:       registry.Record{ID: uuid.New(), AnchorID: h.anchor(t, "B2").ID, DoneOn: calendar.Exactly(firstDay)},
		HoleDiameter: &hole, AdhesiveID: &products[0].ID, BatchID: &batches[0].ID,
	}
	for field, edit := range map[string]func(*registry.Installation){
		"adhesive_id": func(i *registry.Installation) { i.AdhesiveID = &nothing },
		"batch_id":    func(i *registry.Installation) { i.AdhesiveID = &products[1].ID },
	} {
		wrong := sent
		edit(&wrong)
		_, _, err := h.RecordInstallation(t.Context(), h.who, wrong)
		e, _ := fault.As(err)
		if e == nil || len(e.Violations) != 1 || e.Violations[0].Field != field {
			t.Errorf("record = %v, want a violation of %s", err, field)
		}
	}
	if _, created, err := h.RecordInstallation(t.Context(), h.who, sent); err != nil || !created {
		t.Fatalf("record = %v, %v; want it created", created, err)
	}
	if _, created, err := h.RecordInstallation(t.Context(), h.who, sent); err != nil || created {
		t.Errorf("the same again = %v, %v; want the stored one", created, err)
	}
	story, err := h.AnchorStory(t.Context(), h.who, sent.AnchorID)
	if err != nil || story.Assessment.Standing != registry.NotInUseYet {
		t.Errorf("standing = %q, %v; want %q until first use is allowed", story.Assessment.Standing, err, registry.NotInUseYet)
	}
}

func TestRecordFirstUse(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	use := registry.FirstUse{Record: registry.Record{ID: uuid.New(), AnchorID: h.anchor(t, "B2").ID, DoneOn: calendar.Exactly(firstDay)}}
	_, _, err := h.RecordFirstUse(t.Context(), h.who, use)
	e, _ := fault.As(err)
	if e == nil || len(e.Violations) != 1 || e.Violations[0].Field != "person_id" {
		t.Errorf("first use by nobody: %v, want a violation of person_id", err)
	}
}

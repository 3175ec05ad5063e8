package app_test

import (
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// What it takes to lift a decision is judgement of this project.
func TestCorrectionThatLifts(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx, recorder, steward := t.Context(), h.as(registry.RoleRecorder), h.as(registry.RoleSteward)
	h.enter(t, smallList)
	person := add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
	anchor := h.anchor(t, "B1").ID
	condemned := inspected(anchor, firstDay-10, func(i *registry.Inspection) { i.Verdict = registry.TakeOutOfUse })
	if _, _, err := h.RecordInspection(ctx, recorder, condemned); err != nil {
		t.Fatal(err)
	}
	correction := func(edit func(*registry.Inspection)) registry.Inspection {
		return inspected(anchor, firstDay-10, func(i *registry.Inspection) {
			i.Replaces, i.PersonID = &condemned.ID, &person.ID
			if edit != nil {
				edit(i)
			}
		})
	}
	standing := func() registry.Standing {
		story, err := h.AnchorStory(ctx, h.who, anchor)
		if err != nil {
			t.Fatal(err)
		}
		return story.Assessment.Standing
	}
	for _, milder := range []struct {
		name string
		edit func(*registry.Inspection)
	}{
		{"keep", nil},
		{"a glance in passing, by nobody", func(i *registry.Inspection) { i.Level, i.Ticked, i.PersonID = registry.Glance, false, nil }},
		{"repair", func(i *registry.Inspection) { i.Verdict = registry.Repair }},
		{"no verdict", func(i *registry.Inspection) { i.Verdict = "" }},
	} {
		_, _, err := h.RecordInspection(ctx, recorder, correction(milder.edit))
		if e, ok := fault.As(err); !ok || e.Kind != fault.Forbidden || e.Values["lifts"] == "" {
			t.Errorf("a recorder corrects to %s: %v, want forbidden", milder.name, err)
		}
	}
	_, _, err := h.RecordInspection(ctx, steward, correction(func(i *registry.Inspection) { i.PersonID = nil }))
	violated(t, "a steward names nobody", err, "person_id", fault.Required)
	_, _, err = h.RecordInspection(ctx, steward, correction(func(i *registry.Inspection) { i.Level = registry.Glance }))
	violated(t, "a steward glances", err, "level", fault.Mismatch)
	_, _, err = h.RecordInspection(ctx, steward, correction(func(i *registry.Inspection) { i.Ticked = false }))
	violated(t, "a steward ticks nothing", err, "ticked", fault.Mismatch)
	if got := standing(); got != registry.StandingOutOfUse {
		t.Fatalf("standing %q, want out of use all along", got)
	}

	same := correction(func(i *registry.Inspection) { i.Verdict, i.Words = registry.TakeOutOfUse, "the same, spelt right" })
	if _, _, err := h.RecordInspection(ctx, recorder, same); err != nil {
		t.Errorf("a recorder corrects the words: %v", err)
	}
	condemned.ID = same.ID
	if _, _, err := h.RecordInspection(ctx, steward, correction(nil)); err != nil {
		t.Errorf("a steward with a named person: %v", err)
	}
	if got := standing(); got == registry.StandingOutOfUse {
		t.Error("still out of use after a steward's correction")
	}
}

// A correction may leave the verdict and yet lift what was seen, or be of an
// earlier day that others have answered.
func TestCorrectionThatLiftsInOtherWays(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx, recorder := t.Context(), h.as(registry.RoleRecorder)
	h.enter(t, smallList)
	record := func(label string, day int, edit func(*registry.Inspection)) registry.Inspection {
		i := inspected(h.anchor(t, label).ID, firstDay.AddDays(day), edit)
		if _, _, err := h.RecordInspection(ctx, recorder, i); err != nil {
			t.Fatal(err)
		}
		return i
	}
	forbidden := func(name string, old uuid.UUID, i registry.Inspection) {
		i.Replaces = &old
		if _, _, err := h.RecordInspection(ctx, recorder, i); fault.KindOf(err) != fault.Forbidden {
			t.Errorf("%s: %v, want forbidden", name, err)
		}
	}
	cracked := record("B1", -10, func(i *registry.Inspection) {
		i.Verdict, i.Observations = "", []registry.Observation{registry.CrackedMetal}
	})
	forbidden("nothing seen after all", cracked.ID, inspected(cracked.AnchorID, firstDay-10, func(i *registry.Inspection) { i.Verdict = "" }))
	record("B3", -20, nil)
	condemned := record("B3", -10, func(i *registry.Inspection) { i.Verdict = registry.TakeOutOfUse })
	forbidden("condemned before it was kept", condemned.ID, inspected(condemned.AnchorID, firstDay-30, func(i *registry.Inspection) { i.Verdict = registry.TakeOutOfUse }))
	rusty := record("B2", -10, func(i *registry.Inspection) { i.Observations = []registry.Observation{registry.SurfaceRust} })
	plain := inspected(rusty.AnchorID, firstDay-10, nil)
	plain.Replaces = &rusty.ID
	if _, _, err := h.RecordInspection(ctx, recorder, plain); err != nil {
		t.Errorf("a recorder corrects what condemned nothing: %v", err)
	}
}

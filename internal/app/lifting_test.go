package app_test

import (
	"testing"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// standsAs returns how an anchor stands.
func (h *house) standsAs(t *testing.T, anchor registry.Anchor) registry.Standing {
	t.Helper()
	story, err := h.AnchorStory(t.Context(), h.who, anchor.ID)
	if err != nil {
		t.Fatal(err)
	}
	return story.Assessment.Standing
}

// Design: time alone never allows use. Taking the record of the setting back
// does not either.
func TestRetractionFreesNoFreshAnchor(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	g := w.gluing(w.positions[0])
	g.Installations = append(g.Installations, w.installation(w.standing.ID))
	if _, _, err := w.RecordGluing(t.Context(), w.who, g); err != nil {
		t.Fatal(err)
	}
	anchor, first := g.Anchors[0], g.Installations[0]
	record := func() registry.Record {
		return registry.Record{ID: sample.ID(), AnchorID: anchor.ID, DoneOn: calendar.Exactly(firstDay), PersonID: &w.person.ID}
	}
	retract := func(what registry.Record) error {
		r := record()
		r.AnchorID = what.AnchorID
		_, _, err := w.RecordRetraction(t.Context(), w.who, registry.Retraction{Record: r, RetractsID: what.ID, Reason: "invented"})
		return err
	}
	violated(t, "the only setting", retract(first.Record), "retracts_id", fault.NotAllowed)
	if s := w.standsAs(t, anchor); s != registry.NotInUseYet {
		t.Errorf("after the refusal it stands %q, want %q", s, registry.NotInUseYet)
	}
	other := w.installation(anchor.ID)
	if _, _, err := w.RecordInstallation(t.Context(), w.who, other); err != nil {
		t.Fatal(err)
	}
	if err := retract(first.Record); err != nil {
		t.Errorf("one of two settings: %v, want it taken back", err)
	}
	if s := w.standsAs(t, anchor); s != registry.NotInUseYet {
		t.Errorf("with the other setting it stands %q, want %q", s, registry.NotInUseYet)
	}
	violated(t, "the last of two", retract(other.Record), "retracts_id", fault.NotAllowed)

	// One that stood before: the setting was of another anchor.
	old := add(t, w.house, registry.Anchor{PositionID: w.positions[1].ID, Form: registry.GlueIn, SetOn: calendar.Exactly(firstDay - 400)}, w.AddAnchor)
	wrong := w.installation(old.ID)
	if _, _, err := w.RecordInstallation(t.Context(), w.who, wrong); err != nil {
		t.Fatal(err)
	}
	if err := retract(wrong.Record); err != nil {
		t.Errorf("a setting long after it was set: %v, want it taken back", err)
	}
}

// Design: a person's "out of use" is lifted only by a person's record.
func TestOutOfUseIsLiftedByAPerson(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	inspect := func(edit func(*registry.Inspection)) error {
		i := inspected(w.standing.ID, w.AsOf(w.who), edit)
		_, _, err := w.RecordInspection(t.Context(), w.as(registry.RoleRecorder), i)
		return err
	}
	unnamed := func(i *registry.Inspection) { i.Level, i.Verdict, i.PersonID = registry.HandsOn, registry.Keep, nil }
	if err := inspect(unnamed); err != nil {
		t.Errorf("nothing to lift: %v, want it taken", err)
	}
	condemn := func(i *registry.Inspection) {
		i.Level, i.Verdict, i.PersonID = registry.HandsOn, registry.TakeOutOfUse, &w.person.ID
	}
	if err := inspect(condemn); err != nil {
		t.Fatal(err)
	}
	w.turnTo(firstDay + 1)
	violated(t, "nobody named", inspect(unnamed), "person_id", fault.Required)
	if s := w.standsAs(t, w.standing); s != registry.StandingOutOfUse {
		t.Errorf("after the refusal it stands %q, want %q", s, registry.StandingOutOfUse)
	}
	if err := inspect(func(i *registry.Inspection) { unnamed(i); i.Level = registry.Glance }); err != nil {
		t.Errorf("a glance lifts nothing: %v, want it taken", err)
	}
	if err := inspect(func(i *registry.Inspection) { unnamed(i); i.PersonID = &w.person.ID }); err != nil {
		t.Errorf("somebody named: %v, want it taken", err)
	}
	if s := w.standsAs(t, w.standing); s == registry.StandingOutOfUse {
		t.Error("it is out of use still")
	}
}

// A removal lies between the setting of its anchor and of the next.
func TestRemovalBetweenSettings(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	w.turnTo(firstDay + 30)
	remove := func(on calendar.Date, replaces *registry.Removal) (registry.Removal, error) {
		flush := quantity.Length(0)
		r := registry.Removal{
			Record: registry.Record{ID: sample.ID(), AnchorID: w.standing.ID, DoneOn: calendar.Exactly(on), PersonID: &w.person.ID},
			How:    registry.CutOff, Stub: &flush,
		}
		if replaces != nil {
			r.Replaces = &replaces.ID
		}
		stored, _, err := w.RecordRemoval(t.Context(), w.who, r)
		return stored, err
	}
	_, err := remove(firstDay-1, nil)
	violated(t, "the day before it was set", err, "done_on", fault.Order)
	out, err := remove(firstDay+5, nil)
	if err != nil {
		t.Fatalf("cut flush: %v, want it taken", err)
	}
	add(t, w.house, registry.Anchor{PositionID: w.standing.PositionID, SetOn: calendar.Exactly(firstDay + 10)}, w.AddAnchor)
	_, err = remove(firstDay+11, &out)
	violated(t, "corrected to after the next was set", err, "done_on", fault.Order)
	_, err = remove(firstDay-1, &out)
	violated(t, "corrected to before it was set", err, "done_on", fault.Order)
	if _, err = remove(firstDay+10, &out); err != nil {
		t.Errorf("corrected to the day the next was set: %v, want it taken", err)
	}
}

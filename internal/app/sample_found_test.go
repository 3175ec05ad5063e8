package app_test

import (
	"slices"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// A sample found soft puts every anchor of its session in doubt at once, and
// keeps first use from them; only a steward takes it back.
func TestSampleFoundSoft(t *testing.T) {
	t.Parallel()
	a := newAllowed(t)
	soft := func(s *registry.GluingSession) {
		s.SampleFound, s.SampleFoundOn, s.SampleFoundByID = registry.SampleSoft, firstDay, &a.other.ID
	}
	violated(t, "found by nobody", a.session(t, func(s *registry.GluingSession) { soft(s); s.SampleFoundByID = nil }), "sample_found_by_id", fault.Required)
	violated(t, "found none kept", a.session(t, func(s *registry.GluingSession) { soft(s); s.SampleKept = new(bool) }), "sample_found", fault.Mismatch)
	right := registry.Gluing{Session: a.g.Session, BatchText: a.g.BatchText}
	right.Session.ID, right.Session.Replaces = sample.ID(), &a.g.Session.ID
	soft(&right.Session)
	if _, _, err := a.RecordGluing(t.Context(), a.as(registry.RoleRecorder), right); err != nil {
		t.Fatal(err)
	}
	story, err := a.store.AnchorStory(t.Context(), a.who.GroupID, a.use.AnchorID) // as stored
	held := func(f registry.Finding) bool { return f.Rule == "kept-sample-soft" && f.Severity == registry.Suspect }
	if err != nil || !slices.ContainsFunc(story.Assessment.Findings, held) || story.Assessment.Standing != registry.StandingSuspect {
		t.Errorf("assessment = %+v, %v, want suspect for its sample", story.Assessment, err)
	}
	again := a.use
	again.ID = sample.ID()
	_, _, err = a.RecordFirstUse(t.Context(), a.who, again)
	violated(t, "first use", err, "sample", fault.Mismatch)
	hard := right
	hard.Session.ID, hard.Session.Replaces, hard.Session.SampleFound = sample.ID(), &right.Session.ID, registry.SampleHard
	if _, _, err := a.RecordGluing(t.Context(), a.as(registry.RoleRecorder), hard); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("taken back by a recorder: %v, want forbidden", err)
	}
}

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

// Who looked at the sample is a person named for it: a session that names nobody
// else can be cleared all the same, with words of its own.
func TestWhoLookedAtTheSampleIsNamed(t *testing.T) {
	t.Parallel()
	a := newAllowed(t)
	g := registry.Gluing{Session: a.g.Session, BatchText: a.g.BatchText}
	replace := func(found registry.SampleState, words string) error {
		was := g.Session.ID
		g.Session.ID, g.Session.Replaces, g.Session.Words = sample.ID(), &was, words
		g.Session.SetByID, g.Session.SupervisedByID, g.Session.CheckedByID = nil, nil, nil
		g.Session.SampleFound, g.Session.SampleFoundOn, g.Session.SampleFoundByID = found, firstDay, &a.other.ID
		_, _, err := a.RecordGluing(t.Context(), a.as(registry.RoleSteward), g)
		if err != nil {
			g.Session.ID = was
		}
		return err
	}
	if err := replace(registry.SampleSoft, "A nail goes in."); err != nil {
		t.Fatal(err)
	}
	violated(t, "cleared in the words of before", replace(registry.SampleHard, "A nail goes in."), "words", fault.Required)
	if err := replace(registry.SampleHard, "Pressed the wrong one."); err != nil {
		t.Errorf("cleared by who looked: %v", err)
	}
}

package app

import (
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Design: time alone never allows use. No order of retractions does either: an
// anchor that was glued here keeps a setting on record, and without a first use
// that counts it is not in use yet.
func TestNoOrderOfRetractionsFrees(t *testing.T) {
	t.Parallel()
	s := newSetting()
	again := s.facts.Installations[0]
	again.ID = uuid.New()
	bolt := registry.Installation{Record: again.Record, Form: registry.ThroughBolt}
	bolt.ID, bolt.Replaces = uuid.New(), &again.ID
	s.facts.Installations = append(s.facts.Installations, again, bolt)
	s.facts.FirstUses = []registry.FirstUse{s.use}
	out := registry.Removal{Record: registry.Record{ID: uuid.New(), DoneOn: calendar.Exactly(glued + 1)}}
	s.facts.Removals = []registry.Removal{out}
	states := 0
	s.retractAll(t, s.facts, 4, func(f *registry.Facts) {
		states++
		now := f.Current()
		if settingsHere(&now) == nil {
			t.Fatalf("no setting counts after %v", retractedIDs(f))
		}
		now.Anchor.Removed = false
		a := assess.Anchor(now, s.rules, glued+3)
		if len(now.FirstUses) == 0 && a.Standing.Rank() < registry.NotInUseYet.Rank() {
			t.Fatalf("it stands %q without a first use after %v", a.Standing, retractedIDs(f))
		}
	})
	if states < 50 {
		t.Errorf("%d states seen, want many", states)
	}
}

// retractAll takes back whatever is admitted, in every order, up to a depth.
func (s *setting) retractAll(t *testing.T, f registry.Facts, depth int, seen func(*registry.Facts)) {
	t.Helper()
	seen(&f)
	if depth == 0 {
		return
	}
	for _, id := range recordIDs(&f) {
		at := &scene{facts: &f, rules: s.rules, asOf: glued + 3, now: (glued + 3).Time(), zone: time.UTC}
		r := registry.Retraction{Record: registry.Record{ID: uuid.New(), DoneOn: calendar.Exactly(glued + 2)}, RetractsID: id}
		if admitRetraction(at, &r) != nil {
			continue
		}
		next := f
		next.Retractions = append(slices.Clone(f.Retractions), r)
		current := next.Current()
		next.Anchor.Removed = len(current.Removals) > 0
		s.retractAll(t, next, depth-1, seen)
	}
}

func retractedIDs(f *registry.Facts) []uuid.UUID {
	var out []uuid.UUID
	for _, r := range f.Retractions {
		out = append(out, r.RetractsID)
	}
	return out
}

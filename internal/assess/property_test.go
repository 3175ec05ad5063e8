package assess_test

import (
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

func anchor(f registry.Facts, asOf calendar.Date) registry.Assessment {
	return assess.Anchor(f, houserules.Default(), asOf)
}

func TestOrderOfFactsDoesNotMatter(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, asOf := anyFacts(t), anyDay(t)
		g := f
		g.Installations = rapid.Permutation(f.Installations).Draw(t, "installations reordered")
		g.Sessions = rapid.Permutation(f.Sessions).Draw(t, "sessions reordered")
		g.Cures = rapid.Permutation(f.Cures).Draw(t, "cures reordered")
		g.Sheets = rapid.Permutation(f.Sheets).Draw(t, "sheets reordered")
		g.FirstUses = rapid.Permutation(f.FirstUses).Draw(t, "first uses reordered")
		g.Inspections = rapid.Permutation(f.Inspections).Draw(t, "inspections reordered")
		g.Fittings = rapid.Permutation(f.Fittings).Draw(t, "fittings reordered")
		g.Environments = rapid.Permutation(f.Environments).Draw(t, "environments reordered")
		g.Events = rapid.Permutation(f.Events).Draw(t, "events reordered")
		if d := cmp.Diff(anchor(f, asOf), anchor(g, asOf)); d != "" {
			t.Fatalf("reordered (-want +got):\n%s", d)
		}
	})
}

// every day up to ValidUntil gives the same answer: all days for two years and
// some, then one in twenty-nine, and the last ones.
func TestValidUntilIsHonest(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, asOf := anyFacts(t), anyDay(t)
		want := anchor(f, asOf)
		last := want.ValidUntil
		if last.IsZero() {
			last = asOf.AddYears(80)
		} else if last < asOf {
			t.Fatalf("as of %v valid until %v", asOf, last)
		}
		for d := asOf; d <= last; d++ {
			if d-asOf > 800 && d < last-3 && (d-asOf)%29 != 0 {
				continue
			}
			got := anchor(f, d)
			if got.ValidUntil != want.ValidUntil {
				t.Fatalf("as of %v valid until %v, as of %v until %v", asOf, last, d, got.ValidUntil)
			}
			got.AsOf = asOf
			if !reflect.DeepEqual(want, got) { // cmp is slow for so many days
				t.Fatalf("as of %v, valid until %v, but on %v (-want +got):\n%s", asOf, last, d, cmp.Diff(want, got))
			}
		}
	})
}

func TestAlwaysTrue(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, asOf := anyFacts(t), anyDay(t)
		a := anchor(f, asOf)
		switch {
		case a.DueOn.IsZero() || len(a.Candidates) == 0:
			t.Fatalf("an anchor in the rock has no date: %+v", a)
		case a.SoonestOn != a.Candidates[0].On || a.SoonestOn > a.DueOn:
			t.Fatalf("soonest %v, due %v, candidates %+v", a.SoonestOn, a.DueOn, a.Candidates)
		case a.Reason.On != a.DueOn:
			t.Fatalf("due %v for a reason of %v", a.DueOn, a.Reason.On)
		case (a.DueState == registry.Overdue) != (a.DueOn < asOf):
			t.Fatalf("due %v, as of %v: %v", a.DueOn, asOf, a.DueState)
		}
		for i := 1; i < len(a.Findings); i++ {
			if a.Findings[i-1].Weighs().Rank() < a.Findings[i].Weighs().Rank() {
				t.Fatalf("findings %+v, want the worst first", a.Findings)
			}
		}
	})
}

func TestLessOrdersTotally(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := anchor(anyFacts(t), anyDay(t)), anchor(anyFacts(t), anyDay(t)), anchor(anyFacts(t), anyDay(t))
		if assess.Less(a, a) || a.AnchorID != b.AnchorID && assess.Less(a, b) == assess.Less(b, a) {
			t.Fatalf("Less(a, b) and Less(b, a) agree for\n%+v\n%+v", a, b)
		}
		if assess.Less(a, b) && assess.Less(b, c) && !assess.Less(a, c) {
			t.Fatal("a before b before c, but not a before c")
		}
	})
}

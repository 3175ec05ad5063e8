package assess_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

func anyMaintenance(t *rapid.T) registry.Maintenance {
	return registry.Maintenance{
		Record: anyRecord(t, calendar.Exactly(entered+calendar.Date(rapid.IntRange(-4000, 2000).Draw(t, "maintained on")))),
		Done:   rapid.SliceOfNDistinct(rapid.SampledFrom(registry.Upkeeps()), 1, 3, rapid.ID).Draw(t, "done"),
	}
}

func anyMarking(t *rapid.T) registry.Marking {
	return registry.Marking{
		Record: anyRecord(t, calendar.Exactly(entered)),
		How:    []registry.MarkingHow{anyOf(t, "how", registry.MarkingHows())},
	}
}

// A marking keeps people off; it changes nothing of how the anchor stands.
func TestMarkingChangesOnlyTheBand(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, asOf := anyFacts(t), anyDay(t)
		before := anchor(f, asOf)
		f.Markings = []registry.Marking{anyMarking(t)}
		after := anchor(f, asOf)
		if d := cmp.Diff(before, after, cmpopts.IgnoreFields(registry.Assessment{}, "Band", "BandReason")); d != "" {
			t.Fatalf("marked (-want +got):\n%s", d)
		}
		if before.BandReason == assess.ReasonOutOfUse {
			if after.Band != registry.BandThisYear || after.BandReason != assess.ReasonOutOfUseMarked {
				t.Fatalf("out of use and marked: %s, %s", after.Band, after.BandReason)
			}
		} else if before.Band != after.Band || before.BandReason != after.BandReason {
			t.Fatalf("marked: %s, %s, want %s, %s", after.Band, after.BandReason, before.Band, before.BandReason)
		}
	})
}

// What puts an anchor out of use, and what an inspector decided, no maintenance
// lifts; nor does it bring anything new against the anchor.
func TestMaintenanceClearsNothingThatAPersonCondemned(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, asOf := anyFacts(t), anyDay(t)
		before := anchor(f, asOf)
		f.Maintenance = rapid.SliceOfN(rapid.Custom(anyMaintenance), 1, 3).Draw(t, "maintenance")
		after := anchor(f, asOf)
		if d := cmp.Diff(condemning(before), condemning(after)); d != "" {
			t.Fatalf("maintained (-want +got):\n%s", d)
		}
		if (before.Standing == registry.StandingOutOfUse) != (after.Standing == registry.StandingOutOfUse) {
			t.Fatalf("standing %s before, %s after", before.Standing, after.Standing)
		}
		if len(after.Findings) > len(before.Findings) {
			t.Fatalf("maintained: %d findings, %d before", len(after.Findings), len(before.Findings))
		}
	})
}

// condemning lists what puts an anchor out of use and what inspectors decided.
func condemning(a registry.Assessment) []registry.Finding {
	var out []registry.Finding
	for _, f := range a.Findings {
		verdict := f.Rule == "verdict-watch" || f.Rule == "verdict-repair" || f.Rule == "verdict-take-out-of-use"
		if f.Severity == registry.OutOfUse || verdict {
			out = append(out, f)
		}
	}
	return out
}

// Bands of out of use: judgement of this project (house rules).
func TestLiftedMarking(t *testing.T) {
	t.Parallel()
	f := sample.Facts()
	f.Inspections[0].Verdict = registry.TakeOutOfUse
	band := func(edit func(*registry.Facts)) registry.Band {
		g := f
		edit(&g)
		return anchor(g, sample.Day).Band
	}
	tape := sample.Marking(f.Anchor)
	lift := sample.Marking(f.Anchor, func(m *registry.Marking) { m.How, m.Lifts = nil, &tape.ID })
	tag := sample.Marking(f.Anchor)
	taken := sample.Retraction(f.Anchor, sample.Person(), lift.ID)
	for _, test := range []struct {
		name string
		edit func(*registry.Facts)
		want registry.Band
	}{
		{"unmarked", func(*registry.Facts) {}, registry.BandNow},
		{"marked", func(f *registry.Facts) { f.Markings = []registry.Marking{tape} }, registry.BandThisYear},
		{"lifted", func(f *registry.Facts) { f.Markings = []registry.Marking{tape, lift} }, registry.BandNow},
		{"lifted, order aside", func(f *registry.Facts) { f.Markings = []registry.Marking{lift, tape} }, registry.BandNow},
		{"one of two lifted", func(f *registry.Facts) { f.Markings = []registry.Marking{tape, lift, tag} }, registry.BandThisYear},
		{"the lifting taken back", func(f *registry.Facts) {
			f.Markings, f.Retractions = []registry.Marking{tape, lift}, []registry.Retraction{taken}
		}, registry.BandThisYear},
	} {
		if got := band(test.edit); got != test.want {
			t.Errorf("%s: %s, want %s", test.name, got, test.want)
		}
	}
}

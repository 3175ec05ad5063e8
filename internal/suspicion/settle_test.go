package suspicion_test

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/registry"
	"rockledger/internal/suspicion"
)

// settles adds a settlement of a rule with values.
func settles(name, rule, until string, values ...registry.Value) func(*registry.Facts) {
	s := registry.Settlement{Rule: rule, Values: values}
	s.ID, s.RecordedAt = id(name), time.Unix(int64(len(name)), 0)
	if until != "" {
		s.Until = day(until)
	}
	return func(f *registry.Facts) { f.Settlements = append(f.Settlements, s) }
}

// settled settles the finding of a rule that stands, as a person would.
func settled(t *testing.T, rule string) func(*registry.Facts) {
	t.Helper()
	return func(f *registry.Facts) {
		for _, finding := range hold(*f).Findings {
			if finding.Rule == rule && finding.SettledBy == nil {
				settles("settles "+rule, rule, "", finding.Values...)(f)
				return
			}
		}
		t.Fatalf("no finding of %s to settle in %+v", rule, hold(*f).Findings)
	}
}

// open lists what weighs something: rule, severity, and the name of the value
// asked for.
func open(f registry.Facts, value string) []string {
	var out []string
	for _, finding := range hold(f).Findings {
		if w := finding.Weighs(); w != "" {
			out = append(out, finding.Rule+" "+string(w)+" "+finding.Values.Text(value))
		}
	}
	return out
}

// A person's settlement answers a finding of those values and no other
// (design: settlement).
func TestSettlement(t *testing.T) {
	t.Parallel()
	seen := registry.Values{
		{Name: "seen_on", Text: "2025-05-02"},
		{Name: "seen_level", Text: "hands-on"},
		{Name: "record_id", Text: id("2025-05-02hands-on").String()},
	}
	other := slices.Clone(seen)
	other[2].Text = id("another record").String()
	tests := []struct {
		name   string
		settle func(*registry.Facts)
		want   string // name of the settlement; blank: none
	}{
		{"same values", settles("a", "rust", "", seen...), "a"},
		{"on its last day", settles("a", "rust", "2026-06-01", seen...), "a"},
		{"over", settles("a", "rust", "2026-05-31", seen...), ""},
		{"other values", settles("a", "rust", "", seen[0]), ""},
		{"another record of that day and level", settles("a", "rust", "", other...), ""},
		{"another rule", settles("a", "surface-rust", "", seen...), ""},
		{"the latest of two", func(f *registry.Facts) {
			settles("bb", "rust", "", seen...)(f)
			settles("a", "rust", "", seen...)(f)
		}, "bb"},
	}
	for _, test := range tests {
		f := recorded(here(registry.Rust), test.settle)
		got, want := hold(f).Findings[0].SettledBy, uuid.Nil
		if test.want != "" {
			want = id(test.want)
		}
		if (got == nil) != (want == uuid.Nil) || got != nil && *got != want {
			t.Errorf("%s: settled by %v, want %v", test.name, got, want)
		}
	}
}

func TestSettledFindingsComeLast(t *testing.T) {
	t.Parallel()
	f := recorded(here(registry.CrackedMetal), settled(t, "cracked-metal"),
		saw("2025-05-02", registry.Recorded, registry.HandsOn, registry.Rust))
	got := hold(f).Findings
	if len(got) != 2 || got[0].Rule != "rust" || got[1].Rule != "cracked-metal" || got[1].Weighs() != "" {
		t.Errorf("Findings = %+v, want rust, then what was settled", got)
	}
}

// Two inspectors condemn an anchor on one day; a settlement answers one.
func TestASettlementAnswersOneRecordOnly(t *testing.T) {
	t.Parallel()
	condemned := decided("2025-01-01", registry.TakeOutOfUse)
	f := recorded(condemned, settled(t, "verdict-take-out-of-use"))
	if got := open(f, "seen_on"); len(got) > 0 {
		t.Errorf("settled: %v, want nothing open", got)
	}
	condemned(&f)
	f.Inspections[1].ID = id("a second inspector")
	want := []string{"verdict-take-out-of-use out-of-use " + id("a second inspector").String()}
	if d := cmp.Diff(want, open(f, "record_id")); d != "" {
		t.Errorf("condemned again (-want +got):\n%s", d)
	}
	if got := hold(f).Findings; len(got) != 2 {
		t.Errorf("Findings = %+v, want what is settled too", got)
	}
}

func TestASettlementHidesNothingOlder(t *testing.T) {
	t.Parallel()
	f := recorded(
		saw("2024-05-02", registry.Recorded, registry.HandsOn, registry.CrackedMetal),
		saw("2025-05-02", registry.Recorded, registry.HandsOn, registry.CrackedMetal))
	want := []string{"cracked-metal out-of-use 2025-05-02"}
	for range f.Inspections {
		if d := cmp.Diff(want, open(f, "seen_on")); d != "" {
			t.Errorf("open (-want +got):\n%s", d)
		}
		settled(t, "cracked-metal")(&f)
		want = []string{"cracked-metal out-of-use 2024-05-02"}
	}
	if got := hold(f).Findings; len(got) != 2 || len(open(f, "")) > 0 {
		t.Errorf("Findings = %+v, want both settled and shown", got)
	}
}

func TestSettledWearShowsTheNextReading(t *testing.T) {
	t.Parallel()
	f := worn(7.5, again("2026-05-02", 8.4))
	if d := cmp.Diff([]string{"worn-out out-of-use 7.5"}, open(f, "left_mm")); d != "" {
		t.Errorf("open (-want +got):\n%s", d)
	}
	settled(t, "worn-out")(&f)
	if d := cmp.Diff([]string{"worn-far suspect 8.4"}, open(f, "left_mm")); d != "" {
		t.Errorf("the thinnest settled, open (-want +got):\n%s", d)
	}
}

func TestASecondMissingRingIsNotBornSettled(t *testing.T) {
	t.Parallel()
	f := ring(is(registry.Missing))
	settled(t, "fitting-missing")(&f)
	f.Fittings = append(f.Fittings, f.Fittings[0])
	f.Fittings[1].ID = id("other ring")
	if d := cmp.Diff([]string{"fitting-missing watch " + id("other ring").String()}, open(f, "fitting_id")); d != "" {
		t.Errorf("open (-want +got):\n%s", d)
	}
	if got := hold(f).Findings; len(got) != 2 {
		t.Errorf("Findings = %+v, want one of each ring", got)
	}
}

func TestASettledEventIsNamed(t *testing.T) {
	t.Parallel()
	f := rockfall("2026-05-02")
	settled(t, "event-outstanding")(&f)
	f.Events = append(f.Events, registry.Event{ID: id("fire"), Kind: registry.Fire, HappenedOn: day("2026-05-03")})
	if d := cmp.Diff([]uuid.UUID{id("event")}, hold(f).Settled); d != "" {
		t.Errorf("Settled (-want +got):\n%s", d)
	}
	f.Events = append(f.Events, f.Events[0])
	f.Events[2].ID = id("a second rockfall that day")
	if d := cmp.Diff([]uuid.UUID{id("event")}, hold(f).Settled); d != "" {
		t.Errorf("Settled after a second rockfall (-want +got):\n%s", d)
	}
	f.Events[0].InspectBy = day("2026-05-20")
	if got := hold(f).Settled; len(got) > 0 {
		t.Errorf("Settled = %v after the event was given a date, want none", got)
	}
}

func TestASettledNoticeIsNoOther(t *testing.T) {
	t.Parallel()
	f := recall("2026-05-02")
	settled(t, "notice-outstanding")(&f)
	f.Notices = append(f.Notices, f.Notices[0])
	f.Notices[1].ID = id("the same title again")
	if d := cmp.Diff([]uuid.UUID{id("notice")}, hold(f).Settled); d != "" {
		t.Errorf("Settled (-want +got):\n%s", d)
	}
	f.Notices[0].InspectBy++
	if got := hold(f).Settled; len(got) > 0 {
		t.Errorf("Settled = %v after its date moved, want none", got)
	}
}

func TestNoSettlementAllowsFirstUseOrLocates(t *testing.T) {
	t.Parallel()
	f := recorded(missed("2025-01-01"), func(f *registry.Facts) { f.FirstUses = nil },
		settled(t, "first-use-not-allowed"), settled(t, "not-located"))
	got := hold(f)
	for _, finding := range got.Findings {
		if finding.SettledBy != nil || suspicion.Settleable(finding.Rule) {
			t.Errorf("%s is settled by %v, settleable: %v; want neither", finding.Rule, finding.SettledBy, suspicion.Settleable(finding.Rule))
		}
	}
	if len(got.Forced) != 2 {
		t.Errorf("Forced = %v, want both", got.Forced)
	}
	if !suspicion.Settleable("cracked-metal") || !suspicion.Settleable("no-such-rule") {
		t.Error("Settleable: want true for a rule that forces no standing, and for none")
	}
}

// That the form is said to be another lifts no lost bond, nor does a later
// verdict: judgement of this project.
func TestAnotherFormDoesNotAnswerALostBond(t *testing.T) {
	t.Parallel()
	for _, seen := range []registry.Observation{registry.AnchorTurns, registry.Spins} {
		f := recorded(here(seen), form(registry.ThroughBolt), clean)
		if got := open(f, "seen_on"); len(got) != 1 || hold(f).Findings[0].Severity != registry.Suspect {
			t.Errorf("%s, now a through-bolt and kept: %v, want suspect", seen, got)
		}
	}
}

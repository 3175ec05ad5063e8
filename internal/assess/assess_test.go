package assess_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// runner returns a stainless glue-in, imported on 1 March 2024, set on 2 June
// 2010, a runner: its interval is 12 months by its metal.
func runner(edit ...func(*registry.Facts)) registry.Facts {
	f := registry.Facts{
		Anchor: registry.Anchor{
			ID: uuid.NewSHA1(uuid.Nil, []byte("anchor")), Form: registry.SingleShank, Metal: metal.NewSet("1.4404"),
			SetOn: calendar.Exactly(day("2010-06-02")), Origin: registry.Imported, EnteredOn: entered,
		},
		Position: registry.Position{Role: registry.Runner},
		Site:     registry.Site{Kind: registry.Crag},
	}
	for _, e := range edit {
		e(&f)
	}
	return f
}

func role(r registry.PositionRole) func(*registry.Facts) {
	return func(f *registry.Facts) { f.Position.Role = r }
}

func alone(f *registry.Facts) {
	no := false
	f.Position.BackedUp = &no
}

func seen(on string, origin registry.Origin, level registry.Level, what ...registry.Observation) func(*registry.Facts) {
	return func(f *registry.Facts) {
		f.Inspections = append(f.Inspections, registry.Inspection{
			Record: registry.Record{
				ID: uuid.NewSHA1(uuid.Nil, []byte(on)), DoneOn: calendar.Exactly(day(on)), Origin: origin, RecordedAt: day(on).Time(),
			},
			Level: level, Observations: what, Ticked: origin == registry.Recorded,
		})
	}
}

func here(on string, what ...registry.Observation) func(*registry.Facts) {
	return seen(on, registry.Recorded, registry.HandsOn, what...)
}

func listed(on string, what ...registry.Observation) func(*registry.Facts) {
	return seen(on, registry.Imported, registry.Glance, what...)
}

func missed(f *registry.Facts) {
	no := false
	f.Inspections[len(f.Inspections)-1].Found = &no
}

func flooded(f *registry.Facts) {
	f.Events = append(f.Events, registry.Event{Kind: registry.Flood, HappenedOn: day("2024-05-01")})
}

func removed(f *registry.Facts) { f.Anchor.Removed = true }

func glued(f *registry.Facts) {
	f.Installations = append(f.Installations, registry.Installation{
		Record: registry.Record{DoneOn: f.Anchor.SetOn, Origin: registry.Recorded},
	})
}

// Standings, bands and days: house rules, default of this project; dates by
// hand.
func TestAnchor(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name       string
		facts      registry.Facts
		asOf       string
		standing   registry.Standing
		due        string
		state      registry.DueState
		band       registry.Band
		reason     string
		validUntil string
	}{
		{"awaits its first round", runner(), "2024-03-01", registry.NoProblem, "2025-03-01", registry.AwaitingFirstRound, registry.BandWhenPassing, assess.ReasonNothing, "2025-03-01"},
		{"on the last day of the round too", runner(), "2025-03-01", registry.NoProblem, "2025-03-01", registry.AwaitingFirstRound, registry.BandWhenPassing, assess.ReasonNothing, "2025-03-01"},
		{"overdue after it", runner(), "2025-03-02", registry.NoProblem, "2025-03-01", registry.Overdue, registry.BandThisYear, assess.ReasonOverdue, "2025-08-30"},
		{"by half its interval: 182 of 365 days", runner(), "2025-08-30", registry.NoProblem, "2025-03-01", registry.Overdue, registry.BandThisYear, assess.ReasonOverdue, "2025-08-30"},
		{"and by more; nothing changes after that", runner(), "2025-08-31", registry.NoProblem, "2025-03-01", registry.Overdue, registry.BandThisSeason, assess.ReasonLongOverdue, ""},
		{"not due", runner(here("2024-05-01")), "2024-06-01", registry.NoProblem, "2025-05-01", registry.NotDue, registry.BandWhenPassing, assess.ReasonNothing, "2025-03-01"},
		{"due soon sixty days before", runner(here("2024-05-01")), "2025-03-02", registry.NoProblem, "2025-05-01", registry.DueSoon, registry.BandWhenPassing, assess.ReasonNothing, "2025-05-01"},
		{"due today is not overdue", runner(here("2024-05-01")), "2025-05-01", registry.NoProblem, "2025-05-01", registry.DueSoon, registry.BandWhenPassing, assess.ReasonNothing, "2025-05-01"},

		{"an event's thirty days: by half of them", runner(here("2024-04-01"), flooded), "2024-06-15", registry.StandingWatch, "2024-05-31", registry.Overdue, registry.BandThisYear, assess.ReasonOverdue, "2024-06-15"},
		{"and by more", runner(here("2024-04-01"), flooded), "2024-06-16", registry.StandingWatch, "2024-05-31", registry.Overdue, registry.BandThisSeason, assess.ReasonLongOverdue, ""},

		{"a list says it spins", runner(listed("2020-01-01", registry.Spins)), "2024-03-10", registry.StandingSuspect, "2024-06-01", registry.NotDue, registry.BandThisSeason, assess.ReasonSuspect, "2024-04-01"},
		{"on a belay", runner(role(registry.Belay), listed("2020-01-01", registry.Spins)), "2024-03-10", registry.StandingSuspect, "2024-06-01", registry.NotDue, registry.BandNow, assess.ReasonSuspectBelay, "2024-04-01"},
		{"on a main hang", runner(role(registry.MainHang), listed("2020-01-01", registry.Spins)), "2024-03-10", registry.StandingSuspect, "2024-06-01", registry.NotDue, registry.BandNow, assess.ReasonSuspectMainHang, "2024-04-01"},
		{"with no back-up", runner(alone, listed("2020-01-01", registry.Spins)), "2024-03-10", registry.StandingSuspect, "2024-06-01", registry.NotDue, registry.BandNow, assess.ReasonSuspectSinglePoint, "2024-04-01"},
		{"rusty by the list", runner(listed("2020-01-01", registry.Rust)), "2024-03-10", registry.StandingWatch, "2025-03-01", registry.AwaitingFirstRound, registry.BandThisYear, assess.ReasonWatch, "2025-03-01"},
		{"bond lost", runner(here("2024-05-01", registry.AnchorTurns)), "2024-06-01", registry.StandingOutOfUse, "2025-05-01", registry.NotDue, registry.BandNow, assess.ReasonOutOfUse, "2025-03-01"},
		{"first use not allowed", runner(glued), "2024-06-01", registry.NotInUseYet, "2025-03-01", registry.AwaitingFirstRound, registry.BandWhenPassing, assess.ReasonNotInUseYet, "2025-03-01"},
		{"worse than suspect", runner(glued, listed("2020-01-01", registry.Spins)), "2024-03-10", registry.NotInUseYet, "2024-06-01", registry.NotDue, registry.BandThisSeason, assess.ReasonSuspect, "2024-04-01"},
		{"as urgent as suspect on a belay", runner(glued, role(registry.Belay), listed("2020-01-01", registry.Spins)), "2024-03-10", registry.NotInUseYet, "2024-06-01", registry.NotDue, registry.BandNow, assess.ReasonSuspectBelay, "2024-04-01"},
		{"but not than out of use", runner(glued, here("2024-05-01", registry.CrackedMetal)), "2024-06-01", registry.StandingOutOfUse, "2025-05-01", registry.NotDue, registry.BandNow, assess.ReasonOutOfUse, "2025-03-01"},
		{"not located", runner(listed("2020-01-01"), missed), "2024-06-01", registry.StandingNotLocated, "2025-03-01", registry.AwaitingFirstRound, registry.BandWhenPassing, assess.ReasonNothing, "2025-03-01"},
		{"removed", runner(removed, listed("2020-01-01", registry.Spins)), "2024-06-01", registry.StandingRemoved, "", "", registry.BandWhenPassing, assess.ReasonRemoved, ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			a := anchor(test.facts, day(test.asOf))
			got := []any{a.Standing, a.DueOn.String(), a.DueState, a.Band, a.BandReason, a.ValidUntil.String()}
			want := []any{test.standing, test.due, test.state, test.band, test.reason, test.validUntil}
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("standing, due, state, band, reason, valid until (-want +got):\n%s", d)
			}
		})
	}
}

func TestAnAgeBandEndsTheAnswer(t *testing.T) {
	t.Parallel()
	f := runner(here("2029-06-01"), func(f *registry.Facts) { f.Anchor.Metal = metal.NewSet("titanium-2") })
	f.Site.Rock, f.Traffic = registry.RockHard, registry.TrafficSeldom
	f.Installations = []registry.Installation{{RockSound: registry.Ringing}}
	before, after := anchor(f, day("2030-06-01")), anchor(f, day("2030-06-02"))
	if got := before.ValidUntil.String(); got != "2030-06-01" {
		t.Errorf("ValidUntil = %v, want 2030-06-01, the day before it is twenty", got)
	}
	if before.DueOn != day("2034-06-01") || after.DueOn != day("2032-06-01") || after.Reason.Factor != "age" {
		t.Errorf("due %v and then %v by %v, want 2034-06-01 and 2032-06-01 by age", before.DueOn, after.DueOn, after.Reason.Factor)
	}
}

func TestARecordReplacedCountsNoMore(t *testing.T) {
	t.Parallel()
	f := runner(here("2024-05-01", registry.CrackedMetal), here("2024-05-02"))
	wrong := f.Inspections[0].ID
	f.Inspections[1].Replaces = &wrong
	if got := anchor(f, day("2024-06-01")); got.Standing != registry.NoProblem {
		t.Errorf("Standing = %v, want %v", got.Standing, registry.NoProblem)
	}
	if len(f.Inspections) != 2 {
		t.Error("the facts were modified")
	}
}

func TestConsequence(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		facts registry.Facts
		want  registry.Consequence
	}{
		{"runner", runner(), registry.OneOfMany},
		{"runner with no back-up", runner(alone), registry.SinglePoint},
		{"belay", runner(role(registry.Belay)), registry.InAssembly},
		{"role not known", runner(role("")), registry.InAssembly},
		{"loaded with others", runner(func(f *registry.Facts) { f.InAssembly = true }), registry.InAssembly},
	}
	for _, test := range tests {
		if got := anchor(test.facts, entered).Consequence; got != test.want {
			t.Errorf("%s: consequence = %v, want %v", test.name, got, test.want)
		}
	}
}

func TestLess(t *testing.T) {
	t.Parallel()
	ordered := []registry.Assessment{
		{Band: registry.BandNow, Consequence: registry.OneOfMany, SoonestOn: 9, OldestOn: 9},
		{Band: registry.BandThisSeason, Consequence: registry.SinglePoint, SoonestOn: 9, OldestOn: 9},
		{Band: registry.BandThisSeason, Consequence: registry.InAssembly, SoonestOn: 7, OldestOn: 9},
		{Band: registry.BandThisSeason, Consequence: registry.InAssembly, SoonestOn: 8, OldestOn: 0}, // not known: oldest
		{Band: registry.BandThisSeason, Consequence: registry.InAssembly, SoonestOn: 8, OldestOn: 1},
		{Band: registry.BandThisSeason, Consequence: registry.InAssembly, SoonestOn: 8, OldestOn: 1, AnchorID: uuid.UUID{1}},
		{Band: registry.BandThisYear},
		{Band: registry.BandWhenPassing},
	}
	if !slices.IsSortedFunc(ordered, func(a, b registry.Assessment) int {
		if assess.Less(b, a) {
			return 1
		}
		return -1
	}) {
		t.Error("Less does not keep the order of urgency")
	}
}

func TestVersions(t *testing.T) {
	t.Parallel()
	r := houserules.Default()
	r.Version = 7
	a := assess.Anchor(runner(), r, entered)
	if a.Engine != assess.Engine || a.RulesVersion != 7 || a.AsOf != entered || a.OldestOn != day("2010-06-02") {
		t.Errorf("Anchor = engine %v, rules %v, as of %v, oldest %v", a.Engine, a.RulesVersion, a.AsOf, a.OldestOn)
	}
}

func BenchmarkAnchor(b *testing.B) {
	f := runner(listed("2020-01-01", registry.Rust), here("2024-05-01"), here("2025-05-01", registry.HollowSound), glued)
	r := houserules.Default()
	b.ReportAllocs()
	for b.Loop() {
		assess.Anchor(f, r, entered+1000)
	}
}

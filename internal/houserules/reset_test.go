package houserules_test

import (
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

var rules = houserules.Default()

// inspection returns a hands-on inspection recorded here, found and ticked.
func inspection(on string, edit ...func(*registry.Inspection)) registry.Inspection {
	i := registry.Inspection{
		Record: registry.Record{
			ID: uuid.NewSHA1(uuid.Nil, []byte(on)), DoneOn: calendar.Exactly(day(on)), Origin: registry.Recorded,
			RecordedAt: day(on).Time(),
		},
		Level: registry.HandsOn, Ticked: true,
	}
	for _, e := range edit {
		e(&i)
	}
	return i
}

func level(l registry.Level) func(*registry.Inspection) {
	return func(i *registry.Inspection) { i.Level = l }
}

func gives(v registry.Verdict) func(*registry.Inspection) {
	return func(i *registry.Inspection) { i.Verdict = v }
}

func sees(o ...registry.Observation) func(*registry.Inspection) {
	return func(i *registry.Inspection) { i.Observations = o }
}

func imported(i *registry.Inspection) {
	i.Origin, i.Level, i.Ticked, i.RecordedAt = registry.Imported, registry.Glance, false, day("2026-02-01").Time()
}

// The table of the house rules: default of this project.
func TestCounts(t *testing.T) {
	t.Parallel()
	notFound := false
	tests := []struct {
		name  string
		i     registry.Inspection
		clock houserules.Clock
		want  bool
	}{
		{"a glance never resets hands-on", inspection("2026-01-01", level(registry.Glance)), houserules.ClockInterval, false},
		{"hands-on does", inspection("2026-01-01"), houserules.ClockInterval, true},
		{"full does", inspection("2026-01-01", level(registry.Full)), houserules.ClockInterval, true},
		{"a glance is no first inspection", inspection("2026-01-01", level(registry.Glance)), houserules.ClockFirstInspection, false},
		{"hands-on is", inspection("2026-01-01"), houserules.ClockFirstInspection, true},
		{"a glance resets no verdict", inspection("2026-01-01", level(registry.Glance)), houserules.ClockVerdict, false},
		{"a glance sees", inspection("2026-01-01", level(registry.Glance)), houserules.ClockSeen, true},
		{"an imported state is a glance", inspection("2026-01-01", imported, level(registry.Full)), houserules.ClockInterval, false},
		{"an imported state sees", inspection("2026-01-01", imported), houserules.ClockSeen, true},
		{"not ticked", inspection("2026-01-01", func(i *registry.Inspection) { i.Ticked = false }), houserules.ClockInterval, false},
		{"not ticked sees nothing", inspection("2026-01-01", func(i *registry.Inspection) { i.Ticked = false }), houserules.ClockSeen, false},
		{"not found", inspection("2026-01-01", func(i *registry.Inspection) { i.Found = &notFound }), houserules.ClockSeen, false},
		{"day not known", inspection("2026-01-01", func(i *registry.Inspection) { i.DoneOn = calendar.Span{} }), houserules.ClockInterval, false},
		{"no level", inspection("2026-01-01", level("")), houserules.ClockSeen, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			if got := rules.Counts(test.clock, &test.i); got != test.want {
				t.Errorf("Counts(%v) = %v, want %v", test.clock, got, test.want)
			}
		})
	}
}

func TestVerdictStands(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name          string
		first, second registry.Inspection
		want          bool
	}{
		{"lifted by the same level", inspection("2025-01-01", gives(registry.KeepWatching)), inspection("2026-01-01", gives(registry.Keep)), false},
		{"not without a verdict", inspection("2025-01-01", gives(registry.KeepWatching)), inspection("2026-01-01"), true},
		{"repair not without a verdict", inspection("2025-01-01", gives(registry.Repair)), inspection("2026-01-01", sees(registry.Rust)), true},
		{"by the same verdict, which stands itself", inspection("2025-01-01", gives(registry.Repair)), inspection("2026-01-01", gives(registry.Repair)), false},
		{"not by a lower one", inspection("2025-01-01", gives(registry.KeepWatching), level(registry.Full)), inspection("2026-01-01", gives(registry.Keep)), true},
		{"a glance not even by a glance", inspection("2025-01-01", gives(registry.Repair), level(registry.Glance)), inspection("2026-01-01", gives(registry.Keep), level(registry.Glance)), true},
		{"not by an earlier one", inspection("2025-01-01", gives(registry.Repair)), inspection("2024-12-31", gives(registry.Keep)), true},
		{"same day, recorded later", inspection("2025-01-01", gives(registry.Repair)), inspection("2025-01-01", gives(registry.Keep), later), false},
		{"same day, recorded at once", inspection("2025-01-01", gives(registry.Repair)), inspection("2025-01-01", gives(registry.Keep)), true},
		{"not while it may have been before", inspection("2025-01-01", gives(registry.Repair), within("2025-01-01", "2025-12-31")), inspection("2025-06-01", gives(registry.Keep)), true},
		{"out of use not without a verdict", inspection("2025-01-01", gives(registry.TakeOutOfUse)), inspection("2026-01-01"), true},
		{"out of use not by the same verdict", inspection("2025-01-01", gives(registry.TakeOutOfUse)), inspection("2026-01-01", gives(registry.TakeOutOfUse)), true},
		{"out of use by another verdict", inspection("2025-01-01", gives(registry.TakeOutOfUse)), inspection("2026-01-01", gives(registry.Keep)), false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			f := registry.Facts{Inspections: []registry.Inspection{test.second, test.first}}
			if got := rules.VerdictStands(&f, &f.Inspections[1]); got != test.want {
				t.Errorf("VerdictStands = %v, want %v", got, test.want)
			}
		})
	}
}

func later(i *registry.Inspection) { i.RecordedAt = i.RecordedAt.Add(time.Hour) }

func within(from, to string) func(*registry.Inspection) {
	return func(i *registry.Inspection) { i.DoneOn = calendar.Span{From: day(from), To: day(to)} }
}

func TestObservationStands(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name          string
		first, second registry.Inspection
		want          bool
	}{
		{"not seen again", inspection("2025-01-01", sees(registry.Rust)), inspection("2026-01-01", gives(registry.Keep)), false},
		{"not seen again, but something else to repair", inspection("2025-01-01", sees(registry.Rust)), inspection("2026-01-01", gives(registry.Repair), sees(registry.LooseNut)), false},
		{"not said whether it was seen", inspection("2025-01-01", sees(registry.Rust)), inspection("2026-01-01"), true},
		{"nor beside another observation", inspection("2025-01-01", sees(registry.Rust)), inspection("2026-01-01", sees(registry.LooseNut)), true},
		{"not by what takes it out of use", inspection("2025-01-01", sees(registry.Rust)), inspection("2026-01-01", gives(registry.TakeOutOfUse)), true},
		{"seen again", inspection("2025-01-01", sees(registry.Rust)), inspection("2026-01-01", gives(registry.Keep), sees(registry.HollowSound, registry.Rust)), true},
		{"not by a glance", inspection("2025-01-01", sees(registry.Rust)), inspection("2026-01-01", gives(registry.Keep), level(registry.Glance)), true},
		{"not by a lower level", inspection("2025-01-01", sees(registry.Rust), level(registry.Full)), inspection("2026-01-01", gives(registry.Keep)), true},
		{"not by another list", inspection("2025-01-01", sees(registry.Rust)), inspection("2026-01-01", gives(registry.Keep), imported), true},
		{"of a list, inspected after entry", inspection("2025-01-01", sees(registry.Rust), imported, within("2026-01-01", "2026-12-31")), inspection("2026-03-01", gives(registry.Keep)), false},
		{"of a list without a date, inspected before entry", inspection("2025-01-01", sees(registry.Rust), imported, undated), inspection("2026-01-15", gives(registry.Keep)), true},
		{"of a list without a date, inspected on the day of entry", inspection("2025-01-01", sees(registry.Rust), imported, undated), inspection("2026-02-01", gives(registry.Keep), later), false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			f := registry.Facts{
				Anchor:      registry.Anchor{EnteredOn: day("2026-02-01")},
				Inspections: []registry.Inspection{test.second, test.first},
			}
			if got := rules.ObservationStands(&f, &f.Inspections[1], registry.Rust, "rust"); got != test.want {
				t.Errorf("ObservationStands = %v, want %v", got, test.want)
			}
		})
	}
}

func undated(i *registry.Inspection) { i.DoneOn = calendar.Span{Words: "?"} }

func TestMissed(t *testing.T) {
	t.Parallel()
	notFound := false
	missed := func(on string) registry.Inspection {
		return inspection(on, level(registry.Glance), func(i *registry.Inspection) { i.Found = &notFound })
	}
	r := houserules.Default()
	f := registry.Facts{Inspections: []registry.Inspection{missed("2025-01-01"), missed("2025-03-01"), inspection("2025-02-01")}}
	if got := r.Missed(&f); got != &f.Inspections[1] {
		t.Errorf("Missed = %v, want the latest", got)
	}
	f.Inspections = append(f.Inspections, inspection("2025-03-02", level(registry.Glance)))
	if got := r.Missed(&f); got != nil {
		t.Errorf("Missed after a glance saw it = %v, want nil", got)
	}
}

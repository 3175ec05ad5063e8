package houserules_test

import (
	"testing"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// What ends an event or a notice: house rules, default of this project.
func TestEventStands(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		event registry.Event
		edit  func(*registry.Facts)
		want  bool
	}{
		{"nobody inspected since", registry.Event{}, func(*registry.Facts) {}, true},
		{"inspected the day after", registry.Event{}, did(inspection("2025-06-02")), false},
		{"inspected the same day", registry.Event{}, did(inspection("2025-06-01")), true},
		{"perhaps before", registry.Event{}, did(inspection("2025-06-02", within("2025-05-01", "2025-07-01"))), true},
		{"a glance", registry.Event{}, did(inspection("2025-06-02", level(registry.Glance))), true},
		{"ended today", registry.Event{EndedOn: day("2025-07-01")}, func(*registry.Facts) {}, false},
		{"ends tomorrow", registry.Event{EndedOn: day("2025-07-02")}, func(*registry.Facts) {}, true},
		{"set since", registry.Event{}, func(f *registry.Facts) { f.Anchor.SetOn = calendar.Exactly(day("2025-06-02")) }, false},
		{"perhaps set before", registry.Event{}, func(f *registry.Facts) {
			f.Anchor.SetOn = calendar.Span{From: day("2025-06-01"), To: day("2025-07-01")}
		}, true},
	}
	for _, test := range tests {
		var f registry.Facts
		test.edit(&f)
		test.event.HappenedOn = day("2025-06-01")
		if got := rules.EventStands(&f, &test.event, day("2025-07-01")); got != test.want {
			t.Errorf("%s: EventStands = %v, want %v", test.name, got, test.want)
		}
	}
}

func did(i registry.Inspection) func(*registry.Facts) {
	return func(f *registry.Facts) { f.Inspections = append(f.Inspections, i) }
}

func TestNoticeStands(t *testing.T) {
	t.Parallel()
	n := registry.Notice{IssuedOn: day("2025-06-01"), EndedOn: day("2025-08-01")}
	var f registry.Facts
	if !rules.NoticeStands(&f, &n, day("2025-07-31")) || rules.NoticeStands(&f, &n, day("2025-08-01")) {
		t.Error("NoticeStands: want it to stand until the day it ended")
	}
	did(inspection("2025-06-02"))(&f)
	if rules.NoticeStands(&f, &n, day("2025-07-01")) {
		t.Error("NoticeStands after an inspection, want not")
	}
}

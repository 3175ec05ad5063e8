package wording_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestHistory(t *testing.T) {
	t.Parallel()
	day := calendar.NewDate(2026, time.May, 3)
	person := uuid.New()
	record := func(on calendar.Date) registry.Record {
		return registry.Record{ID: uuid.New(), DoneOn: calendar.Exactly(on), PersonID: &person, RecordedAt: day.Time().Add(9 * time.Hour)}
	}
	set := registry.Installation{Record: record(day - 900)}
	allowed := registry.FirstUse{Record: record(day - 800)}
	wrong := registry.Inspection{Record: record(day - 20), Level: registry.HandsOn, Ticked: true, Observations: []registry.Observation{registry.LooseNut}}
	back := registry.Retraction{Record: record(day - 10), RetractsID: wrong.ID, Reason: "another anchor"}
	undated := registry.Removal{Record: record(0)}
	undated.DoneOn = calendar.Span{Words: "long ago"}
	settled := registry.Settlement{Record: record(day - 5), Rule: "loose-nut", Reason: "tightened", Until: day + 365}
	s := registry.AnchorStory{
		Facts: registry.Facts{
			Installations: []registry.Installation{set}, FirstUses: []registry.FirstUse{allowed},
			Inspections: []registry.Inspection{wrong}, Removals: []registry.Removal{undated},
			Settlements: []registry.Settlement{settled}, Retractions: []registry.Retraction{back},
		},
		Persons: map[uuid.UUID]string{person: "Invented Person"},
		History: []registry.HistoryRow{{
			At: day.Time().Add(10 * time.Hour), Standing: registry.StandingWatch, DueOn: day - 1, DueState: registry.Overdue,
			Rules: []string{"loose-nut", "rust", "worn", "worn"}, Settled: []string{"loose-nut", "worn"},
		}},
	}
	var got []string
	for _, l := range wording.History(s) {
		got = append(got, l.Words)
	}
	want := []string{
		"From then on shown as: watch; inspect by 2 May 2026: overdue. Held against it: loose nut (settled), rust, worn (in part settled).",
		"Finding settled on 28 April 2026 by Invented Person: loose nut. Reason: “tightened”. It holds until 3 May 2027, or until a value behind the finding changes.",
		"Record taken back on 23 April 2026 by Invented Person. Reason: “another anchor”.",
		"Inspected hands-on on 13 April 2026 by Invented Person. Seen: loose nut. " + wording.RecordGone,
		"First use allowed on 23 February 2024 by Invented Person.",
		"Set on 15 November 2023 by Invented Person.",
		"Removed on a day not known (“long ago”) by Invented Person.",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("history (-want +got):\n%s", diff)
	}
}

func TestHistoryOfRetractionTakenBack(t *testing.T) {
	t.Parallel()
	id := func() registry.Record { return registry.Record{ID: uuid.New()} }
	seen := registry.Inspection{Record: id(), Level: registry.Glance, Ticked: true}
	first := registry.Retraction{Record: id(), RetractsID: seen.ID, Reason: "x"}
	second := registry.Retraction{Record: id(), RetractsID: first.ID, Reason: "y"}
	gone := 0
	for _, l := range wording.History(registry.AnchorStory{Facts: registry.Facts{
		Inspections: []registry.Inspection{seen}, Retractions: []registry.Retraction{first, second},
	}}) {
		if strings.HasSuffix(l.Words, wording.RecordGone) {
			gone++
		}
	}
	if gone != 1 {
		t.Errorf("%d records are gone, want the first retraction alone", gone)
	}
}

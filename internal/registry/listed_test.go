package registry_test

import (
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

func TestLastSeen(t *testing.T) {
	t.Parallel()
	may := calendar.NewDate(2025, time.May, 2)
	at := may.Time()
	seen := func(from, to calendar.Date, edit func(*registry.Inspection)) registry.Inspection {
		i := registry.Inspection{
			Record: registry.Record{ID: uuid.New(), DoneOn: calendar.Span{From: from, To: to}, Origin: registry.Recorded, RecordedAt: at},
			Ticked: true,
		}
		if edit != nil {
			edit(&i)
		}
		return i
	}
	old, exact := seen(may.AddYears(-3), may.AddYears(-3), nil), seen(may, may, nil)
	undated := seen(0, 0, func(i *registry.Inspection) {
		i.Origin, i.Ticked, i.RecordedAt = registry.Imported, false, at.Add(time.Hour)
	})
	vague := seen(may.AddYears(-1), may.AddDays(30), nil)
	sameDay := seen(may, may, func(i *registry.Inspection) { i.RecordedAt = at.Add(time.Minute) })
	passed := seen(may.AddDays(9), may.AddDays(9), func(i *registry.Inspection) { i.Ticked = false })
	passedSpinning := seen(may.AddDays(9), may.AddDays(9), func(i *registry.Inspection) {
		i.Ticked, i.Observations = false, []registry.Observation{registry.Spins}
	})
	correction := seen(may.AddDays(-1), may.AddDays(-1), func(i *registry.Inspection) { i.Replaces = &exact.ID })
	for _, tc := range []struct {
		name string
		list []registry.Inspection
		want uuid.UUID
	}{
		{"none", nil, uuid.Nil},
		{"the only one, of unknown date", []registry.Inspection{undated}, undated.ID},
		{"any day is later than an unknown one", []registry.Inspection{old, undated}, old.ID},
		{"the latest", []registry.Inspection{exact, old}, exact.ID},
		{"by the last day it can have been", []registry.Inspection{exact, vague}, vague.ID},
		{"of one day, the one recorded later", []registry.Inspection{sameDay, exact}, sameDay.ID},
		{"a correction in place of what it corrects", []registry.Inspection{exact, old, correction}, correction.ID},
		{"a bulk entry that ticked nothing does not count", []registry.Inspection{passed, exact}, exact.ID},
		{"unless it holds something against the anchor", []registry.Inspection{passedSpinning, exact}, passedSpinning.ID},
	} {
		var got uuid.UUID
		if i := (registry.Facts{Inspections: tc.list}).LastSeen(); i != nil {
			got = i.ID
		}
		if got != tc.want {
			t.Errorf("%s: LastSeen() = %v, want %v", tc.name, got, tc.want)
		}
	}
	back := registry.Facts{Inspections: []registry.Inspection{old, exact}, Retractions: []registry.Retraction{{RetractsID: exact.ID}}}
	if got := back.LastSeen(); got == nil || got.ID != old.ID {
		t.Errorf("with the latest retracted: LastSeen() = %v, want the one before", got)
	}
}

func TestHasHanger(t *testing.T) {
	t.Parallel()
	day := calendar.NewDate(2025, time.May, 2)
	for _, tc := range []struct {
		name string
		f    registry.Fitting
		want bool
	}{
		{"one that hangs", registry.Fitting{Kind: registry.Hanger, Presence: registry.Present}, true},
		{"a ring", registry.Fitting{Kind: registry.Ring, Presence: registry.Present}, false},
		{"missing", registry.Fitting{Kind: registry.Hanger, Presence: registry.Missing}, false},
		{"taken off that day", registry.Fitting{Kind: registry.Hanger, Presence: registry.Present, EndedOn: day}, false},
	} {
		if got := (registry.Facts{Fittings: []registry.Fitting{tc.f}}).HasHanger(day); got != tc.want {
			t.Errorf("%s: HasHanger() = %v, want %v", tc.name, got, tc.want)
		}
	}
}

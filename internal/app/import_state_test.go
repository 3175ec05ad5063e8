package app

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

func TestImportReplaced(t *testing.T) {
	t.Parallel()
	year := func(y int, words string) calendar.Span {
		return calendar.Span{From: calendar.NewDate(y, time.January, 1), To: calendar.NewDate(y, time.December, 31), Words: words}
	}
	replaced := func(setOn calendar.Span) func(*registry.ListRow) {
		return func(r *registry.ListRow) {
			r.State, r.StateWords, r.ReplacedOn = registry.StateReplaced, "replaced 2019", year(2019, "2019")
			r.SetOn, r.Form, r.Metal = setOn, registry.WedgeAnchor, metal.Set{"1.4401"}
		}
	}
	for _, c := range []struct {
		name     string
		set      calendar.Span
		removed  calendar.Span
		next     calendar.Span
		doubtful bool
	}{
		{"set before", year(1998, "1998"), year(2019, "2019"), year(2019, "2019"), false},
		{"set in the same year", year(2019, "2019"), year(2019, "2019"), year(2019, "2019"), false},
		{"set when is not known", calendar.Span{}, year(2019, "2019"), year(2019, "2019"), false},
		{"set after", year(2021, "2021"), calendar.Span{Words: "replaced 2019"}, calendar.Span{Words: "replaced 2019"}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			change, r := takeOver(t, listOf(row(3, "B1", replaced(c.set))), registry.Known{})
			if r.Entered != 1 || r.Successors != 1 || len(change.Anchors) != 2 {
				t.Fatalf("entered %d, successors %d, anchors %d; want 1, 1, 2", r.Entered, r.Successors, len(change.Anchors))
			}
			old, next := change.Anchors[0], change.Anchors[1]
			if !old.Removed || old.RemovedOn != c.removed || old.SetOn != c.set {
				t.Errorf("old anchor %+v, want removed on %v, set on %v", old, c.removed, c.set)
			}
			if next.Removed || next.SetOn != c.next || next.Metal != nil || next.Form != "" || next.PositionID != old.PositionID {
				t.Errorf("successor %+v, want a living one at the position, set on %v, form and metal not known", next, c.next)
			}
			if len(change.Positions) != 1 || len(change.Removals) != 1 || change.Removals[0].AnchorID != old.ID {
				t.Errorf("%d positions, removals %+v; want one position, the old anchor's removal", len(change.Positions), change.Removals)
			}
			if got := len(r.Doubts) == 1 && r.Doubts[0].Code == registry.DoubtSetAfterReplace; got != c.doubtful {
				t.Errorf("doubts = %+v, want doubtful %v", r.Doubts, c.doubtful)
			}
		})
	}
}

func TestImportDoubtsReplacementOnce(t *testing.T) {
	t.Parallel()
	list := listOf(row(3, "B1", func(r *registry.ListRow) {
		r.State, r.StateWords = registry.StateReplaced, "replaced 2019"
		r.ReplacedOn = calendar.Exactly(calendar.NewDate(2019, time.June, 1))
		r.SetOn = calendar.Exactly(calendar.NewDate(2021, time.June, 1))
	}))
	list.Doubts = []registry.Doubt{{Line: 3, Column: "State", Code: registry.DoubtSetAfterReplace}}
	if _, r := takeOver(t, list, registry.Known{}); len(r.Doubts) != 1 {
		t.Errorf("doubts = %+v, want the one that the list came with", r.Doubts)
	}
}

func TestImportStates(t *testing.T) {
	t.Parallel()
	day := calendar.Exactly(calendar.NewDate(2020, time.May, 1))
	no := false
	for _, c := range []struct {
		name    string
		state   registry.ListState
		checked calendar.Span
		want    *registry.Inspection // nil: none
	}{
		{"neither date nor state", "", calendar.Span{}, nil},
		{"a date alone", "", day, &registry.Inspection{}},
		{"ok is a glance without verdict", registry.StateOK, calendar.Span{}, &registry.Inspection{}},
		{"spins", registry.StateSpins, day, &registry.Inspection{Observations: []registry.Observation{registry.Spins}}},
		{"loose nut", registry.StateLooseNut, day, &registry.Inspection{Observations: []registry.Observation{registry.LooseNut}}},
		{"rusty", registry.StateRusty, day, &registry.Inspection{Observations: []registry.Observation{registry.Rust}}},
		{"surface rust", registry.StateSurfaceRust, day, &registry.Inspection{Observations: []registry.Observation{registry.SurfaceRust}}},
		{"cracked glue", registry.StateCrackedGlue, day, &registry.Inspection{Observations: []registry.Observation{registry.CrackedGlue}}},
		{"hanger bent", registry.StateHangerBent, day, &registry.Inspection{Observations: []registry.Observation{registry.HangerBent}}},
		{"not found", registry.StateNotFound, calendar.Span{}, &registry.Inspection{Found: &no}},
		{"not understood", registry.StateOther, calendar.Span{}, &registry.Inspection{Observations: []registry.Observation{registry.UnclearWords}}},
		{"called unsafe", registry.StateUnsafe, day, &registry.Inspection{Observations: []registry.Observation{registry.CalledUnsafe}}},
		{"removed is no sight of it", registry.StateRemoved, calendar.Span{}, nil},
		{"removed, and seen before", registry.StateRemoved, day, &registry.Inspection{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			change, _ := takeOver(t, listOf(row(3, "B1", func(r *registry.ListRow) {
				r.State, r.StateWords, r.CheckedOn = c.state, "as written", c.checked
			})), registry.Known{})
			if c.want == nil {
				if len(change.Inspections) != 0 {
					t.Errorf("inspections = %+v, want none", change.Inspections)
				}
				return
			}
			want := *c.want
			want.Level, want.DoneOn, want.Words, want.Origin = registry.Glance, c.checked, "as written", registry.Imported
			want.RecordedAt, want.AnchorID = entryAt, change.Anchors[0].ID
			got := change.Inspections[0]
			want.ID = got.ID
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("inspection (-want +got):\n%s", diff)
			}
		})
	}
}

// What a list says after "replaced 2019" is of the anchor that came instead.
func TestImportStateOfASuccessor(t *testing.T) {
	t.Parallel()
	replaced := calendar.Span{From: calendar.NewDate(2019, time.January, 1), To: calendar.NewDate(2019, time.December, 31), Words: "2019"}
	before, after := calendar.Exactly(replaced.To-1), calendar.Exactly(replaced.To+400)
	for _, c := range []struct {
		name    string
		next    registry.ListState
		checked calendar.Span
		want    []registry.Observation
		on      calendar.Span
	}{
		{"spins, checked since", registry.StateSpins, after, []registry.Observation{registry.Spins}, after},
		{"unsafe, checked perhaps before", registry.StateUnsafe, before, []registry.Observation{registry.CalledUnsafe}, calendar.Span{}},
		{"not understood, never checked", registry.StateOther, calendar.Span{}, []registry.Observation{registry.UnclearWords}, calendar.Span{}},
	} {
		change, _ := takeOver(t, listOf(row(3, "B1", func(r *registry.ListRow) {
			r.State, r.StateWords, r.ReplacedOn, r.NextState, r.CheckedOn = registry.StateReplaced, "as written", replaced, c.next, c.checked
		})), registry.Known{})
		old, next := change.Anchors[0], change.Anchors[1]
		var got []registry.Inspection
		for _, i := range change.Inspections {
			if i.AnchorID == next.ID {
				got = append(got, i)
			}
		}
		if !old.Removed || next.Removed || len(got) != 1 || !slices.Equal(got[0].Observations, c.want) || got[0].DoneOn != c.on || got[0].Words != "as written" {
			t.Errorf("%s: old removed %v, inspections of the new one %+v, want %v on %v", c.name, old.Removed, got, c.want, c.on)
		}
		for _, a := range change.Assessments {
			if a.AnchorID == next.ID && a.Standing == registry.NoProblem {
				t.Errorf("%s: no problem on record", c.name)
			}
		}
	}
}

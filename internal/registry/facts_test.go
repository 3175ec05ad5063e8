package registry_test

import (
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

func dayOf(t *testing.T, s string) calendar.Date {
	t.Helper()
	d, err := calendar.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// The less favourable end of an uncertain date counts.
func TestUntilTakesBadInspectionsByTheirFirstDay(t *testing.T) {
	t.Parallel()
	from, to := dayOf(t, "2025-06-01"), dayOf(t, "2025-08-31")
	for name, tc := range map[string]struct {
		i     registry.Inspection
		early bool
	}{
		"nothing said":           {registry.Inspection{}, false},
		"keep":                   {registry.Inspection{Verdict: registry.Keep}, false},
		"something seen":         {registry.Inspection{Observations: []registry.Observation{registry.Rust}}, true},
		"something seen, keep":   {registry.Inspection{Observations: []registry.Observation{registry.Rust}, Verdict: registry.Keep}, true},
		"something measured":     {registry.Inspection{Measured: []registry.Measurement{{Left: 5}}}, true},
		"watch":                  {registry.Inspection{Verdict: registry.KeepWatching}, true},
		"taken out of use by it": {registry.Inspection{Verdict: registry.TakeOutOfUse}, true},
	} {
		tc.i.DoneOn, tc.i.Ticked = calendar.Span{From: from, To: to}, true
		f := registry.Facts{Inspections: []registry.Inspection{tc.i}}
		if got, _ := f.Until(from - 1); len(got.Inspections) != 0 {
			t.Errorf("%s: there the day before", name)
		}
		got, _ := f.Until(from)
		if there := len(got.Inspections) == 1; there != tc.early || there && got.Inspections[0].Ticked {
			t.Errorf("%s: on its first day %+v, want it there: %v, and then resetting nothing", name, got.Inspections, tc.early)
		}
		if got, _ := f.Until(to); len(got.Inspections) != 1 || !got.Inspections[0].Ticked {
			t.Errorf("%s: on its last day %+v, want it there and ticked", name, got.Inspections)
		}
		if !f.Inspections[0].Ticked {
			t.Errorf("%s: Until changed the facts that it was given", name)
		}
	}
}

func TestUntilTakesARemovalWithoutADateFromEntryOn(t *testing.T) {
	t.Parallel()
	entered := dayOf(t, "2024-03-01")
	f := registry.Facts{Anchor: registry.Anchor{Removed: true, EnteredOn: entered}}
	f.Anchor.RemovedOn.Words = "gone"
	for day, removed := range map[calendar.Date]bool{entered.AddYears(-5): false, entered - 1: false, entered: true, entered + 1: true} {
		if got, _ := f.Until(day); got.Anchor.Removed != removed {
			t.Errorf("Until(%v): removed %v, want %v", day, got.Anchor.Removed, removed)
		}
	}
	f.Anchor.RemovedOn = calendar.Span{From: dayOf(t, "2019-01-01"), To: dayOf(t, "2019-12-31")}
	for on, removed := range map[string]bool{"2018-12-31": false, "2019-06-01": false, "2019-12-31": true, "2024-03-01": true} {
		if got, _ := f.Until(dayOf(t, on)); got.Anchor.Removed != removed {
			t.Errorf("Until(%s) of an anchor removed in 2019: removed %v, want %v", on, got.Anchor.Removed, removed)
		}
	}
}

func TestBonded(t *testing.T) {
	t.Parallel()
	adhesive := uuid.Must(uuid.NewV7())
	glued := []registry.Installation{{}, {AdhesiveID: &adhesive}}
	batch := []registry.Installation{{BatchID: &adhesive}}
	no, yes := false, true
	for _, c := range []struct {
		form registry.Form
		set  []registry.Installation
		want *bool
	}{
		{registry.GlueIn, nil, &yes},
		{registry.ThroughBolt, nil, &no},
		{registry.ThroughBolt, glued, &yes},
		{"", glued, &yes},
		{"", batch, &yes},
		{"", []registry.Installation{{}}, nil},
		{"", nil, nil},
	} {
		f := registry.Facts{Anchor: registry.Anchor{Form: c.form}, Installations: c.set}
		got := f.Bonded()
		if (got == nil) != (c.want == nil) || got != nil && *got != *c.want {
			t.Errorf("Bonded of %q with %d installations = %v, want %v", c.form, len(c.set), got, c.want)
		}
	}
}

// A person's word counts before a list's, then the later day; what is replaced
// does not count. Terms of this project.
func TestSetting(t *testing.T) {
	t.Parallel()
	set := func(on string, origin registry.Origin) registry.Installation {
		return registry.Installation{Record: registry.Record{ID: uuid.Must(uuid.NewV7()), DoneOn: calendar.Exactly(dayOf(t, on)), Origin: origin}}
	}
	early, late, listed := set("2020-05-01", registry.Recorded), set("2021-05-01", registry.Recorded), set("2022-05-01", registry.Imported)
	undated, corrected := set("2020-05-01", registry.Recorded), set("2019-05-01", registry.Recorded)
	undated.DoneOn, corrected.Replaces = calendar.Span{}, &late.ID
	for name, c := range map[string]struct {
		list []registry.Installation
		want *registry.Installation
	}{
		"none":                       {nil, nil},
		"the later":                  {[]registry.Installation{early, late}, &late},
		"a person before a list":     {[]registry.Installation{listed, early}, &early},
		"a list alone":               {[]registry.Installation{listed}, &listed},
		"an unknown day is earliest": {[]registry.Installation{undated, early}, &early},
		"what is replaced is gone":   {[]registry.Installation{late, corrected, early}, &early},
	} {
		f := registry.Facts{Installations: c.list}
		got := f.Setting()
		if (got == nil) != (c.want == nil) || got != nil && got.ID != c.want.ID {
			t.Errorf("%s: Setting = %+v, want %+v", name, got, c.want)
		}
	}
}

package registry_test

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

var today = calendar.NewDate(2026, time.May, 3)

// violations returns the fields of err in order, with their codes.
func violations(t *testing.T, err error) map[string]fault.Code {
	t.Helper()
	if err == nil {
		return map[string]fault.Code{}
	}
	f, ok := fault.As(err)
	if !ok || f.Kind != fault.Invalid {
		t.Fatalf("error = %v, want one of kind invalid", err)
	}
	out := map[string]fault.Code{}
	for _, v := range f.Violations {
		out[v.Field] = v.Code
	}
	return out
}

func degrees(v float64) *float64 { return &v }

func TestSiteValidate(t *testing.T) {
	t.Parallel()
	for name, tc := range map[string]struct {
		site registry.Site
		want map[string]fault.Code
	}{
		"a crag with coordinates": {
			registry.Site{Name: "Varrow Scar", Kind: registry.Crag, Lat: degrees(54.4), Lon: degrees(-2.1)}, map[string]fault.Code{},
		},
		"every violation is reported": {
			registry.Site{Name: " ", Kind: "cliff", Rock: "firm"},
			map[string]fault.Code{"name": fault.Blank, "kind": fault.Unknown, "rock": fault.Unknown},
		},
		"a cave has no place on the map": {
			registry.Site{Name: "Hollin Deep", Kind: registry.Cave, Lat: degrees(54.4), Lon: degrees(-2.1)},
			map[string]fault.Code{"lat": fault.Mismatch},
		},
		"one coordinate alone": {
			registry.Site{Name: "Varrow Scar", Kind: registry.Crag, Lat: degrees(54.4)}, map[string]fault.Code{"lon": fault.Required},
		},
		"latitude past the pole": {
			registry.Site{Name: "Varrow Scar", Kind: registry.Crag, Lat: degrees(90.1), Lon: degrees(0)}, map[string]fault.Code{"lat": fault.OutOfRange},
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			if diff := cmp.Diff(tc.want, violations(t, tc.site.Validate())); diff != "" {
				t.Errorf("Validate() mismatch (-want, +got):\n%s", diff)
			}
		})
	}
}

func TestAnchorValidate(t *testing.T) {
	t.Parallel()
	shank := quantity.Length(-10)
	a := registry.Anchor{
		Form: "bolt", Metal: metal.Set{"1.9999"}, Shank: &shank, Origin: registry.Recorded, EnteredOn: today, Removed: true,
		SetOn: calendar.Exactly(today), RemovedOn: calendar.Exactly(today.AddDays(-1)),
	}
	want := map[string]fault.Code{
		"form": fault.Unknown, "metal": fault.Unknown, "shank_diameter_mm": fault.NotPositive, "removed_on": fault.Order,
	}
	if diff := cmp.Diff(want, violations(t, a.Validate())); diff != "" {
		t.Errorf("Validate() mismatch (-want, +got):\n%s", diff)
	}
}

func TestInspectionValidate(t *testing.T) {
	t.Parallel()
	good := registry.Inspection{
		Record: registry.Record{ID: uuid.Must(uuid.NewV7()), DoneOn: calendar.Exactly(today)},
		Level:  registry.HandsOn, Verdict: registry.KeepWatching, InspectBy: today.AddMonths(3),
	}
	no := false
	for name, tc := range map[string]struct {
		edit func(*registry.Inspection)
		want map[string]fault.Code
	}{
		"good": {func(*registry.Inspection) {}, map[string]fault.Code{}},
		"a day ahead": {
			func(i *registry.Inspection) { i.DoneOn = calendar.Exactly(today.AddDays(1)) }, map[string]fault.Code{"done_on": fault.DateAhead},
		},
		"no level, no id": {
			func(i *registry.Inspection) { i.Level, i.ID = "", uuid.Nil }, map[string]fault.Code{"level": fault.Unknown, "id": fault.Required},
		},
		"a date with keep": {
			func(i *registry.Inspection) { i.Verdict = registry.Keep }, map[string]fault.Code{"inspect_by": fault.Mismatch},
		},
		"what only a list says": {
			func(i *registry.Inspection) {
				i.Origin, i.Observations = registry.Recorded, []registry.Observation{registry.CalledUnsafe}
			}, map[string]fault.Code{"observations": fault.NotAllowed},
		},
		"the same, of a list": {
			func(i *registry.Inspection) {
				i.Origin, i.Observations = registry.Imported, []registry.Observation{registry.UnclearWords}
			}, map[string]fault.Code{},
		},
		"seen though not found": {
			func(i *registry.Inspection) { i.Found, i.Observations = &no, []registry.Observation{registry.Rust} },
			map[string]fault.Code{"observations": fault.Mismatch, "verdict": fault.Mismatch},
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			i := good
			tc.edit(&i)
			if diff := cmp.Diff(tc.want, violations(t, i.Validate(today))); diff != "" {
				t.Errorf("Validate() mismatch (-want, +got):\n%s", diff)
			}
		})
	}
}

func TestUntilTakesRecordsByTheirLastDay(t *testing.T) {
	t.Parallel()
	summer := calendar.Span{From: calendar.NewDate(2025, time.June, 1), To: calendar.NewDate(2025, time.August, 31)}
	f := registry.Facts{
		Anchor: registry.Anchor{
			SetOn: calendar.Exactly(calendar.NewDate(2020, time.May, 1)), Removed: true,
			RemovedOn: calendar.Exactly(calendar.NewDate(2025, time.October, 1)),
		},
		Inspections: []registry.Inspection{{Record: registry.Record{DoneOn: summer}}},
	}
	for _, tc := range []struct {
		day         string
		set         bool
		inspections int
		removed     bool
	}{
		{"2020-04-30", false, 1, true}, // not yet set
		{"2025-08-30", true, 0, false}, // the summer is not over
		{"2025-08-31", true, 1, false}, // its last day
		{"2025-09-30", true, 1, false}, // the day before it went
		{"2025-10-01", true, 1, true},  // the day it went
		{"2026-05-03", true, 1, true},  // today
	} {
		day, err := calendar.ParseDate(tc.day)
		if err != nil {
			t.Fatal(err)
		}
		got, set := f.Until(day)
		if set != tc.set || len(got.Inspections) != tc.inspections || got.Anchor.Removed != tc.removed {
			t.Errorf("Until(%s) = %d inspections, removed %v, set %v, want %d, %v, %v",
				tc.day, len(got.Inspections), got.Anchor.Removed, set, tc.inspections, tc.removed, tc.set)
		}
	}
	if len(f.Inspections) != 1 || !f.Anchor.Removed {
		t.Error("Until changed the facts that it was given")
	}
}

func TestValuesKeepTheirOrder(t *testing.T) {
	t.Parallel()
	in := registry.Values{{Name: "months", Text: "12"}, {Name: "inspected_on", Text: "2026-05-03"}, {Name: "a", Text: `"<é`}}
	text, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	var out registry.Values
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(in, out); diff != "" {
		t.Errorf("values after a round trip through %s (-want, +got):\n%s", text, diff)
	}
	if got := in.Text("months"); got != "12" {
		t.Errorf("Text(months) = %q, want 12", got)
	}
}

func TestFoldBatch(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"L1709-A", "l 1709 a", " L1709/a "} {
		if got := registry.FoldBatch(text); got != "L1709A" {
			t.Errorf("FoldBatch(%q) = %q, want L1709A", text, got)
		}
	}
}

func TestListRowKeyAndPrint(t *testing.T) {
	t.Parallel()
	a := registry.ListRow{Site: "Quiet  End", Route: "Spare Key", Label: "B1", Cells: []string{"Quiet End", " B1 "}}
	b := registry.ListRow{Site: "quiet end ", Route: "SPARE KEY", Label: "b1", Cells: []string{"Quiet End", "B1"}}
	if a.Key() != b.Key() {
		t.Errorf("keys %q and %q differ, want case and spaces folded", a.Key(), b.Key())
	}
	if a.Print() != b.Print() {
		t.Error("prints differ, want stray spaces to mean nothing")
	}
	b.Cells = []string{"Quiet End B1", ""}
	if a.Print() == b.Print() {
		t.Error("prints are the same though the cells differ")
	}
}

func TestRanksFollowTheOrder(t *testing.T) {
	t.Parallel()
	if registry.RoleOwner.Rank() <= registry.RoleSteward.Rank() || registry.Role("guest").Rank() != 0 {
		t.Error("roles: want owner above steward, and no rank for a role that does not exist")
	}
	if registry.StandingOutOfUse.Rank() <= registry.NotInUseYet.Rank() || registry.NotInUseYet.Rank() <= registry.StandingSuspect.Rank() {
		t.Error("standings: want out of use > not in use yet > suspect")
	}
	if registry.OutOfUse.Rank() <= registry.Suspect.Rank() || registry.Full.Rank() <= registry.Glance.Rank() {
		t.Error("severities and levels: want the worst, and the closest, highest")
	}
}

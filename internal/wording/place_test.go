package wording_test

import (
	"testing"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestEnvironmentValue(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ field, text, name, want string }{
		{"sea_km", "0.3", "Distance to the sea", "0.3 km"},
		{"washed", "false", "Washed by rain", "no"},
		{"washed", "", "Washed by rain", "not known"},
		{"zinc_category", "C3", "Corrosivity for zinc", "C3"},
		{"wetness", "dripping", "Wetness of the rock", "Dripping"},
		{"some_day", "x", "Some day", "X"},
	} {
		if got := wording.EnvironmentValue(c.field, c.text); got != c.want {
			t.Errorf("EnvironmentValue(%q, %q) = %q, want %q", c.field, c.text, got, c.want)
		}
		if got := wording.EnvironmentName(c.field); got != c.name {
			t.Errorf("EnvironmentName(%q) = %q, want %q", c.field, got, c.name)
		}
	}
}

// Every field that a place's page can show has a name of its own and, if its
// name ends in a unit, that unit.
func TestEnvironmentFieldsAreNamed(t *testing.T) {
	t.Parallel()
	one, yes := 1.0, true
	e := registry.Environment{
		From: 1, Place: registry.Place{Kind: registry.AtSite},
		TemperatureC: &one, HumidityPct: &one, SulphurDioxide: &one, Chloride: &one,
		SteelCategory: "C3", ZincCategory: "C3", CopperCategory: "C3", AluminiumCategory: "C3",
		SeaKm: &one, RoadKm: &one, Coast: registry.OtherCoast, MineralSalts: &yes,
		Wetness: registry.Dry, Washed: &yes, SurfaceMaxC: &one,
	}
	fields := registry.ExplainEnvironment([]registry.Environment{e}, 1)
	if len(fields) != 15 {
		t.Fatalf("%d fields, want all 15", len(fields))
	}
	seen := map[string]string{}
	for _, f := range fields {
		name := wording.EnvironmentName(f.Field)
		if other, there := seen[name]; there {
			t.Errorf("%s and %s are both called %q", f.Field, other, name)
		}
		seen[name] = f.Field
	}
}

func TestEvent(t *testing.T) {
	t.Parallel()
	e := registry.Event{
		Kind: registry.HardFrost, HappenedOn: calendar.NewDate(2026, time.January, 9), InspectBy: calendar.NewDate(2026, time.May, 1),
		Closed: true, Words: "ice behind the flake",
	}
	want := "Hard frost on 9 January 2026: every anchor here is to be inspected by 1 May 2026. " +
		"The group closed the site until that is done. “ice behind the flake”"
	if got := wording.Event(e); got != want {
		t.Errorf("Event(%v) = %q, want %q", e, got, want)
	}
	e = registry.Event{Kind: registry.Flood, HappenedOn: calendar.NewDate(2026, time.January, 9)}
	if got, want := wording.Event(e), "Flood on 9 January 2026: every anchor here is to be inspected."; got != want {
		t.Errorf("Event(%v) = %q, want %q", e, got, want)
	}
}

func TestAgreement(t *testing.T) {
	t.Parallel()
	a := registry.Agreement{Kind: registry.Permission, Issuer: "Invented Estate", From: calendar.NewDate(2020, time.May, 1)}
	if got, want := wording.Agreement(a), "Permission of Invented Estate, from 1 May 2020 on."; got != want {
		t.Errorf("Agreement(%v) = %q, want %q", a, got, want)
	}
	a.Kind, a.Issuer, a.Until, a.Conditions = registry.Consent, "an invented authority", calendar.NewDate(2030, time.April, 30), "No power drills."
	if got, want := wording.Agreement(a), "Consent of an invented authority, from 1 May 2020 to 30 April 2030. Conditions: No power drills."; got != want {
		t.Errorf("Agreement(%v) = %q, want %q", a, got, want)
	}
}

func TestAssembly(t *testing.T) {
	t.Parallel()
	for kind, want := range map[registry.AssemblyKind]string{
		registry.Equalised: "B2 belay, equalised",
		"":                 "B2 belay, how they share the load is not known",
	} {
		if got := wording.Assembly(registry.Assembly{Name: "B2 belay", Kind: kind}); got != want {
			t.Errorf("Assembly(%q) = %q, want %q", kind, got, want)
		}
	}
}

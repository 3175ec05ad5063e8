package wording_test

import (
	"strings"
	"testing"
	"unicode"

	"rockledger/internal/metal"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestLabel(t *testing.T) {
	t.Parallel()
	tests := []struct{ got, want string }{
		{wording.Label(registry.SingleShank), "Glue-in, single shank"},
		{wording.Label(registry.ThroughBolt), "Through bolt"},
		{wording.Label(registry.SeaCliff), "Sea cliff"},
		{wording.Label(registry.TakeOutOfUse), "Take out of use"},
		{wording.Label(registry.Form("")), "not known"},
	}
	for _, test := range tests {
		if test.got != test.want {
			t.Errorf("Label = %q, want %q", test.got, test.want)
		}
	}
}

// every closed list reads well: no dashes but those of words that have one.
func TestLabelsOfEveryClosedList(t *testing.T) {
	t.Parallel()
	check(t, registry.Forms())
	check(t, registry.SiteKinds())
	check(t, registry.RockClasses())
	check(t, registry.RouteKinds())
	check(t, registry.Traffics())
	check(t, registry.PositionRoles())
	check(t, registry.Faces())
	check(t, registry.AssemblyKinds())
	check(t, registry.FittingKinds())
	check(t, registry.Presences())
	check(t, registry.Sounds())
	check(t, registry.Moistures())
	check(t, registry.HoleStates())
	check(t, registry.HowReads())
	check(t, registry.SampleStates())
	check(t, registry.Levels())
	check(t, registry.Verdicts())
	check(t, registry.Observations())
	check(t, registry.Severities())
	check(t, registry.Standings())
	check(t, registry.DueStates())
	check(t, registry.Bands())
	check(t, registry.Roles())
	check(t, registry.EventKinds())
	check(t, registry.PlaceKinds())
	check(t, registry.Wetnesses())
	check(t, registry.Coasts())
}

func check[T ~string](t *testing.T, list []T) {
	t.Helper()
	seen := make(map[string]T)
	for _, v := range list {
		label := wording.Label(v)
		if other, ok := seen[label]; ok {
			t.Errorf("Label(%v) = Label(%v) = %q", v, other, label)
		}
		seen[label] = v
		if !unicode.IsUpper([]rune(label)[0]) {
			t.Errorf("Label(%v) = %q, want a capital", v, label)
		}
	}
}

func TestMetal(t *testing.T) {
	t.Parallel()
	tests := []struct {
		set   metal.Set
		words string
		want  string
	}{
		{metal.NewSet("1.4404"), "316L", "stainless steel 1.4404 (316L)"},
		{metal.NewSet("1.4401", "1.4404"), " A4 ", "stainless steel, grade not known (“A4”)"},
		{metal.NewSet("titanium-2"), "", "titanium grade 2"},
		{metal.NewSet(metal.SteelElectroplated), "BZP", "carbon steel, zinc electroplated"},
		{metal.NewSet(metal.SteelElectroplated, metal.SteelHotDipGalvanised), "galv", "carbon steel, grade not known (“galv”)"},
		{metal.NewSet("1.4404", metal.SteelElectroplated), "", "stainless steel or carbon steel, grade not known"},
		{nil, "rusty stuff", "not known (“rusty stuff”)"},
		{nil, "", "not known"},
	}
	for _, test := range tests {
		if got := wording.Metal(test.set, test.words); got != test.want {
			t.Errorf("Metal(%v, %q) = %q, want %q", test.set, test.words, got, test.want)
		}
	}
	for _, e := range metal.All() {
		if got := wording.Metal(metal.NewSet(e.Grade), ""); strings.TrimSpace(got) == "" {
			t.Errorf("Metal(%v) is blank", e.Grade)
		}
	}
}

func TestCautionCertifiesNothing(t *testing.T) {
	t.Parallel()
	for _, want := range []string{"certifies nothing", "competent person's judgement", "Inspect"} {
		if !strings.Contains(wording.Caution, want) {
			t.Errorf("Caution = %q, want %q in it", wording.Caution, want)
		}
	}
}

package corrosion_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rockledger/internal/corrosion"
	"rockledger/internal/fault"
	"rockledger/internal/metal"
)

// Anodic index and limits of design charts, found, confidence high, but for
// wrought aluminium and hot-dip zinc, from memory.
func TestCoupleOf(t *testing.T) {
	t.Parallel()
	const (
		steel18, plain, plate = corrosion.Stainless18, corrosion.PlainSteel, corrosion.ZincPlate
		titan, alu            = corrosion.TitaniumMetal, corrosion.AluminiumWrought
		harsh, normal         = corrosion.Harsh, corrosion.Normal
	)
	small := []corrosion.Advice{corrosion.AnodeSize}
	for _, tc := range []struct {
		id     string
		a, b   corrosion.Material
		in     corrosion.Surrounding
		want   corrosion.Centivolts
		within bool
		anode  corrosion.Material
		advice []corrosion.Advice
	}{
		{"K90", steel18, plate, harsh, 75, false, plate, small},
		{"K91", steel18, plain, normal, 35, false, plain, small},
		{"K91", steel18, plain, corrosion.Controlled, 35, true, plain, nil},
		{"K92: the limit may be met", corrosion.Gold, corrosion.Silver, harsh, 15, true, corrosion.Silver, nil},
		{"K93: the limit may be met", steel18, corrosion.Aluminium2000, normal, 25, true, corrosion.Aluminium2000, nil},
		{"K94: advice upon ASTM G82", steel18, titan, harsh, 20, false, steel18, []corrosion.Advice{corrosion.PassivePair}},
		{"304 with 316", steel18, steel18, harsh, 0, true, "", nil},
		{"18 and 12 % chromium", steel18, corrosion.Stainless12, harsh, 10, true, corrosion.Stainless12, nil},
		{"from memory", steel18, alu, normal, 40, false, alu, small},
		{"from memory", steel18, corrosion.HotDipZinc, corrosion.Controlled, 70, false, corrosion.HotDipZinc, small},
		{"zinc on its own steel", plain, plate, harsh, 40, false, plate, []corrosion.Advice{corrosion.Sacrificial}},
		{"titanium, steel", titan, plain, corrosion.Controlled, 55, false, plain, small},
		{"titanium, zinc plate", titan, plate, corrosion.Controlled, 95, false, plate, small},
	} {
		got, err := corrosion.CoupleOf(tc.a, tc.b, tc.in)
		if err != nil || got.Difference != tc.want || got.Within != tc.within || got.Anode != tc.anode {
			t.Errorf("%s: CoupleOf(%v, %v, %v) = %+v, %v, want %v, %v, anode %q", tc.id, tc.a, tc.b, tc.in, got, err, tc.want, tc.within, tc.anode)
		}
		if diff := cmp.Diff(tc.advice, got.Advice); diff != "" {
			t.Errorf("%s: advice (-want +got):\n%s", tc.id, diff)
		}
	}
	for _, bad := range [][3]string{{"wood", "gold", "harsh"}, {"gold", "wood", "harsh"}, {"gold", "gold", "moon"}} {
		_, err := corrosion.CoupleOf(corrosion.Material(bad[0]), corrosion.Material(bad[1]), corrosion.Surrounding(bad[2]))
		if fault.CodeOf(err) != fault.Unknown {
			t.Errorf("CoupleOf(%v): %v, want unknown", bad, err)
		}
	}
}

// Which of two comes first does not matter.
func TestCoupleOfIsEven(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		draw := func(label string) corrosion.Material {
			m, ok := corrosion.MaterialOf(rapid.SampledFrom(metal.All()).Draw(t, label).Grade)
			if !ok {
				t.Fatal("a grade has no group")
			}
			return m
		}
		a, b := draw("a"), draw("b")
		one, _ := corrosion.CoupleOf(a, b, corrosion.Harsh)
		other, err := corrosion.CoupleOf(b, a, corrosion.Harsh)
		if diff := cmp.Diff(one, other); diff != "" || err != nil {
			t.Fatalf("CoupleOf(%v, %v), %v, and the other way round:\n%s", a, b, err, diff)
		}
	})
}

func TestMaterialOf(t *testing.T) {
	t.Parallel()
	for g, want := range map[metal.Grade]corrosion.Material{
		"1.4404": corrosion.Stainless18, "1.4462": corrosion.Stainless18, "1.4016": corrosion.Stainless12,
		metal.SteelElectroplated: corrosion.ZincPlate, metal.SteelSherardised: corrosion.ZincPlate,
		metal.SteelHotDipGalvanised: corrosion.HotDipZinc, metal.SteelBare: corrosion.PlainSteel,
		metal.Aluminium: corrosion.AluminiumWrought, metal.Titanium2: corrosion.TitaniumMetal, "1.9999": "",
	} {
		if got, ok := corrosion.MaterialOf(g); got != want || ok != (want != "") {
			t.Errorf("MaterialOf(%v) = %v, %v, want %q", g, got, ok, want)
		}
	}
}

// K95, and the advice of K94: ASTM G82 as issued by the US Naval Research
// Laboratory, found, confidence high.
func TestSeaDifference(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		id   string
		a, b corrosion.SeaMetal
		want corrosion.Centivolts
	}{
		{"K95", corrosion.SeaStainless316Passive, corrosion.SeaCarbonSteel, 56},
		{"K95", corrosion.SeaZinc, corrosion.SeaStainless316Passive, 98},
		{"K94", corrosion.SeaTitanium, corrosion.SeaStainless316Passive, 5},
	} {
		if got, ok := corrosion.SeaDifference(tc.a, tc.b); !ok || got != tc.want {
			t.Errorf("%s: SeaDifference(%v, %v) = %v, %v, want %v", tc.id, tc.a, tc.b, got, ok, tc.want)
		}
	}
	if got, ok := corrosion.SeaDifference("wood", corrosion.SeaZinc); ok || got != 0 {
		t.Errorf("SeaDifference(wood) = %v, %v", got, ok)
	}
	if v, ok := corrosion.SeaPotential(corrosion.SeaGraphite); !ok || v.Volts() != 0.25 {
		t.Errorf("SeaPotential(graphite) = %v V, %v, want 0.25", v.Volts(), ok)
	}
	if _, ok := corrosion.SeaPotential("wood"); ok {
		t.Error("SeaPotential(wood) has an answer")
	}
}

// EN 959:2018, 4.2.7 and 4.2.8, found; what counts as one is judgement.
func TestOneMaterial(t *testing.T) {
	t.Parallel()
	set := metal.NewSet
	a4 := set("1.4401", "1.4404")
	for _, tc := range []struct {
		name  string
		parts []metal.Set
		want  corrosion.Sameness
	}{
		{"one grade", []metal.Set{set("1.4404"), set("1.4404")}, corrosion.SameGrade},
		{"two of a group", []metal.Set{set("1.4404"), set("1.4401")}, corrosion.SameGroup},
		{"a mark leaves the grade open", []metal.Set{a4, a4}, corrosion.SameGroup},
		{"bolt plated, hanger stainless", []metal.Set{set(metal.SteelElectroplated), a4}, corrosion.Different},
		{"one not known", []metal.Set{set("1.4404"), nil}, corrosion.SameIsNotKnown},
		{"one not known, the others differ", []metal.Set{nil, set("1.4404"), set(metal.Titanium2)}, corrosion.Different},
		{"may be either", []metal.Set{set("1.4404", metal.SteelBare), set("1.4404")}, corrosion.SameIsNotKnown},
		{"two of which neither can be the other", []metal.Set{set("1.4404", metal.SteelBare), set(metal.Titanium2)}, corrosion.Different},
		{"one part", []metal.Set{nil}, corrosion.SameGrade},
		{"no part", nil, corrosion.SameGrade},
	} {
		if got := corrosion.OneMaterial(tc.parts...); got != tc.want {
			t.Errorf("%s: OneMaterial = %v, want %v", tc.name, got, tc.want)
		}
	}
}

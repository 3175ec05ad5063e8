package corrosion_test

import (
	"math"
	"testing"

	"rockledger/internal/corrosion"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
)

// K103 to K105 and the others: judgement of this project.
func TestSuits(t *testing.T) {
	t.Parallel()
	beach := at(0.1*km, none, 32)
	cave := at(corrosion.Far(), none, 10, func(p *corrosion.Place) { p.Cave = corrosion.CaveDripping })
	seaCave := at(corrosion.Far(), none, 12, func(p *corrosion.Place) { p.Cave = corrosion.CaveSea })
	valley := at(0.6*km, rain, 32) // class III, medium
	hills := inland(25*km, rain)   // class II
	lane := inland(25*km, rain, func(p *corrosion.Place) { p.SulphurDioxide = ptr(90.0) })
	for _, tc := range []struct {
		id    string
		grade metal.Grade
		place *corrosion.Place
		want  corrosion.Suit
	}{
		{"K103", "1.4301", beach, corrosion.Unsuitable},
		{"K103", "1.4404", beach, corrosion.Unsuitable},
		{"K104", metal.Titanium2, beach, corrosion.Suitable},
		{"K104", "1.4529", beach, corrosion.Suitable},
		{"K105", "1.4404", cave, corrosion.Suitable},
		{"duplex by the sea", "1.4462", beach, corrosion.SuitExpert},
		{"duplex inland", "1.4462", hills, corrosion.Suitable},
		{"cracking medium, class met", "1.4404", valley, corrosion.SuitableWatch},
		{"cracking medium, far too low a class", "1.4016", inland(0.1*km, rain), corrosion.Unsuitable},
		{"class met", "1.4301", hills, corrosion.Suitable},
		{"one short", "1.4301", lane, corrosion.SuitableWatch},
		{"two short", "1.4016", lane, corrosion.Unsuitable},
		{"lower grade in a cave", "1.4301", cave, corrosion.Unsuitable},
		{"plated in a cave", metal.SteelElectroplated, cave, corrosion.Unsuitable},
		{"aluminium in a cave", metal.Aluminium, cave, corrosion.Unsuitable},
		{"titanium in a cave", metal.Titanium2, cave, corrosion.Suitable},
		{"sea cave: cracking is asked too", "1.4404", seaCave, corrosion.SuitableWatch},
		{"plated outdoors", metal.SteelHotDipGalvanised, hills, corrosion.Unsuitable},
		{"plated in a hall", metal.SteelElectroplated, inland(0, none, indoors), corrosion.SuitableWatch},
		{"nothing on record", "1.4404", &corrosion.Place{}, corrosion.SuitNotKnown},
		{"titanium, nothing on record", metal.Titanium2, &corrosion.Place{}, corrosion.Suitable},
		{"no such grade", "1.9999", hills, corrosion.SuitNotKnown},
		{"no such place", metal.Titanium2, inland(quantity.Length(math.NaN()), rain), corrosion.SuitNotKnown},
	} {
		if got := corrosion.Suits(tc.grade, tc.place); got != tc.want {
			t.Errorf("%s: Suits(%v) = %v, want %v", tc.id, tc.grade, got, tc.want)
		}
	}
}

// K105, coated steel in a dripping cave: C4. All defaults are judgement of this
// project, guided by ISO 9223:2012, Annex C.
func TestCaveCategory(t *testing.T) {
	t.Parallel()
	for c, want := range map[corrosion.Cave]corrosion.Category{
		corrosion.CaveDry: corrosion.C3, corrosion.CaveDripping: corrosion.C4, corrosion.CaveNotKnown: corrosion.C4,
		corrosion.CaveStream: corrosion.C5, corrosion.CaveSea: corrosion.CX, "": 0,
	} {
		if got := corrosion.CaveCategory(c); got != want {
			t.Errorf("CaveCategory(%q) = %v, want %v", c, got, want)
		}
	}
}

func TestLastsUnderground(t *testing.T) {
	t.Parallel()
	for g, want := range map[metal.Grade]bool{
		"1.4404": true, "1.4462": true, "1.4529": true, metal.Titanium2: true,
		"1.4301": false, "1.4016": false, metal.SteelElectroplated: false, metal.SteelBare: false, metal.Aluminium: false, "1.9999": false,
	} {
		if got := corrosion.LastsUnderground(g); got != want {
			t.Errorf("LastsUnderground(%v) = %v, want %v", g, got, want)
		}
	}
}

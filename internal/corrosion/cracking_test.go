package corrosion_test

import (
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/corrosion"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
)

// at returns a place with the sea at a distance and a surface temperature.
func at(sea quantity.Length, washing corrosion.Washing, surface quantity.Temperature, edit ...func(*corrosion.Place)) *corrosion.Place {
	p := inland(sea, washing, edit...)
	p.SurfaceTemperature = &surface
	return p
}

// Judgement of this project, upon the UIAA notices of 2009 and 2015.
func TestCracking(t *testing.T) {
	t.Parallel()
	const high, medium, no, notAsked = corrosion.RiskHigh, corrosion.RiskMedium, corrosion.RiskNone, corrosion.RiskNotAsked
	salty := func(c corrosion.ChlorideClass) func(*corrosion.Place) {
		return func(p *corrosion.Place) { p.Chloride = &c }
	}
	road := func(d quantity.Length) func(*corrosion.Place) {
		return func(p *corrosion.Place) { p.RoadDistance = &d }
	}
	cliff := func(p *corrosion.Place) { p.SeaCliff = true }
	spring := func(yes bool) func(*corrosion.Place) {
		return func(p *corrosion.Place) { p.MineralSalts = &yes }
	}
	for _, tc := range []struct {
		name  string
		place *corrosion.Place
		want  corrosion.Risk
	}{
		{"sea, sheltered, warm", at(0.1*km, none, 32), high},
		{"sea at exactly 1 km, 20 degrees", at(km, none, 20), high},
		{"just under 20 degrees", at(km, none, 19.9), medium},
		{"washed by rain", at(km, rain, 32), medium},
		{"washed and cold", at(km, rain, 12), no},
		{"cleaning is not counted on", at(km, corrosion.Cleaned, 32), high},
		{"some kilometres inland, both", at(1.001*km, none, 20), medium},
		{"exactly 10 km, both", at(10*km, none, 20), medium},
		{"some kilometres inland, one", at(5*km, rain, 32), no},
		{"past 10 km", at(10.001*km, none, 40), no},
		{"S1 is no source", at(50*km, none, 32, salty(corrosion.S1)), no},
		{"S2 is a source", at(50*km, none, 32, salty(corrosion.S2)), high},
		{"above S3 is a source", at(50*km, none, 32, salty(corrosion.AboveS3)), high},
		{"salted road at 100 m", at(50*km, none, 32, road(100*quantity.Metre)), high},
		{"salted road past that", at(50*km, none, 32, road(101*quantity.Metre)), no},
		{"salted tunnel", at(50*km, none, 12, func(p *corrosion.Place) { p.RoadTunnel = true }), medium},
		{"sea cliff, whatever the distance", at(50*km, none, 32, cliff), high},
		{"sea cliff, nothing else on record", &corrosion.Place{SeaCliff: true}, high},
		{"sea cave", &corrosion.Place{Cave: corrosion.CaveSea, SurfaceTemperature: ptr(quantity.Temperature(12))}, medium},
		{"mineral salts", at(50*km, none, 32, spring(true)), high},
		{"no mineral salts", at(50*km, none, 32, spring(false)), no},
		{"washing and temperature not known count against", &corrosion.Place{SeaDistance: ptr(quantity.Length(km))}, high},
		{"washing not known", at(km, "", 12), medium},
		{"nothing on record", &corrosion.Place{}, notAsked},
		{"no mineral salts does not answer for the sea", &corrosion.Place{MineralSalts: ptr(false)}, notAsked},
		{"a hall", &corrosion.Place{Indoors: true}, no},
		{"a hall by the sea", at(0.1*km, none, 32, indoors), no},
		{"a pool hall", &corrosion.Place{Indoors: true, MineralSalts: ptr(true)}, high},
	} {
		if got := corrosion.Cracking(tc.place); got != tc.want {
			t.Errorf("%s: Cracking = %v, want %v", tc.name, got, tc.want)
		}
	}
}

// Not known never lowers the risk: of washing and of temperature.
func TestCrackingWithLessKnown(t *testing.T) {
	t.Parallel()
	order := map[corrosion.Risk]int{corrosion.RiskNone: 0, corrosion.RiskMedium: 1, corrosion.RiskHigh: 2}
	rapid.Check(t, func(t *rapid.T) {
		sea := quantity.Length(rapid.Float64Range(0, 15).Draw(t, "sea")) * km
		washing := rapid.SampledFrom([]corrosion.Washing{rain, corrosion.Cleaned, none}).Draw(t, "washing")
		known := at(sea, washing, quantity.Temperature(rapid.Float64Range(0, 50).Draw(t, "T")))
		less := *known
		if rapid.Bool().Draw(t, "washing unknown") {
			less.Washing = ""
		}
		if rapid.Bool().Draw(t, "temperature unknown") {
			less.SurfaceTemperature = nil
		}
		nearer := *known
		nearer.SeaDistance = ptr(sea / 2)
		risk := order[corrosion.Cracking(known)]
		if order[corrosion.Cracking(&less)] < risk || order[corrosion.Cracking(&nearer)] < risk {
			t.Fatalf("%+v: risk %v, with less known %v, nearer %v", known, risk, corrosion.Cracking(&less), corrosion.Cracking(&nearer))
		}
	})
}

// Judgement of this project: 316L after J. Fail. Anal. Prev. 8 (2008) 410,
// duplex after CEST 49 (2014) 535.
func TestConcernOf(t *testing.T) {
	t.Parallel()
	for g, want := range map[metal.Grade]corrosion.Concern{
		"1.4301": corrosion.Concerned, "1.4404": corrosion.Concerned, "1.4435": corrosion.Concerned,
		"1.4462": corrosion.ExpertNeeded, "1.4410": corrosion.ExpertNeeded, "1.4539": corrosion.ExpertNeeded,
		"1.4016": corrosion.ExpertNeeded, "1.9999": corrosion.ExpertNeeded,
		"1.4529": corrosion.NotConcerned, "1.4547": corrosion.NotConcerned, "1.4565": corrosion.NotConcerned,
		metal.Titanium2: corrosion.NotConcerned, metal.SteelBare: corrosion.NotConcerned, metal.Aluminium: corrosion.NotConcerned,
	} {
		if got := corrosion.ConcernOf(g); got != want {
			t.Errorf("ConcernOf(%v) = %v, want %v", g, got, want)
		}
	}
}

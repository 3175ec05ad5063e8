package corrosion_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/corrosion"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

const um = quantity.Micrometre

// Rates of ISO 9223:2012, Table 2, found; worked by hand.
func TestZincLifeIn(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		id                string
		thickness         quantity.Length
		category          corrosion.Category
		shortest, longest float64
	}{
		{"K80: a chart of the galvanizers' says 20 to 40", 85 * um, corrosion.C4, 20.24, 40.48},
		{"K81: rate found, use of the step from memory", 5 * um, corrosion.C3, 2.38, 7.14},
		{"K81: rate found, use of the step from memory", 25 * um, corrosion.C5, 2.98, 5.95},
		{"K106: dripping cave, judgement", 12 * um, corrosion.CaveCategory(corrosion.CaveDripping), 2.86, 5.71},
		{"below a year the power law is the shorter", 5 * um, corrosion.CX, 0.138, 0.531},
	} {
		got, err := corrosion.ZincLifeIn(tc.thickness, tc.category, corrosion.Exposed)
		if err != nil || got.Longest == nil || !near(got.Shortest, tc.shortest, 0.01) || !near(*got.Longest, tc.longest, 0.01) {
			t.Errorf("%s: ZincLifeIn(%v, %v) = %v, %v, want %v to %v", tc.id, tc.thickness, tc.category, got, err, tc.shortest, tc.longest)
		}
	}
}

// K106: zinc in the hole is taken to be gone; judgement.
func TestZincLifeInTheHole(t *testing.T) {
	t.Parallel()
	for _, c := range corrosion.Categories() {
		got, err := corrosion.ZincLifeIn(12*um, c, corrosion.InHole)
		if err != nil || got.Shortest != 0 || got.Longest == nil || *got.Longest != 0 {
			t.Errorf("ZincLifeIn(hole, %v) = %v, %v, want 0", c, got, err)
		}
	}
}

func TestZincLifeInOpenBands(t *testing.T) {
	t.Parallel()
	if got, err := corrosion.ZincLifeIn(85*um, corrosion.C1, corrosion.Exposed); err != nil || got.Longest != nil || !near(got.Shortest, 850, 0.01) {
		t.Errorf("ZincLifeIn(C1) = %v, %v, want from 850 without end", got, err)
	}
	got, err := corrosion.ZincLifeIn(50*um, corrosion.AboveCX, corrosion.Exposed)
	if err != nil || got.Shortest != 0 || got.Longest == nil || !near(*got.Longest, 2, 0.01) {
		t.Errorf("ZincLifeIn(above CX) = %v, %v, want 0 to 2", got, err)
	}
}

// Thickness over the rates of the band, linear; see testdata/SOURCES.md.
func TestZincLifeByTheTable(t *testing.T) {
	t.Parallel()
	for _, row := range table(t, "zinc_life.csv") {
		category, err := corrosion.ParseCategory(row["category"])
		if err != nil {
			t.Fatal(err)
		}
		band, err := corrosion.BandOf(corrosion.Zinc, category)
		if err != nil {
			t.Fatal(err)
		}
		thickness := quantity.Length(number(t, row, "thickness_um")) * um
		shortest, _ := corrosion.ZincLife(thickness, *band.High)
		longest, err := corrosion.ZincLife(thickness, band.Low)
		if err != nil || !near(shortest.Linear, number(t, row, "shortest_years"), 0.5) || !near(longest.Linear, number(t, row, "longest_years"), 0.5) {
			t.Errorf("%v: ZincLife = %v to %v, %v", row, shortest.Linear, longest.Linear, err)
		}
	}
}

// ISO 1461:2009, Annex E (linear) and ISO 9224:2012, both found; worked by hand.
func TestZincLife(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		id        string
		thickness quantity.Length
		rate      corrosion.PerYear
		want      corrosion.Life
		within    float64
	}{
		{"K82", 12 * um, 1.6418, corrosion.Life{Linear: 7.31, B1: 11.55, B2: 9.76}, 0.01},
		{"K83: past 20 years", 85 * um, 2.1, corrosion.Life{Linear: 40.48, B1: 82.58, B2: 64.92}, 0.02},
		{"no coating", 0, 2.1, corrosion.Life{}, 0},
	} {
		got, err := corrosion.ZincLife(tc.thickness, tc.rate)
		if err != nil || !near(got.Linear, tc.want.Linear, tc.within) || !near(got.B1, tc.want.B1, tc.within) || !near(got.B2, tc.want.B2, tc.within) {
			t.Errorf("%s: ZincLife(%v, %v) = %v, %v, want %v", tc.id, tc.thickness, tc.rate, got, err, tc.want)
		}
	}
	if got, err := corrosion.ZincLife(12*um, 0); err != nil || !math.IsInf(got.Least(), 1) {
		t.Errorf("ZincLife at no rate = %v, %v, want never", got, err)
	}
}

func TestZincLifeRejects(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	for _, tc := range [][2]float64{{-1, 2}, {nan, 2}, {1, -2}, {1, nan}, {math.Inf(1), 2}} {
		if got, err := corrosion.ZincLife(quantity.Length(tc[0]), corrosion.PerYear(tc[1])); fault.KindOf(err) != fault.Invalid {
			t.Errorf("ZincLife(%v) = %v, %v, want an error", tc, got, err)
		}
	}
	if got, err := corrosion.ZincLifeIn(quantity.Length(nan), corrosion.C3, corrosion.InHole); fault.KindOf(err) != fault.Invalid {
		t.Errorf("ZincLifeIn(NaN) = %v, %v, want an error", got, err)
	}
	if got, err := corrosion.ZincLifeIn(1, 0, corrosion.Exposed); fault.KindOf(err) != fault.Invalid {
		t.Errorf("ZincLifeIn(no category) = %v, %v, want an error", got, err)
	}
	if got, err := corrosion.ZincLifeIn(1, corrosion.C3, "lid"); fault.CodeOf(err) != fault.Unknown {
		t.Errorf("ZincLifeIn(lid) = %v, %v, want an error", got, err)
	}
}

// Linear is the least from a year up, B1 below; more zinc never lasts shorter.
func TestZincLifeLeast(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		thickness := quantity.Length(rapid.Float64Range(1, 200).Draw(t, "um")) * um
		rate := corrosion.PerYear(rapid.Float64Range(0.05, 100).Draw(t, "rate"))
		got, err := corrosion.ZincLife(thickness, rate)
		if err != nil {
			t.Fatal(err)
		}
		want := got.Linear
		if want < 1 {
			want = got.B1
		}
		if !near(got.Least(), want, 1e-9*want) {
			t.Fatalf("Least of %v = %v, want %v", got, got.Least(), want)
		}
		if more, err := corrosion.ZincLife(thickness*2, rate); err != nil || more.Least() < got.Least() {
			t.Fatalf("twice the zinc lasts %v, %v, once %v", more, err, got)
		}
	})
}

// K84: ISO 1461:2009, Table 3, found, confidence high.
func TestHotDip(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		article     corrosion.Article
		material    quantity.Length
		local, mean quantity.Length
	}{
		{corrosion.Steel, 8, 70, 85},
		{corrosion.Steel, 5, 55, 70},
		{corrosion.Steel, 2, 45, 55},
		{corrosion.Steel, 1, 35, 45},
		{corrosion.Steel, 6, 55, 70}, // edges belong to the thinner steel
		{corrosion.Steel, 3, 45, 55},
		{corrosion.Steel, 1.5, 45, 55},
		{corrosion.Casting, 6, 70, 80},
		{corrosion.Casting, 5.9, 60, 70},
		{corrosion.Threaded, 10, 40, 50}, // ISO 10684, found
	} {
		got, err := corrosion.HotDip(tc.article, tc.material)
		if err != nil || got.Local != tc.local*um || got.Mean != tc.mean*um {
			t.Errorf("HotDip(%v, %v) = %v, %v, want %v and %v µm", tc.article, tc.material, got, err, tc.local, tc.mean)
		}
	}
	for _, bad := range []quantity.Length{0, -1, quantity.Length(math.NaN()), quantity.Length(math.Inf(1))} {
		if got, err := corrosion.HotDip(corrosion.Steel, bad); fault.KindOf(err) != fault.Invalid {
			t.Errorf("HotDip(%v) = %v, %v, want an error", bad, got, err)
		}
	}
	if got, err := corrosion.HotDip("wire", 5); fault.CodeOf(err) != fault.Unknown {
		t.Errorf("HotDip(wire) = %v, %v, want an error", got, err)
	}
}

// Steps of ISO 2081:2018, from memory; sherardised classes found.
func TestCoatingSteps(t *testing.T) {
	t.Parallel()
	want := []quantity.Length{5 * um, 8 * um, 12 * um, 25 * um}
	got := corrosion.Platings()
	if len(got) != len(want) {
		t.Fatalf("Platings() = %v", got)
	}
	for i, p := range got {
		if p.Local != want[i] || p.Designation == "" || p.Use == "" {
			t.Errorf("Platings()[%d] = %v, want %v", i, p, want[i])
		}
	}
	if got := corrosion.Sherardising(); len(got) != 3 || got[0] != 15*um || got[2] != 45*um {
		t.Errorf("Sherardising() = %v, want 15, 30 and 45 µm", got)
	}
}

package corrosion_test

import (
	"encoding/json"
	"math"
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/corrosion"
	"rockledger/internal/fault"
)

// ISO 9223:2012, Table 2, found, confidence high.
func TestClassify(t *testing.T) {
	t.Parallel()
	const c1, c2, c3, c4, c5, cx, above = corrosion.C1, corrosion.C2, corrosion.C3, corrosion.C4, corrosion.C5, corrosion.CX, corrosion.AboveCX
	for _, tc := range []struct {
		id    string
		metal corrosion.Metal
		rate  corrosion.PerYear
		want  corrosion.Category
	}{
		{"K18", corrosion.CarbonSteel, 0, c1},
		{"K18", corrosion.CarbonSteel, 1.3, c1},
		{"K18", corrosion.CarbonSteel, 25, c2},
		{"K18", corrosion.CarbonSteel, 25.0001, c3},
		{"K18", corrosion.CarbonSteel, 80, c4},
		{"K18", corrosion.CarbonSteel, 200, c5},
		{"K18", corrosion.CarbonSteel, 700, cx},
		{"K18", corrosion.CarbonSteel, 700.1, above},
		{"K19", corrosion.Zinc, 0.1, c1},
		{"K19", corrosion.Zinc, 0.7, c2},
		{"K19", corrosion.Zinc, 2.1, c3},
		{"K19", corrosion.Zinc, 4.2, c4},
		{"K19", corrosion.Zinc, 8.4, c5},
		{"K19", corrosion.Zinc, 25, cx},
		{"K19", corrosion.Zinc, 26, above},
		{"K20", corrosion.Copper, 0.6, c2},
		{"K20", corrosion.Copper, 1.3, c3},
		{"K20", corrosion.Copper, 2.8, c4},
		{"K20", corrosion.Copper, 5.6, c5},
		{"K20", corrosion.Copper, 10, cx},
		{"K20", corrosion.Copper, 10.1, above},
		{"K21: nothing is C2 or lower", corrosion.Aluminium, 0, c2},
		{"K21", corrosion.Aluminium, corrosion.FromGrams(corrosion.Aluminium, 0.6), c2},
		{"K21", corrosion.Aluminium, corrosion.FromGrams(corrosion.Aluminium, 2), c3},
		{"K21", corrosion.Aluminium, corrosion.FromGrams(corrosion.Aluminium, 5), c4},
		{"K21", corrosion.Aluminium, corrosion.FromGrams(corrosion.Aluminium, 10), c5},
		{"K21: no upper end", corrosion.Aluminium, corrosion.FromGrams(corrosion.Aluminium, 10.1), cx},
		{"K21: no upper end", corrosion.Aluminium, 1e9, cx},
		{"unit trap: 1.5 g of aluminium, not 1.5 µm", corrosion.Aluminium, 1.5, c4},
	} {
		if got, err := corrosion.Classify(tc.metal, tc.rate); err != nil || got != tc.want {
			t.Errorf("%s: Classify(%v, %v) = %v, %v, want %v", tc.id, tc.metal, tc.rate, got, err, tc.want)
		}
	}
}

func TestClassifyRejects(t *testing.T) {
	t.Parallel()
	for _, r := range []float64{-0.001, math.NaN(), math.Inf(1)} {
		if got, err := corrosion.Classify(corrosion.Zinc, corrosion.PerYear(r)); fault.KindOf(err) != fault.Invalid {
			t.Errorf("Classify(zinc, %v) = %v, %v, want an error", r, got, err)
		}
	}
	if _, err := corrosion.Classify("stainless", 1); fault.CodeOf(err) != fault.Unknown {
		t.Errorf("Classify(stainless): %v", err)
	}
	if got := corrosion.FromGrams("stainless", 10); got != 0 {
		t.Errorf("FromGrams(stainless) = %v, want 0", got)
	}
}

// K04: 0.1286 µm of aluminium are 0.347 g/m2, at 2.7 g/cm3.
func TestGrams(t *testing.T) {
	t.Parallel()
	if got := corrosion.PerYear(0.1286).Grams(corrosion.Aluminium); !near(got, 0.347, 0.0005) {
		t.Errorf("Grams = %v, want 0.347", got)
	}
	// ISO 9223:2012, Table 2, states both columns, rounded.
	for _, tc := range []struct {
		metal     corrosion.Metal
		um, grams float64
	}{{corrosion.CarbonSteel, 25.4, 200}, {corrosion.Zinc, 0.70, 5}, {corrosion.Copper, 0.56, 5}} {
		if got := corrosion.FromGrams(tc.metal, tc.grams); !near(float64(got), tc.um, 0.05) {
			t.Errorf("FromGrams(%v, %v) = %v, want %v", tc.metal, tc.grams, got, tc.um)
		}
	}
}

// Every rate lies in the band of its category.
func TestBandHoldsItsRates(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(corrosion.Metals()).Draw(t, "metal")
		r := corrosion.PerYear(rapid.Float64Range(0, 1000).Draw(t, "rate"))
		c, err := corrosion.Classify(m, r)
		if err != nil {
			t.Fatal(err)
		}
		b, err := corrosion.BandOf(m, c)
		if err != nil || r < b.Low || b.High != nil && r > *b.High {
			t.Fatalf("BandOf(%v, %v) = %v, %v, does not hold %v", m, c, b, err, r)
		}
	})
}

func TestBandOfRejects(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		metal    corrosion.Metal
		category corrosion.Category
	}{{corrosion.Zinc, 0}, {corrosion.Zinc, 8}, {corrosion.Aluminium, corrosion.C1}, {corrosion.Aluminium, corrosion.AboveCX}, {"gold", corrosion.C3}} {
		if b, err := corrosion.BandOf(tc.metal, tc.category); fault.KindOf(err) != fault.Invalid {
			t.Errorf("BandOf(%v, %d) = %v, %v, want an error", tc.metal, tc.category, b, err)
		}
	}
	if b, err := corrosion.BandOf(corrosion.CarbonSteel, corrosion.AboveCX); err != nil || b.Low != 700 || b.High != nil {
		t.Errorf("BandOf(steel, above CX) = %v, %v, want above 700 and no end", b, err)
	}
}

func TestCategoryText(t *testing.T) {
	t.Parallel()
	for _, c := range append(corrosion.Categories(), 0) {
		data, err := json.Marshal(c)
		if err != nil {
			t.Fatal(err)
		}
		var got corrosion.Category
		if err := json.Unmarshal(data, &got); err != nil || got != c {
			t.Errorf("%s reads as %v, %v, want %v", data, got, err, c)
		}
	}
	if _, err := corrosion.ParseCategory("C6"); fault.CodeOf(err) != fault.Unknown {
		t.Errorf("ParseCategory(C6): %v", err)
	}
	if got := corrosion.Category(99).String(); got != "" {
		t.Errorf("String of no category = %q", got)
	}
	if got := corrosion.AboveCX.String(); got != "above CX" {
		t.Errorf("String = %q, want above CX", got)
	}
}

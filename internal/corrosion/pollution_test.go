package corrosion_test

import (
	"math"
	"testing"

	"rockledger/internal/corrosion"
)

// ISO 9223:2012, Annex B: depositions found, confidence high; concentrations
// from memory.
func TestPollutionClasses(t *testing.T) {
	t.Parallel()
	type classes = map[float64]string
	for _, tc := range []struct {
		id   string
		of   func(float64) (string, error)
		want classes
	}{
		{"K22", sulphur, classes{0: "P0", 4: "P0", 4.01: "P1", 24: "P1", 80: "P2", 200: "P3", 201: "above P3"}},
		{"K22, air, from memory", air, classes{5: "P0", 30: "P1", 90: "P2", 250: "P3", 251: "above P3"}},
		{"K23", chloride, classes{3: "S0", 60: "S1", 60.1: "S2", 300: "S2", 1500: "S3", 1501: "above S3"}},
	} {
		for x, want := range tc.want {
			if got, err := tc.of(x); err != nil || got != want {
				t.Errorf("%s: class of %v = %v, %v, want %v", tc.id, x, got, err, want)
			}
		}
		for _, x := range []float64{-1, math.NaN(), math.Inf(1)} {
			if got, err := tc.of(x); err == nil {
				t.Errorf("%s: class of %v = %v, want an error", tc.id, x, got)
			}
		}
	}
}

func sulphur(x float64) (string, error) {
	c, err := corrosion.SulphurClassOf(x)
	return c.String(), err
}

func air(x float64) (string, error) {
	c, err := corrosion.SulphurClassOfAir(x)
	return c.String(), err
}

func chloride(x float64) (string, error) {
	c, err := corrosion.ChlorideClassOf(x)
	return c.String(), err
}

// K24: Pd = 0.8 Pc, from memory, confidence low; Sd,c = 2.4 Sd,p, from memory.
func TestDeposition(t *testing.T) {
	t.Parallel()
	if got := corrosion.Deposition(19.7); !near(got, 15.76, 0.001) {
		t.Errorf("Deposition(19.7) = %v, want 15.76", got)
	}
	if got := corrosion.WetCandle(10); got != 24 {
		t.Errorf("WetCandle(10) = %v, want 24", got)
	}
}

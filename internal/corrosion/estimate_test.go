package corrosion_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/corrosion"
	"rockledger/internal/fault"
)

// K01 to K04 through the whole estimate; the range: ISO 9223:2012, Annex A,
// found.
func TestNewEstimate(t *testing.T) {
	t.Parallel()
	e, err := corrosion.NewEstimate(climate(10, 75, 5, 3), nil)
	if err != nil || e.Warnings != nil || len(e.Metals) != 4 || e.SulphurClass != corrosion.P1 || e.ChlorideClass != corrosion.S0 {
		t.Fatalf("NewEstimate = %+v, %v", e, err)
	}
	for i, want := range []struct {
		metal           corrosion.Metal
		rate, low, high float64
		of, from, to    corrosion.Category
	}{
		{corrosion.CarbonSteel, 21.8909, 14.6669, 32.8364, corrosion.C2, corrosion.C2, corrosion.C3},
		{corrosion.Zinc, 0.9645, 0.6462, 1.4468, corrosion.C3, corrosion.C2, corrosion.C3},
		{corrosion.Copper, 1.0075, 0.6750, 1.5113, corrosion.C3, corrosion.C3, corrosion.C4},
		{corrosion.Aluminium, 0.1286, 0.0643, 0.2572, corrosion.C2, corrosion.C2, corrosion.C3},
	} {
		m := e.Metals[i]
		if m.Metal != want.metal || !near(float64(m.Rate), want.rate, 0.001) || !near(float64(m.Low), want.low, 0.001) || !near(float64(m.High), want.high, 0.001) {
			t.Errorf("%v: %v from %v to %v, want %v", m.Metal, m.Rate, m.Low, m.High, want)
		}
		if m.Category != want.of || m.LowCategory != want.from || m.HighCategory != want.to || m.Loss != nil {
			t.Errorf("%v: %v from %v to %v, want %v; loss %v", m.Metal, m.Category, m.LowCategory, m.HighCategory, want, m.Loss)
		}
	}
	for _, s := range e.Sources {
		if s.Title == "" || s.Covers == "" || s.Confidence == "" {
			t.Errorf("source %+v lacks a word", s)
		}
	}
}

// K38 and K39 through the whole estimate.
func TestNewEstimateOverTheYears(t *testing.T) {
	t.Parallel()
	e, err := corrosion.NewEstimate(climate(16, 75, 2, 60), ptr(50.0))
	if err != nil {
		t.Fatal(err)
	}
	loss := e.Metals[0].Loss
	if loss == nil || loss.Years != 50 || !near(loss.B1.Micrometres(), 319.13, 0.02) || !near(loss.B2.Micrometres(), 389.23, 0.02) || e.Warnings != nil {
		t.Errorf("loss of carbon steel = %+v, want 319.13 and 389.23 µm; warnings %v", loss, e.Warnings)
	}
	if e, err := corrosion.NewEstimate(climate(16, 75, 2, 60), ptr(100.5)); err != nil || len(e.Warnings) != 1 || e.Warnings[0].Code != corrosion.YearsOutside {
		t.Errorf("past 100 years: warnings %v, %v", e.Warnings, err)
	}
}

// K16: a cave clamped to 93 %; K17: no deposition is warned of.
func TestNewEstimateOutsideTheModel(t *testing.T) {
	t.Parallel()
	e, err := corrosion.NewEstimate(climate(10, 100, 0.7, 0.4), nil)
	if err != nil || len(e.Warnings) != 1 || !near(float64(e.Metals[0].Rate), 11.3006, 0.001) || !near(float64(e.Metals[1].Rate), 0.8461, 0.001) {
		t.Errorf("K16: %+v, %v, want 11.3006 and 0.8461", e, err)
	}
	if e.Given.Humidity != 100 || e.Used.Humidity != 93 {
		t.Errorf("K16: given %v, used %v", e.Given, e.Used)
	}
	e, err = corrosion.NewEstimate(climate(10, 75, 0, 0), nil)
	if err != nil || len(e.Warnings) != 3 || e.Metals[0].Rate <= 0 {
		t.Errorf("K17: %+v, %v, want three warnings and a rate above 0", e, err)
	}
	// Above CX is told, not clamped: zinc by equation (2), worked by hand:
	// 0.2075 + 0.0175 × 8000^0.57 exp(0.64 + 2.295) = 55.4730.
	e, err = corrosion.NewEstimate(climate(27, 80, 2, 8000), nil)
	if err != nil || e.Metals[1].Category != corrosion.AboveCX || !near(float64(e.Metals[1].Rate), 55.4730, 0.001) {
		t.Errorf("above CX: %+v, %v", e.Metals[1], err)
	}
}

func TestNewEstimateRejects(t *testing.T) {
	t.Parallel()
	for _, years := range []float64{-1, math.NaN(), math.Inf(1), 1001} {
		_, err := corrosion.NewEstimate(climate(10, -1, 5, 3), &years)
		e, ok := fault.As(err)
		if !ok || e.Kind != fault.Invalid || len(e.Violations) != 2 || e.Violations[0].Field != corrosion.FieldHumidity || e.Violations[1].Field != corrosion.FieldYears {
			t.Errorf("NewEstimate(%v years): %v, want both violations", years, err)
		}
	}
}

// The range holds the rate, B2 loses at least as much as B1 from a year on, and
// nothing is NaN.
func TestNewEstimateHolds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		years := rapid.Float64Range(1, 1000).Draw(t, "years")
		e, err := corrosion.NewEstimate(drawClimate(t), &years)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range e.Metals {
			ordered := m.Low <= m.Rate && m.Rate <= m.High && m.LowCategory <= m.Category && m.Category <= m.HighCategory
			if !ordered || !(m.Loss.B1 > 0) || m.Loss.B2 < m.Loss.B1 || math.IsInf(float64(m.Loss.B2), 0) {
				t.Fatalf("%+v, loss %+v", m, *m.Loss)
			}
		}
	})
}

func BenchmarkNewEstimate(b *testing.B) {
	c, years := climate(16, 75, 2, 60), 50.0
	for b.Loop() {
		if _, err := corrosion.NewEstimate(c, &years); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSuits(b *testing.B) {
	p := at(5*km, none, 32)
	for b.Loop() {
		corrosion.Suits("1.4404", p)
	}
}

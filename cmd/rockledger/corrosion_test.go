package main

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/wording"
)

// climate is the one of the README: 10 degrees, 75 %, 5 and 3 mg/(m2 day).
var climate = []string{"corrosion", "--temperature", "10", "--humidity", "75", "--sulphur-dioxide", "5", "--chloride", "3"}

type estimate struct {
	Metals map[string]struct {
		Rate     float64 `json:"rate_um_per_year"`
		Category string  `json:"category"`
		Loss     *struct {
			B1 float64 `json:"b1"`
			B2 float64 `json:"b2"`
		} `json:"loss_um"`
	} `json:"metals"`
	Warnings []struct{ Code, Text string } `json:"warnings"`
	Caution  string                        `json:"caution"`
}

func estimateOf(t *testing.T, args ...string) estimate {
	t.Helper()
	var e estimate
	if err := json.Unmarshal([]byte(must(t, append(append(args[:0:0], climate...), append(args, "--format", "json")...)...)), &e); err != nil {
		t.Fatal(err)
	}
	return e
}

// The rate of carbon steel is worked out by hand from ISO 9223:2012, equation
// (1): T = 10, so f = 0.150 (10 - 10) = 0;
// 1.77 · 5^0.52 · e^(0.020·75) + 0.102 · 3^0.62 · e^(0.033·75 + 0.040·10) = 21.8909 µm.
func TestCorrosionJSON(t *testing.T) {
	t.Parallel()
	want := 1.77*math.Pow(5, 0.52)*math.Exp(0.020*75) + 0.102*math.Pow(3, 0.62)*math.Exp(0.033*75+0.040*10)
	e := estimateOf(t)
	steel := e.Metals["carbon_steel"]
	if math.Abs(steel.Rate-want) > 5e-4 || math.Abs(want-21.8909) > 5e-5 || steel.Category != "C2" || steel.Loss != nil {
		t.Errorf("carbon steel = %+v, want %.4f µm and C2, without a loss", steel, want)
	}
	if len(e.Metals) != 4 || len(e.Warnings) != 0 || e.Caution != wording.Caution {
		t.Errorf("estimate %+v, want four metals, no warning, the caution", e)
	}
}

// Twenty years by ISO 9224:2012, equation (1), with the exponents of its
// Table 2: 0.523 and 0.575.
func TestCorrosionYears(t *testing.T) {
	t.Parallel()
	steel := estimateOf(t, "--years", "20").Metals["carbon_steel"]
	if steel.Loss == nil {
		t.Fatal("no loss, want one for 20 years")
	}
	for _, c := range []struct{ got, b float64 }{{steel.Loss.B1, 0.523}, {steel.Loss.B2, 0.575}} {
		if want := steel.Rate * math.Pow(20, c.b); math.Abs(c.got-want) > 0.01 {
			t.Errorf("loss with exponent %v = %.4f µm, want %.4f", c.b, c.got, want)
		}
	}
}

func TestCorrosionText(t *testing.T) {
	t.Parallel()
	out := must(t, append(climate[:len(climate):len(climate)], "--years", "20")...)
	for _, want := range []string{"Carbon steel", "21.89", "C2", "ISO 9223:2012", "LOST IN 20 YEARS", wording.Caution} {
		if !strings.Contains(out, want) {
			t.Errorf("text lacks %q:\n%s", want, out)
		}
	}
}

func TestCorrosionWarns(t *testing.T) {
	t.Parallel()
	out := must(t, "corrosion", "--temperature=35", "--humidity=75", "--sulphur-dioxide=5", "--chloride=3")
	if !strings.Contains(out, "35 °C, lies outside the range of the model") {
		t.Errorf("text has no warning:\n%s", out)
	}
}

// What no climate has is refused, naming every field.
func TestCorrosionRejects(t *testing.T) {
	t.Parallel()
	_, err := command(t, "corrosion", "--temperature=10", "--humidity=120", "--sulphur-dioxide=-1", "--chloride=NaN", "--years=-3")
	if fault.KindOf(err) != fault.Invalid {
		t.Fatalf("impossible climate: %v, want invalid", err)
	}
	for _, field := range []string{"humidity_pct", "sulphur_dioxide_mg_per_m2_day", "chloride_mg_per_m2_day", "years"} {
		if !strings.Contains(explain(err), field) {
			t.Errorf("refusal does not name %s:\n%s", field, explain(err))
		}
	}
}

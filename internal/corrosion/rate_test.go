package corrosion_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/corrosion"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

func climate(t quantity.Temperature, rh, so2, cl float64) corrosion.Climate {
	return corrosion.Climate{Temperature: t, Humidity: rh, SulphurDioxide: so2, Chloride: cl}
}

// Worked by hand from the equations of ISO 9223:2012. (1) and (2) were found,
// confidence high; (3) and (4) are from memory, confidence medium.
func TestRate(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		id       string
		metal    corrosion.Metal
		climate  corrosion.Climate
		want     float64
		category corrosion.Category
		within   float64
	}{
		{"K01: equation 1", corrosion.CarbonSteel, climate(10, 75, 5, 3), 21.8909, corrosion.C2, 0.001},
		{"K02: equation 2", corrosion.Zinc, climate(10, 75, 5, 3), 0.9645, corrosion.C3, 0.0005},
		{"K03: equation 3, from memory", corrosion.Copper, climate(10, 75, 5, 3), 1.0075, corrosion.C3, 0.0005},
		{"K04: equation 4, from memory", corrosion.Aluminium, climate(10, 75, 5, 3), 0.1286, corrosion.C2, 0.0005},
		{"K05: equation 1 below 10 degrees", corrosion.CarbonSteel, climate(2, 80, 1, 1), 4.1889, corrosion.C2, 0.001},
		{"K06: equation 2 below 10 degrees", corrosion.Zinc, climate(2, 80, 1, 1), 0.4167, corrosion.C2, 0.0005},
		{"K07: equation 1 above 10 degrees", corrosion.CarbonSteel, climate(16, 75, 2, 60), 37.3262, corrosion.C3, 0.001},
		{"K08: equation 2 above 10 degrees", corrosion.Zinc, climate(16, 75, 2, 60), 1.6418, corrosion.C3, 0.0005},
		{"K09", corrosion.CarbonSteel, climate(27, 80, 2, 300), 149.5609, corrosion.C5, 0.005},
		{"K10", corrosion.Zinc, climate(27, 80, 2, 300), 8.7121, corrosion.CX, 0.0005},
		{"K11: upper corner of Table 3", corrosion.CarbonSteel, climate(28.7, 93, 150.4, 760.5), 479.1160, corrosion.CX, 0.01},
		{"K12: lower corner of Table 3", corrosion.CarbonSteel, climate(-17.1, 34, 0.7, 0.4), 0.1394, corrosion.C1, 0.0005},
		{"K13: Wanning, Corros. Sci. 52 (2010) 1796", corrosion.Zinc, climate(24.7, 87, 6, 38.7), 2.8487, corrosion.C4, 0.0005},
		{"K14: Shenyang, Corros. Sci. 52 (2010) 1796", corrosion.CarbonSteel, climate(9.2, 66, 76.51, 2.48), 58.3458, corrosion.C4, 0.001},
		{"K15: where the branches meet", corrosion.CarbonSteel, climate(10, 80, 40, 3), 63.9057, corrosion.C4, 0.001},
	} {
		got, err := corrosion.Rate(tc.metal, tc.climate)
		if err != nil || !near(got.MicrometresPerYear(), tc.want, tc.within) {
			t.Errorf("%s: Rate(%v, %v) = %.4f, %v, want %v", tc.id, tc.metal, tc.climate, got, err, tc.want)
		}
		category, err := corrosion.Classify(tc.metal, got)
		if err != nil || category != tc.category {
			t.Errorf("%s: Classify(%v, %v) = %v, %v, want %v", tc.id, tc.metal, got, category, err, tc.category)
		}
	}
}

// K15: both branches of the temperature meet at 10 degrees.
func TestRateIsContinuous(t *testing.T) {
	t.Parallel()
	for _, m := range corrosion.Metals() {
		at, _ := corrosion.Rate(m, climate(10, 80, 40, 3))
		past, _ := corrosion.Rate(m, climate(10+1e-9, 80, 40, 3))
		if !near(float64(at), float64(past), 1e-5) {
			t.Errorf("Rate(%v) at 10 degrees = %v, just past it %v", m, at, past)
		}
	}
}

// The worked evaluations of the four equations; see testdata/SOURCES.md.
func TestRateOfWorkedPlaces(t *testing.T) {
	t.Parallel()
	for _, row := range table(t, "dose_response.csv") {
		c := climate(quantity.Temperature(number(t, row, "temperature_c")), number(t, row, "humidity_percent"),
			number(t, row, "sulphur_dioxide_mg_m2_d"), number(t, row, "chloride_mg_m2_d"))
		for _, m := range corrosion.Metals() {
			got, err := corrosion.Rate(m, c)
			if err != nil || !near(float64(got), number(t, row, string(m)+"_um"), 6e-4) {
				t.Errorf("%s: Rate(%v) = %.4f, %v, want %v", row["id"], m, got, err, row[string(m)+"_um"])
			}
			if category, _ := corrosion.Classify(m, got); category.String() != row[string(m)] {
				t.Errorf("%s: Classify(%v, %v) = %v, want %v", row["id"], m, got, category, row[string(m)])
			}
		}
	}
}

// K25: carbon steel at Kopisty and two other sites, first exposure of ICP
// Materials 1987-88 as published by Tidblad et al. 2001; inputs and measured
// losses from memory, confidence low: a soft check against -33 and +50 %.
func TestRateAgainstMeasured(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		site     string
		climate  corrosion.Climate
		measured float64 // µm
		ratio    float64
	}{
		{"Kopisty", climate(9.6, 73, corrosion.Deposition(83.3), 0), 70.9, 0.90},
		{"Prague-Letnany", climate(9.5, 79, corrosion.Deposition(77.5), 0), 55.7, 1.22},
		{"Kasperske Hory", climate(7, 77, corrosion.Deposition(19.7), 0), 28.5, 0.77},
	} {
		got, err := corrosion.Rate(corrosion.CarbonSteel, tc.climate)
		ratio := float64(got) / tc.measured
		if err != nil || !near(ratio, tc.ratio, 0.01) || ratio < 0.67 || ratio > 1.5 {
			t.Errorf("%s: Rate = %v, %v: %.3f of the measured, want %v", tc.site, got, err, ratio, tc.ratio)
		}
	}
}

func TestRateRejects(t *testing.T) {
	t.Parallel()
	if _, err := corrosion.Rate("stainless", climate(10, 75, 5, 3)); fault.CodeOf(err) != fault.Unknown {
		t.Errorf("Rate(stainless): %v, want unknown", err)
	}
	nan := math.NaN()
	for _, tc := range []struct {
		climate corrosion.Climate
		field   string
		code    fault.Code
	}{
		{climate(quantity.Temperature(nan), 75, 5, 3), corrosion.FieldTemperature, fault.NotANumber},
		{climate(10, nan, 5, 3), corrosion.FieldHumidity, fault.NotANumber},
		{climate(10, 75, nan, 3), corrosion.FieldSulphurDioxide, fault.NotANumber},
		{climate(10, 75, 5, nan), corrosion.FieldChloride, fault.NotANumber},
		{climate(10, -1, 5, 3), corrosion.FieldHumidity, fault.Negative},
		{climate(10, 75, -0.1, 3), corrosion.FieldSulphurDioxide, fault.Negative},
		{climate(10, 75, 5, -3), corrosion.FieldChloride, fault.Negative},
		{climate(10, 101, 5, 3), corrosion.FieldHumidity, fault.OutOfRange},
		{climate(10, 75, math.Inf(1), 3), corrosion.FieldSulphurDioxide, fault.OutOfRange},
		{climate(283, 75, 5, 3), corrosion.FieldTemperature, fault.OutOfRange}, // kelvin
	} {
		_, err := corrosion.Rate(corrosion.Zinc, tc.climate)
		e, ok := fault.As(err)
		if !ok || e.Kind != fault.Invalid || len(e.Violations) != 1 || e.Violations[0].Field != tc.field || e.Violations[0].Code != tc.code {
			t.Errorf("Rate(%v): %v, want %s %s", tc.climate, err, tc.field, tc.code)
		}
	}
}

// More of a pollutant never loses less, and no climate gives NaN.
func TestRateGrowsWithPollution(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(corrosion.Metals()).Draw(t, "metal")
		c := drawClimate(t)
		more := c
		more.SulphurDioxide = min(more.SulphurDioxide+rapid.Float64Range(0, 500).Draw(t, "sulphur"), 10_000)
		more.Chloride = min(more.Chloride+rapid.Float64Range(0, 500).Draw(t, "chloride"), 10_000)
		for _, pair := range [][2]corrosion.Climate{{c, more}, {fitted(c), fitted(more)}} {
			less, err := corrosion.Rate(m, pair[0])
			if err != nil || math.IsNaN(float64(less)) || less < 0 {
				t.Fatalf("Rate(%v, %v) = %v, %v", m, pair[0], less, err)
			}
			if got, err := corrosion.Rate(m, pair[1]); err != nil || got < less {
				t.Fatalf("Rate(%v, %v) = %v, %v, below the %v of less pollution", m, pair[1], got, err, less)
			}
		}
	})
}

func fitted(c corrosion.Climate) corrosion.Climate {
	c, _ = c.Fitted()
	return c
}

func drawClimate(t *rapid.T) corrosion.Climate {
	return climate(quantity.Temperature(rapid.Float64Range(-90, 60).Draw(t, "T")), rapid.Float64Range(0, 100).Draw(t, "RH"),
		rapid.Float64Range(0, 10_000).Draw(t, "Pd"), rapid.Float64Range(0, 10_000).Draw(t, "Sd"))
}

func near(got, want, tolerance float64) bool { return math.Abs(got-want) <= tolerance }

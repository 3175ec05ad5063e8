package corrosion_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/corrosion"
)

// ISO 9223:2012, Table 3, found, confidence high; the treatments are judgement
// of this project.
func TestFitted(t *testing.T) {
	t.Parallel()
	low, high := climate(-17.1, 34, 0.7, 0.4), climate(28.7, 93, 150.4, 760.5)
	for _, tc := range []struct {
		name     string
		given    corrosion.Climate
		want     corrosion.Climate
		warnings []corrosion.Warning
	}{
		{"K11: the upper corner is inside", high, high, nil},
		{"K12: the lower corner is inside", low, low, nil},
		{"K16: a saturated cave", climate(10, 100, 0.7, 0.4), climate(10, 93, 0.7, 0.4), []corrosion.Warning{
			{Code: corrosion.HumidityOutside, Field: corrosion.FieldHumidity, Value: 100, Used: 93, Low: 34, High: 93, Treatment: corrosion.Clamped},
		}},
		{"K17: no deposition is no valid C1", climate(10, 75, 0, 0), climate(10, 75, 0.7, 0.4), []corrosion.Warning{
			{Code: corrosion.SulphurDioxideOutside, Field: corrosion.FieldSulphurDioxide, Value: 0, Used: 0.7, Low: 0.7, High: 150.4, Treatment: corrosion.Clamped},
			{Code: corrosion.ChlorideOutside, Field: corrosion.FieldChloride, Value: 0, Used: 0.4, Low: 0.4, High: 760.5, Treatment: corrosion.Clamped},
			{Code: corrosion.NoDeposition, Treatment: corrosion.Clamped},
		}},
		{"more salt than was fitted is not held back", climate(40, 75, 5, 900), climate(28.7, 75, 5, 900), []corrosion.Warning{
			{Code: corrosion.TemperatureOutside, Field: corrosion.FieldTemperature, Value: 40, Used: 28.7, Low: -17.1, High: 28.7, Treatment: corrosion.Clamped},
			{Code: corrosion.ChlorideOutside, Field: corrosion.FieldChloride, Value: 900, Used: 900, Low: 0.4, High: 760.5, Treatment: corrosion.Extrapolated},
		}},
	} {
		got, warnings := tc.given.Fitted()
		if diff := cmp.Diff(tc.want, got); diff != "" {
			t.Errorf("%s: climate (-want +got):\n%s", tc.name, diff)
		}
		if diff := cmp.Diff(tc.warnings, warnings); diff != "" {
			t.Errorf("%s: warnings (-want +got):\n%s", tc.name, diff)
		}
	}
}

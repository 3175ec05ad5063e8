package exchange_test

import (
	"bytes"
	"strings"
	"testing"

	"rockledger/internal/exchange"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

func TestWriteCorrosionText(t *testing.T) {
	t.Parallel()
	years := 25.0
	var b bytes.Buffer
	err := exchange.WriteCorrosionText(&b, report.Corrosion{
		Climate: report.Climate{TemperatureC: -20, HumidityPct: 75, SulphurDioxide: 5, Chloride: 3}, SulphurClass: "P1", ChlorideClass: "S0", Years: &years,
		Metals: []report.CorrosionMetal{{
			Name: "carbon_steel", RateUM: 21.8909, Category: "C2", LowUM: 14.667, LowCategory: "C2", HighUM: 32.836, HighCategory: "C3",
			B1: 0.523, B2: 0.575, LossUM: &report.LossByYears{B1: 118.4, B2: 140.2},
		}},
		Warnings: []report.CorrosionWarning{{Code: "temperature-outside-model", Values: registry.Values{
			{Name: "field", Text: "temperature_c"},
			{Name: "value", Text: "-20"},
			{Name: "used", Text: "-17.1"},
			{Name: "from", Text: "-17.1"},
			{Name: "to", Text: "28.7"},
			{Name: "treatment", Text: "clamped"},
		}}},
		Sources: []report.CorrosionSource{{Title: "ISO 9223:2012, Table 2", Covers: "categories", Confidence: "memory"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Carbon steel", "21.89", "C2 to C3", "LOST IN 25 YEARS", "118.4", "140.2", "classes P1 and S0",
		"The temperature, -20 °C, lies outside the range of the model (-17.1 to 28.7 °C); -17.1 °C was used",
		"ISO 9223:2012, Table 2: categories (from memory: check it against the standard)", wording.Caution,
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("text lacks %q:\n%s", want, b.String())
		}
	}
}

package app

import (
	"strconv"

	"rockledger/internal/corrosion"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// EstimateCorrosion returns what a climate does to the four metals in the open,
// by package corrosion, and for a number of years, nil for none, the depth
// lost. What no atmosphere can be is fault.Invalid naming every field.
func (s *Service) EstimateCorrosion(who registry.Actor, climate report.Climate, years *float64) (report.Corrosion, error) {
	if err := may(who, EstimateCorrosion); err != nil {
		return report.Corrosion{}, err
	}
	return CorrosionOf(climate, years)
}

// CorrosionOf is EstimateCorrosion for whoever needs no register to ask: the
// command line.
func CorrosionOf(climate report.Climate, years *float64) (report.Corrosion, error) {
	e, err := corrosion.NewEstimate(corrosion.Climate{
		Temperature: quantity.Temperature(climate.TemperatureC), Humidity: climate.HumidityPct,
		SulphurDioxide: climate.SulphurDioxide, Chloride: climate.Chloride,
	}, years)
	if err != nil {
		return report.Corrosion{}, err
	}
	out := report.Corrosion{
		Climate: climate, Years: years,
		Used: report.Climate{
			TemperatureC: e.Used.Temperature.Celsius(), HumidityPct: e.Used.Humidity,
			SulphurDioxide: e.Used.SulphurDioxide, Chloride: e.Used.Chloride,
		},
		SulphurClass: e.SulphurClass.String(), ChlorideClass: e.ChlorideClass.String(),
	}
	for _, m := range e.Metals {
		out.Metals = append(out.Metals, corrosionOf(m))
	}
	for _, w := range e.Warnings {
		out.Warnings = append(out.Warnings, corrosionWarning(w))
	}
	for _, src := range e.Sources {
		out.Sources = append(out.Sources, report.CorrosionSource{Title: src.Title, Covers: src.Covers, Confidence: string(src.Confidence)})
	}
	return out, nil
}

func corrosionOf(m corrosion.MetalEstimate) report.CorrosionMetal {
	b, _ := corrosion.ExponentsOf(m.Metal) // of the four there always are
	out := report.CorrosionMetal{
		Name: string(m.Metal), RateUM: m.Rate.MicrometresPerYear(), Category: m.Category.String(),
		LowUM: m.Low.MicrometresPerYear(), LowCategory: m.LowCategory.String(),
		HighUM: m.High.MicrometresPerYear(), HighCategory: m.HighCategory.String(),
		B1: b.B1, B2: b.B2,
	}
	if m.Loss != nil {
		out.LossUM = &report.LossByYears{B1: m.Loss.B1.Micrometres(), B2: m.Loss.B2.Micrometres()}
	}
	return out
}

// corrosionWarning names the values of a warning as wording takes them.
func corrosionWarning(w corrosion.Warning) report.CorrosionWarning {
	out := report.CorrosionWarning{Code: string(w.Code)}
	if w.Field == "" {
		return out
	}
	for _, v := range []struct {
		name string
		of   float64
	}{{"value", w.Value}, {"used", w.Used}, {"from", w.Low}, {"to", w.High}} {
		out.Values = append(out.Values, registry.Value{Name: v.name, Text: strconv.FormatFloat(v.of, 'f', -1, 64)})
	}
	out.Values = append(out.Values,
		registry.Value{Name: "field", Text: w.Field}, registry.Value{Name: "treatment", Text: string(w.Treatment)})
	return out
}

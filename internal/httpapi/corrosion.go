package httpapi

import (
	"context"

	"rockledger/api"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// EstimateCorrosion answers POST /v1/corrosion/estimate.
func (a *API) EstimateCorrosion(ctx context.Context, r api.EstimateCorrosionRequestObject) (api.EstimateCorrosionResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	b := *r.Body
	climate := report.Climate{
		TemperatureC: b.TemperatureC, HumidityPct: b.HumidityPct,
		SulphurDioxide: b.SulphurDioxideMgPerM2Day, Chloride: b.ChlorideMgPerM2Day,
	}
	made, err := a.service.EstimateCorrosion(who, climate, b.Years)
	if err != nil {
		return nil, err
	}
	return api.EstimateCorrosion200JSONResponse(CorrosionDocument(made)), nil
}

// CorrosionDocument is the estimate as the API answers it.
func CorrosionDocument(r report.Corrosion) api.CorrosionEstimate {
	return api.CorrosionEstimate{
		Used: api.CorrosionClimate{
			TemperatureC: r.Used.TemperatureC, HumidityPct: r.Used.HumidityPct,
			SulphurDioxideMgPerM2Day: r.Used.SulphurDioxide, ChlorideMgPerM2Day: r.Used.Chloride,
		},
		SulphurDioxideClass: r.SulphurClass, ChlorideClass: r.ChlorideClass, Years: r.Years,
		Metals:   corrosionMetalsOut(r.Metals),
		Warnings: each(r.Warnings, corrosionWarningOut),
		Sources: each(r.Sources, func(s report.CorrosionSource) api.CorrosionSource {
			return api.CorrosionSource{Title: s.Title, Covers: s.Covers, Confidence: s.Confidence}
		}),
		Caution: wording.Caution,
	}
}

func corrosionMetalsOut(list []report.CorrosionMetal) api.CorrosionMetals {
	var out api.CorrosionMetals
	at := map[string]*api.CorrosionMetal{
		"carbon_steel": &out.CarbonSteel, "zinc": &out.Zinc, "copper": &out.Copper, "aluminium": &out.Aluminium,
	}
	for _, m := range list {
		if to := at[m.Name]; to != nil {
			*to = corrosionMetalOut(m)
		}
	}
	return out
}

func corrosionMetalOut(m report.CorrosionMetal) api.CorrosionMetal {
	out := api.CorrosionMetal{
		RateUmPerYear: m.RateUM, Category: m.Category,
		LowUmPerYear: m.LowUM, LowCategory: m.LowCategory,
		HighUmPerYear: m.HighUM, HighCategory: m.HighCategory,
		B1: m.B1, B2: m.B2,
	}
	if m.LossUM != nil {
		out.LossUm = &api.CorrosionLoss{B1: m.LossUM.B1, B2: m.LossUM.B2}
	}
	return out
}

func corrosionWarningOut(w report.CorrosionWarning) api.CorrosionWarning {
	return api.CorrosionWarning{
		Code: w.Code, Values: valuesOut(w.Values), Text: wording.CorrosionWarning(w.Code, w.Values),
	}
}

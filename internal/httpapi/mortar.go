package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// EstimateMortar answers POST /v1/mortar/estimate.
func (a *API) EstimateMortar(ctx context.Context, r api.EstimateMortarRequestObject) (api.EstimateMortarResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	b := *r.Body
	made, err := a.service.EstimateMortar(ctx, who, report.MortarQuery{
		Holes: each(b.Holes, mortarHoleIn), Waste: b.Waste, CartridgeML: b.CartridgeMl, PurgeML: b.PurgeMl,
		Nozzles: b.NozzlesPerCartridge, ProductID: idIn(b.ProductId),
	})
	if err != nil {
		return nil, err
	}
	out := MortarDocument(made)
	if b.ProductId != uuid.Nil {
		out.Short = &made.Short
	}
	return api.EstimateMortar200JSONResponse(out), nil
}

func mortarHoleIn(h api.MortarHole) report.MortarHole {
	out := report.MortarHole{
		DiameterMM: h.HoleDiameterMm, DepthMM: h.HoleDepthMm, EmbeddedMM: h.EmbeddedMm, SteelAreaMM2: h.SteelAreaMm2,
		Count: 1, HolesEach: 1,
	}
	take(&out.ShankMM, h.ShankDiameterMm)
	take(&out.Count, h.Count)
	take(&out.HolesEach, h.HolesEach)
	return out
}

// take puts in what was sent.
func take[T any](to, v *T) {
	if v != nil {
		*to = *v
	}
}

// MortarDocument is the estimate as the API answers it.
func MortarDocument(m report.Mortar) api.MortarEstimate {
	return api.MortarEstimate{
		VolumeMl: m.VolumeML, Cartridges: m.Cartridges, Waste: m.Waste,
		CartridgeMl: m.CartridgeML, PurgeMl: m.PurgeML, NozzlesPerCartridge: m.Nozzles,
		Holes: each(m.Holes, func(l report.MortarLine) api.MortarLine {
			return api.MortarLine{NetMl: l.NetML, VolumeMl: l.VolumeML, Holes: l.Holes, HolesPerCartridge: l.PerCartridge}
		}),
		Batches: each(m.Batches, mortarBatchOut),
		Expired: each(m.Expired, func(b registry.Batch) api.MortarBatch {
			return mortarBatchOut(report.MortarBatch{Batch: b, Expiry: registry.Expired})
		}),
		Notes: each(m.Notes, func(n report.MortarNote) api.MortarNote {
			return api.MortarNote{Code: n.Code, Values: valuesOut(n.Values), Text: wording.MortarNote(n.Code, n.Values)}
		}),
		Caution: wording.Caution,
	}
}

func mortarBatchOut(b report.MortarBatch) api.MortarBatch {
	return api.MortarBatch{
		BatchId: b.Batch.ID, Text: b.Batch.Text, ExpiresOn: dateOut(b.Batch.ExpiresOn), Expiry: api.Expiry(b.Expiry),
		CountOnHand: b.Batch.OnHand, Take: b.Take,
	}
}

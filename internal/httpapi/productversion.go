package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/app"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListProductVersions answers GET /v1/products/{id}/versions.
func (a *API) ListProductVersions(ctx context.Context, r api.ListProductVersionsRequestObject) (api.ListProductVersionsResponseObject, error) {
	product, err := one(ctx, a, r.Id, a.service.Product)
	if err != nil {
		return nil, err
	}
	sheets, err := one(ctx, a, r.Id, a.service.ProductVersions)
	page := api.ProductVersionPageJSONResponse{Items: each(sheets, sheetOf(product)), Caution: wording.Caution}
	return api.ListProductVersions200JSONResponse{ProductVersionPageJSONResponse: page}, err
}

// AddProductVersion answers POST /v1/products/{id}/versions. A product that is
// not there is fault.NotFound, as for everything below it.
func (a *API) AddProductVersion(ctx context.Context, r api.AddProductVersionRequestObject) (api.AddProductVersionResponseObject, error) {
	product, err := one(ctx, a, r.Id, a.service.Product)
	if err != nil {
		return nil, err
	}
	x, created, err := add(ctx, a, productVersionIn(r.Id, *r.Body), a.service.AddProductVersion,
		func(v registry.ProductVersion) api.ProductVersionReplyJSONResponse {
			return api.ProductVersionReplyJSONResponse{ProductVersion: sheetOf(product)(v), Caution: wording.Caution}
		})
	if created {
		return api.AddProductVersion201JSONResponse(x), err
	}
	return api.AddProductVersion200JSONResponse{ProductVersionReplyJSONResponse: x}, err
}

// sheetOf returns how a sheet of a product is answered, with notes on figures
// that fall short.
func sheetOf(product registry.Product) func(registry.ProductVersion) api.ProductVersion {
	return func(v registry.ProductVersion) api.ProductVersion {
		out := productVersionOut(v)
		for _, n := range app.SheetNotes(product, v) {
			out.Notes = append(out.Notes, wording.SheetNote(n.Code, n.Values, n.Source))
		}
		return out
	}
}

func productVersionOut(v registry.ProductVersion) api.ProductVersion {
	return api.ProductVersion{
		Id: v.ID, ProductId: v.ProductID, From: dateOut(v.From), Source: v.Source,
		HoleDiameterMm: lengthOut(v.Hole), ShankDiameterMm: lengthOut(v.Shank),
		OverallLengthMm: lengthOut(v.Length), EmbeddedLengthMm: lengthOut(v.Embedded),
		RatedAxialKn: forceOut(v.AxialKN), RatedRadialKn: forceOut(v.RadialKN), Drawing: v.Drawing, Words: v.Words,
		SteelAreaMm2: v.SteelAreaMM2, EdgeLeastMm: lengthOut(v.EdgeLeast), SpacingLeastMm: lengthOut(v.SpacingLeast), TorqueNm: v.TorqueNM,
		CureRows: each(v.CureRows, cureRowOut), WetFactor: v.WetFactor, Moistures: relisted[api.ProductVersionMoistures](v.Moistures),
		RockLowC: degreesOut(v.RockLowC), RockHighC: degreesOut(v.RockHighC),
		CartridgeLowC: degreesOut(v.CartridgeLowC), CartridgeHighC: degreesOut(v.CartridgeHighC),
		CleaningCycles: v.CleaningCycles, ShelfMonths: v.ShelfMonths, CartridgeMl: v.CartridgeML,
	}
}

func productVersionIn(product uuid.UUID, b api.NewProductVersion) registry.ProductVersion {
	return registry.ProductVersion{
		ID: b.Id, ProductID: product, From: dateIn(b.From), Source: b.Source,
		Hole: lengthIn(b.HoleDiameterMm), Shank: lengthIn(b.ShankDiameterMm),
		Length: lengthIn(b.OverallLengthMm), Embedded: lengthIn(b.EmbeddedLengthMm),
		AxialKN: forceIn(b.RatedAxialKn), RadialKN: forceIn(b.RatedRadialKn), Drawing: b.Drawing, Words: b.Words,
		SteelAreaMM2: b.SteelAreaMm2, EdgeLeast: lengthIn(b.EdgeLeastMm), SpacingLeast: lengthIn(b.SpacingLeastMm), TorqueNM: b.TorqueNm,
		CureRows: cureRowsIn(b.CureRows), WetFactor: b.WetFactor, Moistures: relisted[registry.Moisture](b.Moistures),
		RockLowC: degreesIn(b.RockLowC), RockHighC: degreesIn(b.RockHighC),
		CartridgeLowC: degreesIn(b.CartridgeLowC), CartridgeHighC: degreesIn(b.CartridgeHighC),
		CleaningCycles: b.CleaningCycles, ShelfMonths: b.ShelfMonths, CartridgeML: b.CartridgeMl,
	}
}

func cureRowOut(r registry.CureRow) api.CureRow {
	return api.CureRow{
		FromC: r.FromC.Celsius(), ToC: r.ToC.Celsius(),
		WorkMinutes: r.WorkMinutes, CureMinutes: r.CureMinutes, CureWetMinutes: r.CureWetMinutes,
	}
}

// cureRowsIn is nil for no rows, as they are stored.
func cureRowsIn(list []api.CureRow) []registry.CureRow {
	if len(list) == 0 {
		return nil
	}
	return each(list, func(r api.CureRow) registry.CureRow {
		return registry.CureRow{
			FromC: quantity.Temperature(r.FromC), ToC: quantity.Temperature(r.ToC),
			WorkMinutes: r.WorkMinutes, CureMinutes: r.CureMinutes, CureWetMinutes: r.CureWetMinutes,
		}
	})
}

// relisted turns a list of one closed list's type into another's; nil for none.
func relisted[B, A ~string](list []A) []B {
	if len(list) == 0 {
		return nil
	}
	return each(list, func(a A) B { return B(a) })
}

func degreesOut(t *quantity.Temperature) *float64 {
	if t == nil {
		return nil
	}
	c := t.Celsius()
	return &c
}

func degreesIn(c *float64) *quantity.Temperature {
	if c == nil {
		return nil
	}
	t := quantity.Temperature(*c)
	return &t
}

func forceOut(f *quantity.Force) *float64 {
	if f == nil {
		return nil
	}
	kn := float64(*f)
	return &kn
}

func forceIn(kn *float64) *quantity.Force {
	if kn == nil {
		return nil
	}
	f := quantity.Force(*kn)
	return &f
}

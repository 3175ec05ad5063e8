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
	}
}

func productVersionIn(product uuid.UUID, b api.NewProductVersion) registry.ProductVersion {
	return registry.ProductVersion{
		ID: b.Id, ProductID: product, From: dateIn(b.From), Source: b.Source,
		Hole: lengthIn(b.HoleDiameterMm), Shank: lengthIn(b.ShankDiameterMm),
		Length: lengthIn(b.OverallLengthMm), Embedded: lengthIn(b.EmbeddedLengthMm),
		AxialKN: forceIn(b.RatedAxialKn), RadialKN: forceIn(b.RatedRadialKn), Drawing: b.Drawing, Words: b.Words,
	}
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

package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListEnvironments answers GET /v1/environments.
func (a *API) ListEnvironments(ctx context.Context, r api.ListEnvironmentsRequestObject) (api.ListEnvironmentsResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, environmentID, of(r.Params.SiteId, a.service.Environments))
	page := api.EnvironmentPageJSONResponse{Items: each(items, environmentOut), NextCursor: next, Caution: wording.Caution}
	return api.ListEnvironments200JSONResponse{EnvironmentPageJSONResponse: page}, err
}

// AddEnvironment answers POST /v1/environments.
func (a *API) AddEnvironment(ctx context.Context, r api.AddEnvironmentRequestObject) (api.AddEnvironmentResponseObject, error) {
	x, created, err := add(ctx, a, environmentIn(*r.Body), a.service.AddEnvironment, environmentReply)
	if created {
		return api.AddEnvironment201JSONResponse{Body: x.Body, Headers: api.AddEnvironment201ResponseHeaders(x.Headers)}, err
	}
	return api.AddEnvironment200JSONResponse{EnvironmentReplyJSONResponse: x}, err
}

// GetEnvironment answers GET /v1/environments/{id}.
func (a *API) GetEnvironment(ctx context.Context, r api.GetEnvironmentRequestObject) (api.GetEnvironmentResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Environment, environmentReply)
	return api.GetEnvironment200JSONResponse{EnvironmentReplyJSONResponse: x}, err
}

// ChangeEnvironment answers PATCH /v1/environments/{id}.
func (a *API) ChangeEnvironment(ctx context.Context, r api.ChangeEnvironmentRequestObject) (api.ChangeEnvironmentResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, environmentEdit(*r.Body), a.service.ChangeEnvironment, environmentReply)
	return api.ChangeEnvironment200JSONResponse{EnvironmentReplyJSONResponse: x}, err
}

func environmentID(e registry.Environment) uuid.UUID { return e.ID }

func environmentReply(e registry.Environment) api.EnvironmentReplyJSONResponse {
	out := environmentOut(e)
	out.Caution = wording.Caution
	return api.EnvironmentReplyJSONResponse{Body: out, Headers: api.EnvironmentReplyResponseHeaders{ETag: etag(e.Version)}}
}

func environmentOut(e registry.Environment) api.Environment {
	return api.Environment{
		Id: e.ID, Version: e.Version, SiteId: e.SiteID, PlaceKind: api.PlaceKind(e.Place.Kind), PlaceId: e.Place.ID,
		From: dateOut(e.From), Until: dateOut(e.Until), Preset: api.Preset(e.Preset), Source: e.Source,
		TemperatureC: e.TemperatureC, HumidityPct: e.HumidityPct,
		SulphurDioxideMgPerM2Day: e.SulphurDioxide, ChlorideMgPerM2Day: e.Chloride,
		SteelCategory: api.Category(e.SteelCategory), ZincCategory: api.Category(e.ZincCategory),
		CopperCategory: api.Category(e.CopperCategory), AluminiumCategory: api.Category(e.AluminiumCategory),
		SeaKm: e.SeaKm, RoadKm: e.RoadKm, Coast: api.Coast(e.Coast), MineralSalts: e.MineralSalts,
		Wetness: api.Wetness(e.Wetness), Washed: e.Washed, SurfaceMaxC: e.SurfaceMaxC,
	}
}

func environmentIn(b api.NewEnvironment) registry.Environment {
	return registry.Environment{
		ID: b.Id, Place: registry.Place{Kind: registry.PlaceKind(b.PlaceKind), ID: b.PlaceId},
		From: dateIn(b.From), Until: dateIn(b.Until), Preset: string(b.Preset), Source: b.Source,
		TemperatureC: b.TemperatureC, HumidityPct: b.HumidityPct,
		SulphurDioxide: b.SulphurDioxideMgPerM2Day, Chloride: b.ChlorideMgPerM2Day,
		SteelCategory: registry.Category(b.SteelCategory), ZincCategory: registry.Category(b.ZincCategory),
		CopperCategory: registry.Category(b.CopperCategory), AluminiumCategory: registry.Category(b.AluminiumCategory),
		SeaKm: b.SeaKm, RoadKm: b.RoadKm, Coast: registry.Coast(b.Coast), MineralSalts: b.MineralSalts,
		Wetness: registry.Wetness(b.Wetness), Washed: b.Washed, SurfaceMaxC: b.SurfaceMaxC,
	}
}

func environmentEdit(p api.EnvironmentPatch) func(*registry.Environment) error {
	return edit(func(e *registry.Environment) {
		setDate(p.From, &e.From)
		setDate(p.Until, &e.Until)
		setWord(p.Source, &e.Source)
		setPointer(p.TemperatureC, &e.TemperatureC)
		setPointer(p.HumidityPct, &e.HumidityPct)
		setPointer(p.SulphurDioxideMgPerM2Day, &e.SulphurDioxide)
		setPointer(p.ChlorideMgPerM2Day, &e.Chloride)
		setWord(p.SteelCategory, &e.SteelCategory)
		setWord(p.ZincCategory, &e.ZincCategory)
		setWord(p.CopperCategory, &e.CopperCategory)
		setWord(p.AluminiumCategory, &e.AluminiumCategory)
		setPointer(p.SeaKm, &e.SeaKm)
		setPointer(p.RoadKm, &e.RoadKm)
		setWord(p.Coast, &e.Coast)
		setPointer(p.MineralSalts, &e.MineralSalts)
		setWord(p.Wetness, &e.Wetness)
		setPointer(p.Washed, &e.Washed)
		setPointer(p.SurfaceMaxC, &e.SurfaceMaxC)
	})
}

// GetPositionEnvironment answers GET /v1/positions/{id}/environment.
func (a *API) GetPositionEnvironment(ctx context.Context, r api.GetPositionEnvironmentRequestObject) (api.GetPositionEnvironmentResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	asOf := dateIn(r.Params.AsOf)
	if asOf.IsZero() {
		asOf = a.service.AsOf(who)
	}
	fields, err := a.service.EnvironmentAt(ctx, who, r.Id, asOf)
	if err != nil {
		return nil, err
	}
	return api.GetPositionEnvironment200JSONResponse{PositionEnvironmentReplyJSONResponse: api.PositionEnvironmentReplyJSONResponse{
		PositionId: r.Id, AsOf: dateOut(asOf), Fields: each(fields, environmentFieldOut), Caution: wording.Caution,
	}}, nil
}

func environmentFieldOut(f registry.EnvironmentField) api.EnvironmentField {
	return api.EnvironmentField{
		Field: f.Field, Value: f.Value, PlaceKind: api.PlaceKind(f.Place.Kind), PlaceId: f.Place.ID,
		EnvironmentId: f.EnvironmentID, From: dateOut(f.From),
	}
}

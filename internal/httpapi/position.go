package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// placed is a position with its stops on routes. In lists the stops are not
// read.
type placed struct {
	registry.Position
	stops []registry.Stop
}

// ListPositions answers GET /v1/positions.
func (a *API) ListPositions(ctx context.Context, r api.ListPositionsRequestObject) (api.ListPositionsResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, positionID,
		func(ctx context.Context, who registry.Actor, p registry.Page) ([]registry.Position, error) {
			return a.service.Positions(ctx, who, idIn(r.Params.SiteId), idIn(r.Params.RouteId), p)
		})
	page := api.PositionPageJSONResponse{Items: each(items, positionOut), NextCursor: next, Caution: wording.Caution}
	return api.ListPositions200JSONResponse{PositionPageJSONResponse: page}, err
}

// AddPosition answers POST /v1/positions.
func (a *API) AddPosition(ctx context.Context, r api.AddPositionRequestObject) (api.AddPositionResponseObject, error) {
	x, created, err := add(ctx, a, positionIn(*r.Body), a.addPlaced, placedReply)
	if created {
		return api.AddPosition201JSONResponse{Body: x.Body, Headers: api.AddPosition201ResponseHeaders(x.Headers)}, err
	}
	return api.AddPosition200JSONResponse{PositionReplyJSONResponse: x}, err
}

// GetPosition answers GET /v1/positions/{id}.
func (a *API) GetPosition(ctx context.Context, r api.GetPositionRequestObject) (api.GetPositionResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.placed, placedReply)
	return api.GetPosition200JSONResponse{PositionReplyJSONResponse: x}, err
}

// ChangePosition answers PATCH /v1/positions/{id}.
func (a *API) ChangePosition(ctx context.Context, r api.ChangePositionRequestObject) (api.ChangePositionResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, positionEdit(*r.Body), a.changePlaced, placedReply)
	return api.ChangePosition200JSONResponse{PositionReplyJSONResponse: x}, err
}

func (a *API) placed(ctx context.Context, who registry.Actor, id uuid.UUID) (placed, error) {
	p, err := a.service.Position(ctx, who, id)
	if err != nil {
		return placed{}, err
	}
	return a.withStops(ctx, who, p)
}

func (a *API) withStops(ctx context.Context, who registry.Actor, p registry.Position) (placed, error) {
	stops, err := a.service.Stops(ctx, who, p.ID)
	return placed{p, stops}, err
}

func (a *API) addPlaced(ctx context.Context, who registry.Actor, n placed) (placed, bool, error) {
	p, created, err := a.service.AddPosition(ctx, who, n.Position, n.stops)
	if err != nil {
		return placed{}, false, err
	}
	n, err = a.withStops(ctx, who, p)
	return n, created, err
}

func (a *API) changePlaced(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*placed) error) (placed, error) {
	p, err := a.service.ChangePosition(ctx, who, id, version, func(p *registry.Position, stops *[]registry.Stop) error {
		n := placed{*p, *stops}
		err := edit(&n)
		*p, *stops = n.Position, n.stops
		return err
	})
	if err != nil {
		return placed{}, err
	}
	return a.withStops(ctx, who, p)
}

func positionID(p registry.Position) uuid.UUID { return p.ID }

func placedReply(n placed) api.PositionReplyJSONResponse {
	out := positionOut(n.Position)
	out.Stops = each(n.stops, func(s registry.Stop) api.Stop { return api.Stop{RouteId: s.RouteID, Rank: s.Rank} })
	out.Caution = wording.Caution
	return api.PositionReplyJSONResponse{Body: out, Headers: api.PositionReplyResponseHeaders{ETag: etag(n.Version)}}
}

func positionOut(p registry.Position) api.Position {
	return api.Position{
		Id: p.ID, Version: p.Version, SiteId: p.SiteID, SectorId: idOut(p.SectorID), Label: p.Label,
		Role: api.PositionRole(p.Role), Face: api.Face(p.Face), BackedUp: p.BackedUp,
		Lat: p.Lat, Lon: p.Lon, HowToFind: p.HowTo, ParcelId: idOut(p.ParcelID), ParcelByHand: p.ParcelByHand,
		Notes: p.Notes, EndedOn: dateOut(p.EndedOn),
	}
}

// positionIn takes a parcel that is given as named by hand.
func positionIn(b api.NewPosition) placed {
	parcel := idIn(b.ParcelId)
	return placed{registry.Position{
		ID: b.Id, SiteID: b.SiteId, SectorID: idIn(b.SectorId), Label: b.Label,
		Role: registry.PositionRole(b.Role), Face: registry.Face(b.Face), BackedUp: b.BackedUp,
		Lat: b.Lat, Lon: b.Lon, HowTo: b.HowToFind, ParcelID: parcel, ParcelByHand: parcel != nil, Notes: b.Notes,
	}, stopsIn(b.Id, b.Stops)}
}

func stopsIn(position uuid.UUID, list []api.Stop) []registry.Stop {
	return each(list, func(s api.Stop) registry.Stop {
		return registry.Stop{RouteID: s.RouteId, PositionID: position, Rank: s.Rank}
	})
}

// positionEdit takes a parcel that is given as named by hand, and null as left
// to the outlines, unless parcel_by_hand says otherwise.
func positionEdit(p api.PositionPatch) func(*placed) error {
	return edit(func(n *placed) {
		setPointer(p.SectorId, &n.SectorID)
		setWord(p.Label, &n.Label)
		setWord(p.Role, &n.Role)
		setWord(p.Face, &n.Face)
		setPointer(p.BackedUp, &n.BackedUp)
		setPointer(p.Lat, &n.Lat)
		setPointer(p.Lon, &n.Lon)
		setWord(p.HowToFind, &n.HowTo)
		if setPointer(p.ParcelId, &n.ParcelID); p.ParcelId.IsSpecified() {
			n.ParcelByHand = n.ParcelID != nil
		}
		set(p.ParcelByHand, &n.ParcelByHand)
		setWord(p.Notes, &n.Notes)
		setWith(p.Stops, func(list []api.Stop) { n.stops = stopsIn(n.ID, list) })
		setDate(p.EndedOn, &n.EndedOn)
	})
}

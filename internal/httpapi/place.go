package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
)

// ListSites answers GET /v1/sites.
func (a *API) ListSites(ctx context.Context, r api.ListSitesRequestObject) (api.ListSitesResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, siteID, a.service.Sites)
	if err != nil {
		return nil, err
	}
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	return api.ListSites200JSONResponse{
		Items:      each(items, func(s registry.Site) api.Site { return siteOut(s, who) }),
		NextCursor: next,
	}, nil
}

// GetSite answers GET /v1/sites/{id}.
func (a *API) GetSite(ctx context.Context, r api.GetSiteRequestObject) (api.GetSiteResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	s, err := a.service.Site(ctx, who, r.Id)
	if err != nil {
		return nil, err
	}
	return api.GetSite200JSONResponse(siteOut(s, who)), nil
}

// ListSectors answers GET /v1/sectors.
func (a *API) ListSectors(ctx context.Context, r api.ListSectorsRequestObject) (api.ListSectorsResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, sectorID,
		func(ctx context.Context, who registry.Actor, p registry.Page) ([]registry.Sector, error) {
			return a.service.Sectors(ctx, who, idIn(r.Params.SiteId), p)
		})
	if err != nil {
		return nil, err
	}
	return api.ListSectors200JSONResponse{Items: each(items, sectorOut), NextCursor: next}, nil
}

// GetSector answers GET /v1/sectors/{id}.
func (a *API) GetSector(ctx context.Context, r api.GetSectorRequestObject) (api.GetSectorResponseObject, error) {
	s, err := one(ctx, a, r.Id, a.service.Sector)
	if err != nil {
		return nil, err
	}
	return api.GetSector200JSONResponse(sectorOut(s)), nil
}

// ListRoutes answers GET /v1/routes.
func (a *API) ListRoutes(ctx context.Context, r api.ListRoutesRequestObject) (api.ListRoutesResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, routeID,
		func(ctx context.Context, who registry.Actor, p registry.Page) ([]registry.Route, error) {
			return a.service.Routes(ctx, who, idIn(r.Params.SiteId), p)
		})
	if err != nil {
		return nil, err
	}
	return api.ListRoutes200JSONResponse{Items: each(items, routeOut), NextCursor: next}, nil
}

// GetRoute answers GET /v1/routes/{id}.
func (a *API) GetRoute(ctx context.Context, r api.GetRouteRequestObject) (api.GetRouteResponseObject, error) {
	v, err := one(ctx, a, r.Id, a.service.Route)
	if err != nil {
		return nil, err
	}
	return api.GetRoute200JSONResponse(routeOut(v)), nil
}

// ListPositions answers GET /v1/positions.
func (a *API) ListPositions(ctx context.Context, r api.ListPositionsRequestObject) (api.ListPositionsResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, positionID,
		func(ctx context.Context, who registry.Actor, p registry.Page) ([]registry.Position, error) {
			return a.service.Positions(ctx, who, idIn(r.Params.SiteId), idIn(r.Params.RouteId), p)
		})
	if err != nil {
		return nil, err
	}
	return api.ListPositions200JSONResponse{Items: each(items, positionOut), NextCursor: next}, nil
}

// GetPosition answers GET /v1/positions/{id}.
func (a *API) GetPosition(ctx context.Context, r api.GetPositionRequestObject) (api.GetPositionResponseObject, error) {
	p, err := one(ctx, a, r.Id, a.service.Position)
	if err != nil {
		return nil, err
	}
	return api.GetPosition200JSONResponse(positionOut(p)), nil
}

// list reads one page for who is asking, and the cursor after it.
func list[T any](ctx context.Context, a *API, limit int, cursor string, id func(T) uuid.UUID,
	read func(context.Context, registry.Actor, registry.Page) ([]T, error),
) ([]T, string, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, "", err
	}
	p, err := page(limit, cursor)
	if err != nil {
		return nil, "", err
	}
	rows, err := read(ctx, who, p)
	if err != nil {
		return nil, "", err
	}
	return rows, nextCursor(rows, p, id), nil
}

// one reads one thing for who is asking.
func one[T any](ctx context.Context, a *API, id uuid.UUID,
	read func(context.Context, registry.Actor, uuid.UUID) (T, error),
) (T, error) {
	who, err := a.who(ctx)
	if err != nil {
		var none T
		return none, err
	}
	return read(ctx, who, id)
}

func siteID(s registry.Site) uuid.UUID         { return s.ID }
func sectorID(s registry.Sector) uuid.UUID     { return s.ID }
func routeID(r registry.Route) uuid.UUID       { return r.ID }
func positionID(p registry.Position) uuid.UUID { return p.ID }

// siteOut keeps a cave's coordinates to those who look after the inventory.
func siteOut(s registry.Site, who registry.Actor) api.Site {
	out := api.Site{
		Id: s.ID, Version: s.Version, Name: s.Name,
		Kind: api.SiteKind(s.Kind), Rock: api.RockClass(s.Rock), RockText: s.RockWords,
		Lat: s.Lat, Lon: s.Lon,
		FirstRoundEnds: dateOut(s.FirstRoundEnds), Notes: s.Notes,
	}
	if who.Role.Rank() >= registry.RoleSteward.Rank() {
		out.CoordinatesText = s.CoordinateWords
	}
	return out
}

func sectorOut(s registry.Sector) api.Sector {
	return api.Sector{Id: s.ID, Version: s.Version, SiteId: s.SiteID, Name: s.Name}
}

func routeOut(r registry.Route) api.Route {
	return api.Route{
		Id: r.ID, Version: r.Version, SiteId: r.SiteID, SectorId: idOut(r.SectorID), Name: r.Name,
		Kind: api.RouteKind(r.Kind), Traffic: api.Traffic(r.Traffic),
	}
}

func positionOut(p registry.Position) api.Position {
	return api.Position{
		Id: p.ID, Version: p.Version, SiteId: p.SiteID, SectorId: idOut(p.SectorID), Label: p.Label,
		Role: api.PositionRole(p.Role), Face: api.Face(p.Face), BackedUp: p.BackedUp,
		Lat: p.Lat, Lon: p.Lon, HowToFind: p.HowTo, ParcelId: idOut(p.ParcelID), Notes: p.Notes,
	}
}

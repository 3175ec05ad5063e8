package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListSites answers GET /v1/sites.
func (a *API) ListSites(ctx context.Context, r api.ListSitesRequestObject) (api.ListSitesResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, siteID, a.service.Sites)
	page := api.SitePageJSONResponse{Items: each(items, a.siteSeen(ctx)), NextCursor: next, Caution: wording.Caution}
	return api.ListSites200JSONResponse{SitePageJSONResponse: page}, err
}

// AddSite answers POST /v1/sites.
func (a *API) AddSite(ctx context.Context, r api.AddSiteRequestObject) (api.AddSiteResponseObject, error) {
	x, created, err := add(ctx, a, siteIn(*r.Body), a.service.AddSite, a.siteReply(ctx))
	if created {
		return api.AddSite201JSONResponse{Body: x.Body, Headers: api.AddSite201ResponseHeaders(x.Headers)}, err
	}
	return api.AddSite200JSONResponse{SiteReplyJSONResponse: x}, err
}

// GetSite answers GET /v1/sites/{id}.
func (a *API) GetSite(ctx context.Context, r api.GetSiteRequestObject) (api.GetSiteResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Site, a.siteReply(ctx))
	return api.GetSite200JSONResponse{SiteReplyJSONResponse: x}, err
}

// ChangeSite answers PATCH /v1/sites/{id}.
func (a *API) ChangeSite(ctx context.Context, r api.ChangeSiteRequestObject) (api.ChangeSiteResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, siteEdit(*r.Body), a.service.ChangeSite, a.siteReply(ctx))
	return api.ChangeSite200JSONResponse{SiteReplyJSONResponse: x}, err
}

// ListSectors answers GET /v1/sectors.
func (a *API) ListSectors(ctx context.Context, r api.ListSectorsRequestObject) (api.ListSectorsResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, sectorID, of(r.Params.SiteId, a.service.Sectors))
	page := api.SectorPageJSONResponse{Items: each(items, sectorOut), NextCursor: next, Caution: wording.Caution}
	return api.ListSectors200JSONResponse{SectorPageJSONResponse: page}, err
}

// AddSector answers POST /v1/sectors.
func (a *API) AddSector(ctx context.Context, r api.AddSectorRequestObject) (api.AddSectorResponseObject, error) {
	x, created, err := add(ctx, a, sectorIn(*r.Body), a.service.AddSector, sectorReply)
	if created {
		return api.AddSector201JSONResponse{Body: x.Body, Headers: api.AddSector201ResponseHeaders(x.Headers)}, err
	}
	return api.AddSector200JSONResponse{SectorReplyJSONResponse: x}, err
}

// GetSector answers GET /v1/sectors/{id}.
func (a *API) GetSector(ctx context.Context, r api.GetSectorRequestObject) (api.GetSectorResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Sector, sectorReply)
	return api.GetSector200JSONResponse{SectorReplyJSONResponse: x}, err
}

// ChangeSector answers PATCH /v1/sectors/{id}.
func (a *API) ChangeSector(ctx context.Context, r api.ChangeSectorRequestObject) (api.ChangeSectorResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, sectorEdit(*r.Body), a.service.ChangeSector, sectorReply)
	return api.ChangeSector200JSONResponse{SectorReplyJSONResponse: x}, err
}

// ListRoutes answers GET /v1/routes.
func (a *API) ListRoutes(ctx context.Context, r api.ListRoutesRequestObject) (api.ListRoutesResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, routeID, of(r.Params.SiteId, a.service.Routes))
	page := api.RoutePageJSONResponse{Items: each(items, routeOut), NextCursor: next, Caution: wording.Caution}
	return api.ListRoutes200JSONResponse{RoutePageJSONResponse: page}, err
}

// AddRoute answers POST /v1/routes.
func (a *API) AddRoute(ctx context.Context, r api.AddRouteRequestObject) (api.AddRouteResponseObject, error) {
	x, created, err := add(ctx, a, routeIn(*r.Body), a.service.AddRoute, routeReply)
	if created {
		return api.AddRoute201JSONResponse{Body: x.Body, Headers: api.AddRoute201ResponseHeaders(x.Headers)}, err
	}
	return api.AddRoute200JSONResponse{RouteReplyJSONResponse: x}, err
}

// GetRoute answers GET /v1/routes/{id}.
func (a *API) GetRoute(ctx context.Context, r api.GetRouteRequestObject) (api.GetRouteResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Route, routeReply)
	return api.GetRoute200JSONResponse{RouteReplyJSONResponse: x}, err
}

// ChangeRoute answers PATCH /v1/routes/{id}.
func (a *API) ChangeRoute(ctx context.Context, r api.ChangeRouteRequestObject) (api.ChangeRouteResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, routeEdit(*r.Body), a.service.ChangeRoute, routeReply)
	return api.ChangeRoute200JSONResponse{RouteReplyJSONResponse: x}, err
}

func siteID(s registry.Site) uuid.UUID     { return s.ID }
func sectorID(s registry.Sector) uuid.UUID { return s.ID }
func routeID(r registry.Route) uuid.UUID   { return r.ID }

// siteSeen keeps a cave's coordinates to those who look after the inventory.
// Whoever is nobody gets no answer at all.
func (a *API) siteSeen(ctx context.Context) func(registry.Site) api.Site {
	who, _ := a.who(ctx)
	return func(s registry.Site) api.Site {
		if who.Role.Rank() < registry.RoleSteward.Rank() {
			s.CoordinateWords = ""
		}
		return siteOut(s)
	}
}

func (a *API) siteReply(ctx context.Context) func(registry.Site) api.SiteReplyJSONResponse {
	seen := a.siteSeen(ctx)
	return func(s registry.Site) api.SiteReplyJSONResponse {
		out := seen(s)
		out.Caution = wording.Caution
		return api.SiteReplyJSONResponse{Body: out, Headers: api.SiteReplyResponseHeaders{ETag: etag(s.Version)}}
	}
}

func siteOut(s registry.Site) api.Site {
	return api.Site{
		Id: s.ID, Version: s.Version, Name: s.Name,
		Kind: api.SiteKind(s.Kind), Rock: api.RockClass(s.Rock), RockText: s.RockWords,
		Lat: s.Lat, Lon: s.Lon, CoordinatesText: s.CoordinateWords,
		FirstRoundEnds: dateOut(s.FirstRoundEnds), Notes: s.Notes, EndedOn: dateOut(s.EndedOn),
	}
}

func siteIn(b api.NewSite) registry.Site {
	return registry.Site{
		ID: b.Id, Name: b.Name, Kind: registry.SiteKind(b.Kind), Rock: registry.RockClass(b.Rock), RockWords: b.RockText,
		Lat: b.Lat, Lon: b.Lon, CoordinateWords: b.CoordinatesText, FirstRoundEnds: dateIn(b.FirstRoundEnds), Notes: b.Notes,
	}
}

func siteEdit(p api.SitePatch) func(*registry.Site) error {
	return edit(func(s *registry.Site) {
		setWord(p.Name, &s.Name)
		setWord(p.Kind, &s.Kind)
		setWord(p.Rock, &s.Rock)
		setWord(p.RockText, &s.RockWords)
		setPointer(p.Lat, &s.Lat)
		setPointer(p.Lon, &s.Lon)
		setWord(p.CoordinatesText, &s.CoordinateWords)
		setDate(p.FirstRoundEnds, &s.FirstRoundEnds)
		setWord(p.Notes, &s.Notes)
		setDate(p.EndedOn, &s.EndedOn)
	})
}

func sectorReply(s registry.Sector) api.SectorReplyJSONResponse {
	out := sectorOut(s)
	out.Caution = wording.Caution
	return api.SectorReplyJSONResponse{Body: out, Headers: api.SectorReplyResponseHeaders{ETag: etag(s.Version)}}
}

func sectorOut(s registry.Sector) api.Sector {
	return api.Sector{Id: s.ID, Version: s.Version, SiteId: s.SiteID, Name: s.Name, EndedOn: dateOut(s.EndedOn)}
}

func sectorIn(b api.NewSector) registry.Sector {
	return registry.Sector{ID: b.Id, SiteID: b.SiteId, Name: b.Name}
}

func sectorEdit(p api.SectorPatch) func(*registry.Sector) error {
	return edit(func(s *registry.Sector) {
		setWord(p.Name, &s.Name)
		setDate(p.EndedOn, &s.EndedOn)
	})
}

func routeReply(r registry.Route) api.RouteReplyJSONResponse {
	out := routeOut(r)
	out.Caution = wording.Caution
	return api.RouteReplyJSONResponse{Body: out, Headers: api.RouteReplyResponseHeaders{ETag: etag(r.Version)}}
}

func routeOut(r registry.Route) api.Route {
	return api.Route{
		Id: r.ID, Version: r.Version, SiteId: r.SiteID, SectorId: idOut(r.SectorID), Name: r.Name,
		Kind: api.RouteKind(r.Kind), Traffic: api.Traffic(r.Traffic), EndedOn: dateOut(r.EndedOn),
	}
}

func routeIn(b api.NewRoute) registry.Route {
	return registry.Route{
		ID: b.Id, SiteID: b.SiteId, SectorID: idIn(b.SectorId), Name: b.Name,
		Kind: registry.RouteKind(b.Kind), Traffic: registry.Traffic(b.Traffic),
	}
}

func routeEdit(p api.RoutePatch) func(*registry.Route) error {
	return edit(func(r *registry.Route) {
		setPointer(p.SectorId, &r.SectorID)
		setWord(p.Name, &r.Name)
		setWord(p.Kind, &r.Kind)
		setWord(p.Traffic, &r.Traffic)
		setDate(p.EndedOn, &r.EndedOn)
	})
}

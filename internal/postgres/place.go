package postgres

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type siteRow struct {
	inventoryKey
	Name            string        `json:"name"`
	Kind            word          `json:"kind"`
	Rock            word          `json:"rock"`
	RockWords       string        `json:"rock_words"`
	Lat             *float64      `json:"lat"`
	Lon             *float64      `json:"lon"`
	CoordinateWords string        `json:"coordinate_words"`
	FirstRoundEnds  calendar.Date `json:"first_round_ends"`
	Notes           string        `json:"notes"`
	EndedOn         calendar.Date `json:"ended_on"`
}

func newSiteRow(s registry.Site) siteRow {
	return siteRow{
		inventoryKey{s.ID, s.Version},
		s.Name, word(s.Kind), word(s.Rock), s.RockWords, s.Lat, s.Lon,
		s.CoordinateWords, s.FirstRoundEnds, s.Notes, s.EndedOn,
	}
}

func (r siteRow) noun() registry.Site {
	return registry.Site{
		ID: r.ID, Version: r.Version, Name: r.Name, Kind: registry.SiteKind(r.Kind), Rock: registry.RockClass(r.Rock),
		RockWords: r.RockWords, Lat: r.Lat, Lon: r.Lon, CoordinateWords: r.CoordinateWords,
		FirstRoundEnds: r.FirstRoundEnds, Notes: r.Notes, EndedOn: r.EndedOn,
	}
}

var sites = newTable[siteRow]("site")

// Sites lists sites in the order of ids; served by the primary key.
func (s *Store) Sites(ctx context.Context, group uuid.UUID, page registry.Page) ([]registry.Site, error) {
	return list(ctx, s, group, pageOf(page).query("list sites", sites.selectSQL), siteRow.noun)
}

// Site returns one site, or fault.NotFound.
func (s *Store) Site(ctx context.Context, group, id uuid.UUID) (registry.Site, error) {
	return single(ctx, s, group, byID("read site", sites.selectSQL, id), siteRow.noun)
}

type sectorRow struct {
	inventoryKey
	SiteID  uuid.UUID     `json:"site_id"`
	Name    string        `json:"name"`
	EndedOn calendar.Date `json:"ended_on"`
}

func newSectorRow(s registry.Sector) sectorRow {
	return sectorRow{inventoryKey{s.ID, s.Version}, s.SiteID, s.Name, s.EndedOn}
}

func (r sectorRow) noun() registry.Sector {
	return registry.Sector{ID: r.ID, Version: r.Version, SiteID: r.SiteID, Name: r.Name, EndedOn: r.EndedOn}
}

var sectors = newTable[sectorRow]("sector")

// ofSite narrows a list to one site; served by the table's by_site key.
const ofSite = `t.site_id = @site_id`

// Sectors lists sectors, of one site or of all, in the order of ids.
func (s *Store) Sectors(ctx context.Context, group uuid.UUID, site *uuid.UUID, page registry.Page) ([]registry.Sector, error) {
	f := pageOf(page)
	f.andID(ofSite, "site_id", site)
	return list(ctx, s, group, f.query("list sectors", sectors.selectSQL), sectorRow.noun)
}

// Sector returns one sector, or fault.NotFound.
func (s *Store) Sector(ctx context.Context, group, id uuid.UUID) (registry.Sector, error) {
	return single(ctx, s, group, byID("read sector", sectors.selectSQL, id), sectorRow.noun)
}

type routeRow struct {
	inventoryKey
	SiteID   uuid.UUID     `json:"site_id"`
	SectorID *uuid.UUID    `json:"sector_id"`
	Name     string        `json:"name"`
	Kind     word          `json:"kind"`
	Traffic  word          `json:"traffic"`
	EndedOn  calendar.Date `json:"ended_on"`
}

func newRouteRow(r registry.Route) routeRow {
	return routeRow{inventoryKey{r.ID, r.Version}, r.SiteID, r.SectorID, r.Name, word(r.Kind), word(r.Traffic), r.EndedOn}
}

func (r routeRow) noun() registry.Route {
	return registry.Route{
		ID: r.ID, Version: r.Version, SiteID: r.SiteID, SectorID: r.SectorID, Name: r.Name,
		Kind: registry.RouteKind(r.Kind), Traffic: registry.Traffic(r.Traffic), EndedOn: r.EndedOn,
	}
}

var routes = newTable[routeRow]("route")

// Routes lists routes, of one site or of all, in the order of ids.
func (s *Store) Routes(ctx context.Context, group uuid.UUID, site *uuid.UUID, page registry.Page) ([]registry.Route, error) {
	f := pageOf(page)
	f.andID(ofSite, "site_id", site)
	return list(ctx, s, group, f.query("list routes", routes.selectSQL), routeRow.noun)
}

// Route returns one route, or fault.NotFound.
func (s *Store) Route(ctx context.Context, group, id uuid.UUID) (registry.Route, error) {
	return single(ctx, s, group, byID("read route", routes.selectSQL, id), routeRow.noun)
}

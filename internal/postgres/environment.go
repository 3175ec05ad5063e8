package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type environmentRow struct {
	inventoryKey
	SiteID                   uuid.UUID     `json:"site_id"`
	PlaceKind                word          `json:"place_kind"`
	PlaceID                  uuid.UUID     `json:"place_id"`
	FromOn                   calendar.Date `json:"from_on"`
	UntilOn                  calendar.Date `json:"until_on"`
	Preset                   string        `json:"preset"`
	Source                   string        `json:"source"`
	TemperatureC             *float64      `json:"temperature_c"`
	HumidityPct              *float64      `json:"humidity_pct"`
	SulphurDioxideMgPerM2Day *float64      `json:"sulphur_dioxide_mg_per_m2_day"`
	ChlorideMgPerM2Day       *float64      `json:"chloride_mg_per_m2_day"`
	SteelCategory            word          `json:"steel_category"`
	ZincCategory             word          `json:"zinc_category"`
	CopperCategory           word          `json:"copper_category"`
	AluminiumCategory        word          `json:"aluminium_category"`
	SeaKm                    *float64      `json:"sea_km"`
	RoadKm                   *float64      `json:"road_km"`
	Coast                    word          `json:"coast"`
	MineralSalts             *bool         `json:"mineral_salts"`
	Wetness                  word          `json:"wetness"`
	Washed                   *bool         `json:"washed"`
	SurfaceMaxC              *float64      `json:"surface_max_c"`
}

func newEnvironmentRow(e registry.Environment) environmentRow {
	return environmentRow{
		inventoryKey{e.ID, e.Version},
		e.SiteID, word(e.Place.Kind), e.Place.ID, e.From, e.Until, e.Preset, e.Source,
		e.TemperatureC, e.HumidityPct, e.SulphurDioxide, e.Chloride,
		word(e.SteelCategory), word(e.ZincCategory), word(e.CopperCategory), word(e.AluminiumCategory),
		e.SeaKm, e.RoadKm, word(e.Coast), e.MineralSalts, word(e.Wetness), e.Washed, e.SurfaceMaxC,
	}
}

func (r environmentRow) place() registry.Place {
	return registry.Place{Kind: registry.PlaceKind(r.PlaceKind), ID: r.PlaceID}
}

func (r environmentRow) noun() registry.Environment {
	return registry.Environment{
		ID: r.ID, Version: r.Version, SiteID: r.SiteID, Place: r.place(), From: r.FromOn, Until: r.UntilOn,
		Preset: r.Preset, Source: r.Source, TemperatureC: r.TemperatureC, HumidityPct: r.HumidityPct,
		SulphurDioxide: r.SulphurDioxideMgPerM2Day, Chloride: r.ChlorideMgPerM2Day,
		SteelCategory: registry.Category(r.SteelCategory), ZincCategory: registry.Category(r.ZincCategory),
		CopperCategory: registry.Category(r.CopperCategory), AluminiumCategory: registry.Category(r.AluminiumCategory),
		SeaKm: r.SeaKm, RoadKm: r.RoadKm, Coast: registry.Coast(r.Coast), MineralSalts: r.MineralSalts,
		Wetness: registry.Wetness(r.Wetness), Washed: r.Washed, SurfaceMaxC: r.SurfaceMaxC,
	}
}

var environments = newTable[environmentRow]("environment")

// Environments lists statements about the places of one site, or of all, in
// the order of ids, whatever their dates.
func (s *Store) Environments(ctx context.Context, group uuid.UUID, site *uuid.UUID, page registry.Page) ([]registry.Environment, error) {
	f := pageOf(page)
	f.andID(ofSite, "site_id", site)
	return list(ctx, s, group, f.query("list environments", environments.selectSQL), environmentRow.noun)
}

// Environment returns one statement, or fault.NotFound.
func (s *Store) Environment(ctx context.Context, group, id uuid.UUID) (registry.Environment, error) {
	return single(ctx, s, group, byID("read environment", environments.selectSQL, id), environmentRow.noun)
}

// EnvironmentsAt lists the statements about a position, its routes, its sector
// and its site, in the order of ids, whatever their dates; none for a position
// that is not there.
func (s *Store) EnvironmentsAt(ctx context.Context, group, position uuid.UUID) ([]registry.Environment, error) {
	q := query{
		"list environments of position " + position.String(),
		environments.of("place_id", placesOfPosition) + byIDs,
		pgx.StrictNamedArgs{"id": position},
	}
	return list(ctx, s, group, q, environmentRow.noun)
}

// Both look through the group's sites.
const (
	sitesWithoutEnvironment = `
WHERE (t.ended_on IS NULL OR t.ended_on > @as_of)
  AND NOT EXISTS (
    SELECT FROM environment AS e
    WHERE e.place_id = t.id AND e.from_on <= @as_of AND (e.until_on IS NULL OR e.until_on >= @as_of))
ORDER BY t.id`
	sitesWithoutSource = `
WHERE (t.ended_on IS NULL OR t.ended_on > @as_of)
  AND t.kind <> 'sea-cliff'
  AND NOT EXISTS (
    SELECT FROM environment AS e
    WHERE e.place_id = t.id AND e.sea_km IS NOT NULL
      AND e.from_on <= @as_of AND (e.until_on IS NULL OR e.until_on >= @as_of))
ORDER BY t.id`
)

// SitesWithoutEnvironment lists sites that are looked after and about which, as
// sites, no statement is in force on asOf.
func (s *Store) SitesWithoutEnvironment(ctx context.Context, group uuid.UUID, asOf calendar.Date) ([]registry.Site, error) {
	q := query{"list sites without environment", sites.selectSQL + sitesWithoutEnvironment, pgx.StrictNamedArgs{"as_of": asOf}}
	return list(ctx, s, group, q, siteRow.noun)
}

// SitesWithoutSource lists sites that are looked after, are no sea cliff, and
// whose distance to the sea no statement in force on asOf gives. Caves are among
// them: salt reaches their anchors too.
func (s *Store) SitesWithoutSource(ctx context.Context, group uuid.UUID, asOf calendar.Date) ([]registry.Site, error) {
	q := query{"list sites without sea distance", sites.selectSQL + sitesWithoutSource, pgx.StrictNamedArgs{"as_of": asOf}}
	return list(ctx, s, group, q, siteRow.noun)
}

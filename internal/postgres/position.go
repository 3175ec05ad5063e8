package postgres

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

type positionRow struct {
	inventoryKey
	SiteID   uuid.UUID  `json:"site_id"`
	SectorID *uuid.UUID `json:"sector_id"`
	Label    string     `json:"label"`
	Role     word       `json:"role"`
	Face     word       `json:"face"`
	BackedUp *bool      `json:"backed_up"`
	Lat      *float64   `json:"lat"`
	Lon      *float64   `json:"lon"`
	HowTo    string     `json:"how_to"`
	ParcelID *uuid.UUID `json:"parcel_id"`
	Notes    string     `json:"notes"`
}

func newPositionRow(p registry.Position) positionRow {
	return positionRow{
		inventoryKey{p.ID, p.Version},
		p.SiteID, p.SectorID, p.Label, word(p.Role), word(p.Face), p.BackedUp, p.Lat, p.Lon,
		p.HowTo, p.ParcelID, p.Notes,
	}
}

func (r positionRow) noun() registry.Position {
	return registry.Position{
		ID: r.ID, Version: r.Version, SiteID: r.SiteID, SectorID: r.SectorID, Label: r.Label,
		Role: registry.PositionRole(r.Role), Face: registry.Face(r.Face), BackedUp: r.BackedUp, Lat: r.Lat, Lon: r.Lon,
		HowTo: r.HowTo, ParcelID: r.ParcelID, Notes: r.Notes,
	}
}

var positions = newTable[positionRow]("position")

// onRoute narrows a list of positions to one route; served by the primary key
// of route_position.
const onRoute = `t.id IN (SELECT rp.position_id FROM route_position AS rp WHERE rp.route_id = @route_id)`

// Positions lists positions, of one site, one route or of all, in the order of
// ids.
func (s *Store) Positions(ctx context.Context, group uuid.UUID, site, route *uuid.UUID, page registry.Page) ([]registry.Position, error) {
	f := pageOf(page)
	f.andID(ofSite, "site_id", site)
	f.andID(onRoute, "route_id", route)
	return list(ctx, s, group, f.query("list positions", positions.selectSQL), positionRow.noun)
}

// Position returns one position, or fault.NotFound.
func (s *Store) Position(ctx context.Context, group, id uuid.UUID) (registry.Position, error) {
	return single(ctx, s, group, byID("read position", positions.selectSQL, id), positionRow.noun)
}

// stopRow places a position on a route.
type stopRow struct {
	RouteID    uuid.UUID `json:"route_id"`
	PositionID uuid.UUID `json:"position_id"`
	Rank       int       `json:"rank"`
}

func (r stopRow) rowID() uuid.UUID { return r.PositionID }

func newStopRow(s registry.Stop) stopRow { return stopRow(s) }

func (r stopRow) noun() registry.Stop { return registry.Stop(r) }

var stops = newTable[stopRow]("route_position")

type assemblyRow struct {
	inventoryKey
	SiteID uuid.UUID `json:"site_id"`
	Name   string    `json:"name"`
	Kind   word      `json:"kind"`
}

func newAssemblyRow(a registry.Assembly) assemblyRow {
	return assemblyRow{inventoryKey{a.ID, a.Version}, a.SiteID, a.Name, word(a.Kind)}
}

var assemblies = newTable[assemblyRow]("assembly")

// memberRow places a position in an assembly.
type memberRow struct {
	AssemblyID uuid.UUID `json:"assembly_id"`
	PositionID uuid.UUID `json:"position_id"`
}

func (r memberRow) rowID() uuid.UUID { return r.PositionID }

var members = newTable[memberRow]("assembly_position")

package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type positionRow struct {
	inventoryKey
	SiteID       uuid.UUID     `json:"site_id"`
	SectorID     *uuid.UUID    `json:"sector_id"`
	Label        string        `json:"label"`
	Role         word          `json:"role"`
	Face         word          `json:"face"`
	BackedUp     *bool         `json:"backed_up"`
	Lat          *float64      `json:"lat"`
	Lon          *float64      `json:"lon"`
	HowTo        string        `json:"how_to"`
	ParcelID     *uuid.UUID    `json:"parcel_id"`
	ParcelByHand bool          `json:"parcel_by_hand"`
	Notes        string        `json:"notes"`
	EndedOn      calendar.Date `json:"ended_on"`
}

func newPositionRow(p registry.Position) positionRow {
	return positionRow{
		inventoryKey{p.ID, p.Version},
		p.SiteID, p.SectorID, p.Label, word(p.Role), word(p.Face), p.BackedUp, p.Lat, p.Lon,
		p.HowTo, p.ParcelID, p.ParcelByHand, p.Notes, p.EndedOn,
	}
}

func (r positionRow) noun() registry.Position {
	return registry.Position{
		ID: r.ID, Version: r.Version, SiteID: r.SiteID, SectorID: r.SectorID, Label: r.Label,
		Role: registry.PositionRole(r.Role), Face: registry.Face(r.Face), BackedUp: r.BackedUp, Lat: r.Lat, Lon: r.Lon,
		HowTo: r.HowTo, ParcelID: r.ParcelID, ParcelByHand: r.ParcelByHand, Notes: r.Notes, EndedOn: r.EndedOn,
	}
}

var positions = newTable[positionRow]("position")

// positionsOnRoute is served by the primary key of route_position.
const positionsOnRoute = `(SELECT rp.position_id AS id FROM route_position AS rp WHERE rp.route_id = @route_id OFFSET 0)`

// Positions lists positions, of one site, one route or of all, in the order of
// ids.
func (s *Store) Positions(ctx context.Context, group uuid.UUID, site, route *uuid.UUID, page registry.Page) ([]registry.Position, error) {
	f, sql := pageOf(page), positions.selectSQL
	f.andID(ofSite, "site_id", site)
	if route != nil {
		f.args["route_id"] = *route
		sql = positions.of("id", positionsOnRoute)
	}
	return list(ctx, s, group, f.query("list positions", sql), positionRow.noun)
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

// StopsOf lists where a position stands on its routes, in the order of the
// routes' ids; none for a position that is not there. Served by
// route_position_by_position_idx.
func (s *Store) StopsOf(ctx context.Context, group, position uuid.UUID) ([]registry.Stop, error) {
	q := query{"list stops", stops.selectSQL + "\nWHERE t.position_id = @id\nORDER BY t.route_id", pgx.StrictNamedArgs{"id": position}}
	return list(ctx, s, group, q, stopRow.noun)
}

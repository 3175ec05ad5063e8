package app

import (
	"context"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// spot is a position with its stops, which are kept together.
type spot struct {
	registry.Position
	Stops []registry.Stop
}

var spots = noun[spot]{
	what: "position", add: AddPosition, change: ChangePosition, read: readSpot,
	key: func(n *spot) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy: func(n *spot) {
		n.Label = tidy(n.Label)
		n.Stops = slices.Clone(n.Stops)
		for i := range n.Stops {
			n.Stops[i].PositionID = n.ID
		}
		slices.SortStableFunc(n.Stops, func(a, b registry.Stop) int { return compareIDs(a.RouteID, b.RouteID) })
	},
	check: checkSpot,
	put: func(c *registry.Change, n spot) {
		c.Positions, c.Stops = append(c.Positions, n.Position), append(c.Stops, n.Stops...)
		if n.Version > 0 {
			c.StopsOf = append(c.StopsOf, n.ID)
		}
	},
}

func readSpot(s Store, ctx context.Context, group, id uuid.UUID) (spot, error) {
	p, err := s.Position(ctx, group, id)
	if err != nil {
		return spot{}, err
	}
	stops, err := s.StopsOf(ctx, group, id)
	return spot{p, stops}, err
}

func checkSpot(d *desk, before, n *spot) {
	d.Nest("", n.Validate())
	d.ended(registry.Place{Kind: registry.AtPosition, ID: n.ID}, stored(before).EndedOn, n.EndedOn)
	if before != nil && before.EndedOn.IsZero() && !n.EndedOn.IsZero() {
		d.also.Vacant = append(d.also.Vacant, n.ID)
	}
	if site, ok := has(d, "site_id", n.SiteID, Store.Site); ok {
		d.Require(site.Kind != registry.Cave || n.Lat == nil, "lat", fault.NotAllowed)
	}
	d.fixed("site_id", before == nil || before.SiteID == n.SiteID)
	d.sectorOf(n.SiteID, n.SectorID)
	d.checkStops(n)
	d.parcelOf(before, n)
}

// checkStops wants each route once and at the position's site.
func (d *desk) checkStops(n *spot) {
	for i, stop := range n.Stops {
		d.Require(stop.Rank > 0, "stops.rank", fault.NotPositive)
		d.Require(i == 0 || n.Stops[i-1].RouteID != stop.RouteID, "stops.route_id", fault.Duplicate)
		if r, ok := has(d, "stops.route_id", stop.RouteID, Store.Route); ok {
			d.Require(r.SiteID == n.SiteID || n.SiteID == uuid.Nil, "stops.route_id", fault.Mismatch)
		}
	}
}

// parcelOf works out a position's parcel from its coordinates, unless a person
// named one: naming another than before is that, too, unless the same change
// leaves it to the outlines.
func (d *desk) parcelOf(before, n *spot) {
	known, left := uuid.Nil, false
	if before != nil {
		known, left = deref(before.ParcelID), before.ParcelByHand && !n.ParcelByHand
	}
	if !left && deref(n.ParcelID) != known {
		n.ParcelByHand = true
	}
	if n.ParcelByHand {
		if n.ParcelID != nil {
			has(d, "parcel_id", *n.ParcelID, Store.Parcel)
		}
		return
	}
	land, err := d.s.drawnLand(d.ctx, d.who)
	d.Nest("", err)
	if left {
		n.ParcelID = land.outlineOf(&n.Position)
		return
	}
	n.ParcelID = land.parcelOf(&n.Position)
}

func sameID(a, b *uuid.UUID) bool { return deref(a) == deref(b) }

// deref returns what p points to, or the nil id.
func deref(p *uuid.UUID) uuid.UUID {
	if p == nil {
		return uuid.Nil
	}
	return *p
}

// AddPosition stores a new position with its place on its routes, by the terms
// of AddSite. Its parcel is worked out from its coordinates unless it names
// one.
func (s *Service) AddPosition(ctx context.Context, who registry.Actor, p registry.Position, stops []registry.Stop) (stored registry.Position, created bool, err error) {
	n, created, err := addNoun(ctx, s, who, spot{p, stops}, spots)
	return n.Position, created, err
}

// ChangePosition changes a position and its place on its routes, by the terms
// of ChangeSite. Its site stays. Its parcel is worked out from its coordinates
// unless a person named one, now or before; one that is no longer named by hand
// is given back to the outlines, and has none where no outline holds it.
func (s *Service) ChangePosition(ctx context.Context, who registry.Actor, id uuid.UUID, version int,
	edit func(*registry.Position, *[]registry.Stop) error,
) (registry.Position, error) {
	n, _, err := contested(func() (spot, bool, error) {
		n, err := changeNoun(ctx, s, who, id, version, func(n *spot) error { return edit(&n.Position, &n.Stops) }, spots)
		return n, false, err
	})
	return n.Position, err
}

// Stops lists the routes that a position is on, or fault.NotFound if there is
// no such position.
func (s *Service) Stops(ctx context.Context, who registry.Actor, position uuid.UUID) ([]registry.Stop, error) {
	return one(who, GetPosition, func() ([]registry.Stop, error) {
		n, err := readSpot(s.store, ctx, who.GroupID, position)
		return n.Stops, err
	})
}

// allPositions reads every position of the group or of one site.
func (s *Service) allPositions(ctx context.Context, who registry.Actor, site *uuid.UUID) ([]registry.Position, error) {
	return all(func(page registry.Page) ([]registry.Position, error) {
		return s.store.Positions(ctx, who.GroupID, site, nil, page)
	}, func(p *registry.Position) uuid.UUID { return p.ID })
}

// all reads a list page by page.
func all[T any](read func(registry.Page) ([]T, error), id func(*T) uuid.UUID) ([]T, error) {
	var out []T
	page := registry.Page{Limit: maxPage}
	for {
		list, err := read(page)
		if err != nil {
			return nil, err
		}
		if out = append(out, list...); len(list) < page.Limit {
			return out, nil
		}
		page.After = id(&list[len(list)-1])
	}
}

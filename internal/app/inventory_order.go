package app

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// OrderStops puts the positions of a route into an order in one change: the
// first of order gets rank 1. Each comes with the version that the caller has
// read, and all that are on the route, those that have ended too, are named
// once: otherwise, or where one was changed since, it is fault.Stale. Nothing
// moved: nothing is written.
func (s *Service) OrderStops(ctx context.Context, who registry.Actor, route uuid.UUID, order []registry.Position) error {
	if err := may(who, ChangePosition); err != nil {
		return err
	}
	if err := s.orderStops(ctx, who, route, order); err != nil {
		return fmt.Errorf("order stops of route %v: %w", route, err)
	}
	return nil
}

func (s *Service) orderStops(ctx context.Context, who registry.Actor, route uuid.UUID, order []registry.Position) error {
	if _, err := s.store.Route(ctx, who.GroupID, route); err != nil {
		return err
	}
	there, err := all(func(page registry.Page) ([]registry.Position, error) {
		return s.store.Positions(ctx, who.GroupID, nil, &route, page)
	}, func(p *registry.Position) uuid.UUID { return p.ID })
	if err != nil {
		return err
	}
	ranks := make(map[uuid.UUID]int, len(order))
	versions := make(map[uuid.UUID]int, len(order))
	for i, p := range order {
		ranks[p.ID], versions[p.ID] = i+1, p.Version
	}
	if len(there) != len(order) || len(ranks) != len(order) {
		return fault.New(fault.Stale, "%d positions were read, %d are on the route", len(order), len(there))
	}
	var c registry.Change
	for _, p := range there {
		n, err := readSpot(s.store, ctx, who.GroupID, p.ID)
		if err != nil {
			return err
		}
		if n.Version != versions[p.ID] {
			return fault.New(fault.Stale, "version %d of position %v was read, %d is stored", versions[p.ID], p.ID, n.Version)
		}
		if n.moveOn(route, ranks[p.ID]) {
			spots.put(&c, n)
		}
	}
	if len(c.Positions) == 0 {
		return nil
	}
	return s.reorder(ctx, who, c)
}

func (s *Service) reorder(ctx context.Context, who registry.Actor, c registry.Change) error {
	c.What, c.At = "positions of a route put into order", s.instant()
	if err := s.store.Write(ctx, who, c); err != nil {
		return err
	}
	s.freshen(ctx, who)
	return nil
}

// moveOn gives a position another rank on a route, and says whether it had
// another.
func (n *spot) moveOn(route uuid.UUID, rank int) bool {
	moved := false
	for i := range n.Stops {
		if n.Stops[i].RouteID == route && n.Stops[i].Rank != rank {
			n.Stops[i].Rank, moved = rank, true
		}
	}
	return moved
}

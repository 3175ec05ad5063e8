package app

import (
	"context"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// maxPage is the most rows of one page.
const maxPage = 500

// bounded keeps a page's limit within 1 to maxPage; no limit is maxPage.
func bounded(p registry.Page) registry.Page {
	if p.Limit < 1 || p.Limit > maxPage {
		p.Limit = maxPage
	}
	return p
}

// list asks whether who may do op and then reads one page.
func list[T any](who registry.Actor, op Operation, page registry.Page, read func(registry.Page) ([]T, error)) ([]T, error) {
	if err := may(who, op); err != nil {
		return nil, err
	}
	return read(bounded(page))
}

// one asks whether who may do op and then reads one thing.
func one[T any](who registry.Actor, op Operation, read func() (T, error)) (T, error) {
	if err := may(who, op); err != nil {
		var none T
		return none, err
	}
	return read()
}

// Sites lists the group's sites, as every list here in the order of ids and at
// most 500 a page.
func (s *Service) Sites(ctx context.Context, who registry.Actor, page registry.Page) ([]registry.Site, error) {
	return list(who, ListSites, page, func(p registry.Page) ([]registry.Site, error) {
		return s.store.Sites(ctx, who.GroupID, p)
	})
}

// Site returns one site, or fault.NotFound.
func (s *Service) Site(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Site, error) {
	return one(who, GetSite, func() (registry.Site, error) { return s.store.Site(ctx, who.GroupID, id) })
}

// Sectors lists sectors, of one site if site is given.
func (s *Service) Sectors(ctx context.Context, who registry.Actor, site *uuid.UUID, page registry.Page) ([]registry.Sector, error) {
	return list(who, ListSectors, page, func(p registry.Page) ([]registry.Sector, error) {
		return s.store.Sectors(ctx, who.GroupID, site, p)
	})
}

// Sector returns one sector, or fault.NotFound.
func (s *Service) Sector(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Sector, error) {
	return one(who, GetSector, func() (registry.Sector, error) { return s.store.Sector(ctx, who.GroupID, id) })
}

// Routes lists routes, of one site if site is given.
func (s *Service) Routes(ctx context.Context, who registry.Actor, site *uuid.UUID, page registry.Page) ([]registry.Route, error) {
	return list(who, ListRoutes, page, func(p registry.Page) ([]registry.Route, error) {
		return s.store.Routes(ctx, who.GroupID, site, p)
	})
}

// Route returns one route, or fault.NotFound.
func (s *Service) Route(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Route, error) {
	return one(who, GetRoute, func() (registry.Route, error) { return s.store.Route(ctx, who.GroupID, id) })
}

// Positions lists positions, of one site or one route if given.
func (s *Service) Positions(ctx context.Context, who registry.Actor, site, route *uuid.UUID, page registry.Page) ([]registry.Position, error) {
	return list(who, ListPositions, page, func(p registry.Page) ([]registry.Position, error) {
		return s.store.Positions(ctx, who.GroupID, site, route, p)
	})
}

// Position returns one position, or fault.NotFound.
func (s *Service) Position(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Position, error) {
	return one(who, GetPosition, func() (registry.Position, error) { return s.store.Position(ctx, who.GroupID, id) })
}

// Products lists products, of one kind if kind is not empty.
func (s *Service) Products(ctx context.Context, who registry.Actor, kind registry.ProductKind, page registry.Page) ([]registry.Product, error) {
	return list(who, ListProducts, page, func(p registry.Page) ([]registry.Product, error) {
		return s.store.Products(ctx, who.GroupID, kind, p)
	})
}

// Product returns one product, or fault.NotFound.
func (s *Service) Product(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Product, error) {
	return one(who, GetProduct, func() (registry.Product, error) { return s.store.Product(ctx, who.GroupID, id) })
}

// Batches lists batches, of one product if product is given.
func (s *Service) Batches(ctx context.Context, who registry.Actor, product *uuid.UUID, page registry.Page) ([]registry.Batch, error) {
	return list(who, ListBatches, page, func(p registry.Page) ([]registry.Batch, error) {
		return s.store.Batches(ctx, who.GroupID, product, p)
	})
}

// Batch returns one batch, or fault.NotFound.
func (s *Service) Batch(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Batch, error) {
	return one(who, GetBatch, func() (registry.Batch, error) { return s.store.Batch(ctx, who.GroupID, id) })
}

// Anchors lists anchors by filter, removed ones too unless the filter says
// otherwise. Standing and dates are those stored; Refresh keeps them fresh. A
// metal, standing or due state that there is not is fault.Invalid.
func (s *Service) Anchors(ctx context.Context, who registry.Actor, filter registry.AnchorFilter, page registry.Page) ([]registry.AnchorLine, error) {
	return list(who, ListAnchors, page, func(p registry.Page) ([]registry.AnchorLine, error) {
		if err := checkFilter(&filter); err != nil {
			return nil, err
		}
		return s.store.Anchors(ctx, who.GroupID, filter, p)
	})
}

func checkFilter(f *registry.AnchorFilter) error {
	_, known := metal.Lookup(f.Metal)
	var c fault.Checks
	c.Text("text", f.Text)
	c.Require(f.Metal == "" || known, "metal", fault.UnknownMetal, "value", string(f.Metal))
	c.Require(f.Standing == "" || slices.Contains(registry.Standings(), f.Standing), "standing", fault.Unknown, "value", string(f.Standing))
	c.Require(f.DueState == "" || slices.Contains(registry.DueStates(), f.DueState), "due_state", fault.Unknown, "value", string(f.DueState))
	return c.Err()
}

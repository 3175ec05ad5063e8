package app

import (
	"context"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// spread is a place that a note is taken to be true of, with the positions that
// carry the note there.
type spread struct {
	place     registry.Place
	positions []uuid.UUID
}

// spreads finds for every group of proposed restrictions the places it is true
// of.
func (s *Service) spreads(ctx context.Context, who registry.Actor, found []registry.Proposal) (map[string][]spread, error) {
	noted, siteOf := make(map[string][]uuid.UUID), make(map[string]uuid.UUID)
	for i := range found {
		if p := &found[i]; p.Kind == registry.ProposesRestriction {
			noted[p.Group()] = append(noted[p.Group()], p.PositionID)
			siteOf[p.Group()] = p.SiteID
		}
	}
	lies, out := make(map[uuid.UUID]*layout), make(map[string][]spread)
	for group, positions := range noted {
		site := siteOf[group]
		if lies[site] == nil {
			l, err := s.layoutOf(ctx, who, site)
			if err != nil {
				return nil, err
			}
			lies[site] = l
		}
		out[group] = lies[site].cover(distinct(positions))
	}
	return out, nil
}

// layout says what lies where at one site.
type layout struct {
	// places are the routes, then the sectors, then the site, with the positions
	// of each.
	places   []spread
	standing map[uuid.UUID]bool // positions at which an anchor stands
}

func (s *Service) layoutOf(ctx context.Context, who registry.Actor, site uuid.UUID) (*layout, error) {
	l := &layout{standing: make(map[uuid.UUID]bool)}
	lines, err := all(func(p registry.Page) ([]registry.AnchorLine, error) {
		return s.store.Anchors(ctx, who.GroupID, registry.AnchorFilter{SiteID: &site}, p)
	}, func(a *registry.AnchorLine) uuid.UUID { return a.Anchor.ID })
	if err != nil {
		return nil, err
	}
	for i := range lines {
		if a := &lines[i].Anchor; !a.Removed {
			l.standing[a.PositionID] = true
		}
	}
	routes, err := all(func(p registry.Page) ([]registry.Route, error) {
		return s.store.Routes(ctx, who.GroupID, &site, p)
	}, func(r *registry.Route) uuid.UUID { return r.ID })
	if err != nil {
		return nil, err
	}
	for i := range routes {
		on, err := all(func(p registry.Page) ([]registry.Position, error) {
			return s.store.Positions(ctx, who.GroupID, nil, &routes[i].ID, p)
		}, func(p *registry.Position) uuid.UUID { return p.ID })
		if err != nil {
			return nil, err
		}
		l.add(registry.AtRoute, routes[i].ID, on)
	}
	positions, err := s.allPositions(ctx, who, &site)
	if err != nil {
		return nil, err
	}
	l.addSectors(positions)
	l.add(registry.AtSite, site, positions)
	return l, nil
}

func (l *layout) addSectors(positions []registry.Position) {
	in := make(map[uuid.UUID][]registry.Position)
	var order []uuid.UUID
	for _, p := range positions {
		if p.SectorID == nil {
			continue
		}
		if in[*p.SectorID] == nil {
			order = append(order, *p.SectorID)
		}
		in[*p.SectorID] = append(in[*p.SectorID], p)
	}
	for _, id := range order {
		l.add(registry.AtSector, id, in[id])
	}
}

func (l *layout) add(kind registry.PlaceKind, id uuid.UUID, positions []registry.Position) {
	at := spread{place: registry.Place{Kind: kind, ID: id}}
	for _, p := range positions {
		if p.EndedOn.IsZero() {
			at.positions = append(at.positions, p.ID)
		}
	}
	l.places = append(l.places, at)
}

// cover returns the nearest place that holds all the positions and at which no
// other has a standing anchor; else the routes and sectors, then the positions,
// that together hold them, each position once. A single position is its own
// nearest place.
func (l *layout) cover(noted []uuid.UUID) []spread {
	if len(noted) == 1 {
		return alone(noted)
	}
	for _, at := range l.places {
		if l.full(at, noted) && !slices.ContainsFunc(noted, func(id uuid.UUID) bool { return !slices.Contains(at.positions, id) }) {
			return []spread{{at.place, noted}}
		}
	}
	var out []spread
	rest := slices.Clone(noted)
	for _, at := range slices.Backward(l.places) {
		held := slices.DeleteFunc(slices.Clone(rest), func(id uuid.UUID) bool { return !slices.Contains(at.positions, id) })
		if len(held) < 2 || !l.full(at, noted) {
			continue
		}
		out = append(out, spread{at.place, held})
		rest = slices.DeleteFunc(rest, func(id uuid.UUID) bool { return slices.Contains(held, id) })
	}
	return append(out, alone(rest)...)
}

// full says whether every position of a place with a standing anchor is noted.
func (l *layout) full(at spread, noted []uuid.UUID) bool {
	return !slices.ContainsFunc(at.positions, func(id uuid.UUID) bool { return l.standing[id] && !slices.Contains(noted, id) })
}

func alone(positions []uuid.UUID) []spread {
	out := make([]spread, len(positions))
	for i, id := range positions {
		out[i] = spread{registry.Place{Kind: registry.AtPosition, ID: id}, []uuid.UUID{id}}
	}
	return out
}

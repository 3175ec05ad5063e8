package app

import (
	"bytes"
	"context"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

var sites = noun[registry.Site]{
	what: "site", add: AddSite, change: ChangeSite, read: Store.Site,
	key:   func(n *registry.Site) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy:  func(n *registry.Site) { n.Name = tidy(n.Name) },
	check: checkSite,
	put:   func(c *registry.Change, n registry.Site) { c.Sites = append(c.Sites, n) },
}

func checkSite(d *desk, before, n *registry.Site) {
	d.Nest("", n.Validate())
	d.ended(registry.Place{Kind: registry.AtSite, ID: n.ID}, stored(before).EndedOn, n.EndedOn)
	if before == nil || before.Kind == n.Kind || n.Kind != registry.Cave {
		return
	}
	// A cave's positions never have coordinates.
	positions, err := d.s.allPositions(d.ctx, d.who, &n.ID)
	d.Nest("", err)
	placed := slices.ContainsFunc(positions, func(p registry.Position) bool { return p.Lat != nil })
	d.Require(!placed, "kind", fault.Mismatch)
}

// AddSite stores a new site. The same id with the same content again answers
// the stored one and created = false; with other content it is fault.Conflict.
// Without an id it gets one. What cannot be right, or points to nothing, is
// fault.Invalid naming every field. All Add methods keep to these terms.
func (s *Service) AddSite(ctx context.Context, who registry.Actor, n registry.Site) (stored registry.Site, created bool, err error) {
	return addNoun(ctx, s, who, n, sites)
}

// ChangeSite lets edit change a site whose version the caller has read, and
// returns it as stored, with its next version. A version that is no longer the
// stored one is fault.Stale; what cannot be right is fault.Invalid naming every
// field. edit's own error is returned, wrapped. Nothing changed: nothing is
// written, and the version stays. All Change methods keep to these terms. A
// place where anchors still stand does not end: fault.Invalid, field ended_on.
func (s *Service) ChangeSite(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Site) error) (registry.Site, error) {
	return changeNoun(ctx, s, who, id, version, edit, sites)
}

var sectors = noun[registry.Sector]{
	what: "sector", add: AddSector, change: ChangeSector, read: Store.Sector,
	key:  func(n *registry.Sector) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy: func(n *registry.Sector) { n.Name = tidy(n.Name) },
	check: func(d *desk, before, n *registry.Sector) {
		d.Nest("", n.Validate())
		d.ended(registry.Place{Kind: registry.AtSector, ID: n.ID}, stored(before).EndedOn, n.EndedOn)
		has(d, "site_id", n.SiteID, Store.Site)
		d.fixed("site_id", before == nil || before.SiteID == n.SiteID)
	},
	put: func(c *registry.Change, n registry.Sector) { c.Sectors = append(c.Sectors, n) },
}

// AddSector stores a new sector, by the terms of AddSite.
func (s *Service) AddSector(ctx context.Context, who registry.Actor, n registry.Sector) (stored registry.Sector, created bool, err error) {
	return addNoun(ctx, s, who, n, sectors)
}

// ChangeSector changes a sector, by the terms of ChangeSite. Its site stays.
func (s *Service) ChangeSector(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Sector) error) (registry.Sector, error) {
	return changeNoun(ctx, s, who, id, version, edit, sectors)
}

var routes = noun[registry.Route]{
	what: "route", add: AddRoute, change: ChangeRoute, read: Store.Route,
	key:  func(n *registry.Route) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy: func(n *registry.Route) { n.Name = tidy(n.Name) },
	check: func(d *desk, before, n *registry.Route) {
		d.Nest("", n.Validate())
		d.ended(registry.Place{Kind: registry.AtRoute, ID: n.ID}, stored(before).EndedOn, n.EndedOn)
		has(d, "site_id", n.SiteID, Store.Site)
		d.fixed("site_id", before == nil || before.SiteID == n.SiteID)
		d.sectorOf(n.SiteID, n.SectorID)
	},
	put: func(c *registry.Change, n registry.Route) { c.Routes = append(c.Routes, n) },
}

// sectorOf wants a sector, if there is one, to lie at the site, if one is named.
func (d *desk) sectorOf(site uuid.UUID, sector *uuid.UUID) {
	if sector == nil {
		return
	}
	if at, ok := has(d, "sector_id", *sector, Store.Sector); ok {
		d.Require(at.SiteID == site || site == uuid.Nil, "sector_id", fault.Mismatch)
	}
}

// AddRoute stores a new route, by the terms of AddSite.
func (s *Service) AddRoute(ctx context.Context, who registry.Actor, n registry.Route) (stored registry.Route, created bool, err error) {
	return addNoun(ctx, s, who, n, routes)
}

// ChangeRoute changes a route, by the terms of ChangeSite. Its site stays.
func (s *Service) ChangeRoute(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Route) error) (registry.Route, error) {
	return changeNoun(ctx, s, who, id, version, edit, routes)
}

var joints = noun[registry.Assembly]{
	what: "assembly", add: AddAssembly, change: ChangeAssembly, read: Store.Assembly,
	key: func(n *registry.Assembly) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy: func(n *registry.Assembly) {
		n.Name, n.PositionIDs = tidy(n.Name), distinct(n.PositionIDs)
	},
	check: func(d *desk, before, n *registry.Assembly) {
		d.Nest("", n.Validate())
		d.past("ended_on", n.EndedOn)
		has(d, "site_id", n.SiteID, Store.Site)
		d.fixed("site_id", before == nil || before.SiteID == n.SiteID)
		for _, id := range n.PositionIDs {
			if p, ok := has(d, "position_ids", id, Store.Position); ok {
				d.Require(p.SiteID == n.SiteID || n.SiteID == uuid.Nil, "position_ids", fault.Mismatch)
			}
		}
	},
	put: func(c *registry.Change, n registry.Assembly) { c.Assemblies = append(c.Assemblies, n) },
}

// distinct returns the ids in order, each once.
func distinct(ids []uuid.UUID) []uuid.UUID {
	out := slices.Clone(ids)
	slices.SortFunc(out, compareIDs)
	return slices.Compact(out)
}

func compareIDs(a, b uuid.UUID) int { return bytes.Compare(a[:], b[:]) }

// AddAssembly stores a new assembly, by the terms of AddSite. Its positions lie
// at its site.
func (s *Service) AddAssembly(ctx context.Context, who registry.Actor, n registry.Assembly) (stored registry.Assembly, created bool, err error) {
	return addNoun(ctx, s, who, n, joints)
}

// ChangeAssembly changes an assembly, by the terms of ChangeSite. Its site
// stays.
func (s *Service) ChangeAssembly(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Assembly) error) (registry.Assembly, error) {
	return changeNoun(ctx, s, who, id, version, edit, joints)
}

package app

import (
	"maps"
	"slices"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// maxCoordinateWords is how much of a cave's coordinates is kept on its site,
// in bytes; every row's own cells are kept beside the import anyway.
const maxCoordinateWords = 1000

// book finds the nouns that a list names, known ones and those made for it, by
// their folded names. Places, landowners and parcels that have ended are not
// found.
type book struct {
	sites    shelf[string, registry.Site]
	sectors  shelf[within, registry.Sector]
	routes   shelf[within, registry.Route]
	persons  shelf[string, registry.Person]
	owners   shelf[string, registry.Landowner]
	parcels  shelf[uuid.UUID, registry.Parcel]
	glues    shelf[string, registry.Product]
	batches  shelf[within, registry.Batch]
	spots    map[within][]uuid.UUID // positions that are there
	lastStop map[uuid.UUID]int      // by route
	altered  map[uuid.UUID]*registry.Site
}

// within names a noun inside another: a sector in its site, a route in its
// sector or else its site, a position on its route or else in its sector or
// site, a batch under its product.
type within struct {
	in   uuid.UUID
	name string
}

// shelf holds nouns of one kind by key, and those made here in the order in
// which they were made.
type shelf[K comparable, T any] struct {
	all  map[K]*T
	made []*T
}

func newShelf[K comparable, T any](known []T, key func(*T) (K, bool)) shelf[K, T] {
	s := shelf[K, T]{all: make(map[K]*T, len(known))}
	for i := range known {
		if k, ok := key(&known[i]); ok && s.all[k] == nil {
			t := known[i]
			s.all[k] = &t
		}
	}
	return s
}

// get returns the noun under key, made by make if there is none.
func (s *shelf[K, T]) get(key K, make func() T) *T {
	if t := s.all[key]; t != nil {
		return t
	}
	t := make()
	s.all[key] = &t
	s.made = append(s.made, &t)
	return &t
}

func (s *shelf[K, T]) fresh() []T {
	var out []T
	for _, t := range s.made {
		out = append(out, *t)
	}
	return out
}

func newBook(k registry.Known) *book {
	b := &book{
		sites: newShelf(k.Sites, func(s *registry.Site) (string, bool) { return registry.Fold(s.Name), s.EndedOn.IsZero() }),
		sectors: newShelf(k.Sectors, func(s *registry.Sector) (within, bool) {
			return within{s.SiteID, registry.Fold(s.Name)}, s.EndedOn.IsZero()
		}),
		routes:  newShelf(k.Routes, func(r *registry.Route) (within, bool) { return routeKey(r), r.EndedOn.IsZero() }),
		persons: newShelf(k.Persons, func(p *registry.Person) (string, bool) { return registry.Fold(p.Name), true }),
		owners:  newShelf(k.Landowners, func(l *registry.Landowner) (string, bool) { return registry.Fold(l.Name), l.EndedOn.IsZero() }),
		parcels: newShelf(k.Parcels, func(p *registry.Parcel) (uuid.UUID, bool) {
			return p.LandownerID, p.Outline == "" && p.EndedOn.IsZero()
		}),
		glues:    newShelf(k.Products, func(p *registry.Product) (string, bool) { return registry.Fold(p.Name), p.Kind == registry.Adhesive }),
		batches:  newShelf(k.Batches, func(b *registry.Batch) (within, bool) { return batchKey(b), true }),
		spots:    make(map[within][]uuid.UUID),
		lastStop: make(map[uuid.UUID]int),
		altered:  make(map[uuid.UUID]*registry.Site),
	}
	b.place(k.Positions, k.Stops)
	return b
}

// place notes which spots that have not ended are taken, on each of their routes or, without one,
// in their sector or site.
func (b *book) place(positions []registry.Position, stops []registry.Stop) {
	routes := make(map[uuid.UUID][]uuid.UUID)
	for _, s := range stops {
		routes[s.PositionID] = append(routes[s.PositionID], s.RouteID)
		b.lastStop[s.RouteID] = max(b.lastStop[s.RouteID], s.Rank)
	}
	for _, p := range positions {
		if !p.EndedOn.IsZero() {
			continue
		}
		if len(routes[p.ID]) == 0 {
			b.spot(part(p.SiteID, p.SectorID), &p)
		}
		for _, r := range routes[p.ID] {
			b.spot(r, &p)
		}
	}
}

func (b *book) spot(in uuid.UUID, p *registry.Position) {
	at := within{in, registry.Fold(p.Label)}
	b.spots[at] = append(b.spots[at], p.ID)
}

// part returns the sector's id or, without one, the site's.
func part(site uuid.UUID, sector *uuid.UUID) uuid.UUID {
	if sector != nil {
		return *sector
	}
	return site
}

func routeKey(r *registry.Route) within {
	return within{part(r.SiteID, r.SectorID), registry.Fold(r.Name)}
}

func batchKey(b *registry.Batch) within {
	if b.ProductID == nil {
		return within{name: b.Key()}
	}
	return within{*b.ProductID, b.Key()}
}

// taken says whether the register holds the position that a row is about.
func (b *book) taken(row *registry.ListRow) bool { return len(b.there(row)) > 0 }

// holds says whether a position is the one that a row is about.
func (b *book) holds(row *registry.ListRow, position uuid.UUID) bool {
	return slices.Contains(b.there(row), position)
}

// there lists the positions that a row may be about.
func (b *book) there(row *registry.ListRow) []uuid.UUID {
	site := b.sites.all[registry.Fold(row.Site)]
	if site == nil {
		return nil
	}
	in := site.ID
	if name := registry.Fold(row.Sector); name != "" {
		sector := b.sectors.all[within{in, name}]
		if sector == nil {
			return nil
		}
		in = sector.ID
	}
	if name := registry.Fold(row.Route); name != "" {
		route := b.routes.all[within{in, name}]
		if route == nil {
			return nil
		}
		in = route.ID
	}
	return b.spots[within{in, registry.Fold(row.Label)}]
}

// site finds or makes a row's site, and keeps the words of a cave's
// coordinates on it.
func (b *book) site(row *registry.ListRow) *registry.Site {
	s := b.sites.get(registry.Fold(row.Site), func() registry.Site { return newSite(row) })
	words := row.CoordinateWords
	if s.Kind != registry.Cave || words == "" || strings.Contains(s.CoordinateWords, words) {
		return s
	}
	joined := strings.TrimPrefix(s.CoordinateWords+siteWordsJoin+words, siteWordsJoin)
	if len(joined) > maxCoordinateWords {
		return s
	}
	s.CoordinateWords = joined
	if s.Version > 0 {
		b.altered[s.ID] = s
	}
	return s
}

func newSite(row *registry.ListRow) registry.Site {
	return registry.Site{ID: newID(), Name: tidy(row.Site), Kind: row.SiteKind}
}

// sector finds or makes a row's sector, nil if it names none.
func (b *book) sector(row *registry.ListRow, site uuid.UUID) *uuid.UUID {
	name := registry.Fold(row.Sector)
	if name == "" {
		return nil
	}
	return &b.sectors.get(within{site, name}, func() registry.Sector {
		return registry.Sector{ID: newID(), SiteID: site, Name: tidy(row.Sector)}
	}).ID
}

// route finds or makes a row's route, nil if it names none.
func (b *book) route(row *registry.ListRow, site uuid.UUID, sector *uuid.UUID) *registry.Route {
	name := registry.Fold(row.Route)
	if name == "" {
		return nil
	}
	return b.routes.get(within{part(site, sector), name}, func() registry.Route {
		return registry.Route{ID: newID(), SiteID: site, SectorID: sector, Name: tidy(row.Route), Kind: row.RouteKind}
	})
}

// person finds or makes the person of a name, nil for none.
func (b *book) person(name string) *uuid.UUID {
	key := registry.Fold(name)
	if key == "" {
		return nil
	}
	return &b.persons.get(key, func() registry.Person { return registry.Person{ID: newID(), Name: tidy(name)} }).ID
}

// parcel finds or makes the one parcel without outline of a landowner, nil for
// no name.
func (b *book) parcel(owner string) *uuid.UUID {
	key := registry.Fold(owner)
	if key == "" {
		return nil
	}
	l := b.owners.get(key, func() registry.Landowner { return registry.Landowner{ID: newID(), Name: tidy(owner)} })
	return &b.parcels.get(l.ID, func() registry.Parcel {
		return registry.Parcel{ID: newID(), LandownerID: l.ID, Name: l.Name}
	}).ID
}

// glue finds or makes the adhesive of a name, nil for none.
func (b *book) glue(name string) *uuid.UUID {
	key := registry.Fold(name)
	if key == "" {
		return nil
	}
	return &b.glues.get(key, func() registry.Product {
		return registry.Product{ID: newID(), Kind: registry.Adhesive, Name: tidy(name)}
	}).ID
}

// batch finds or makes a batch of product, nil for a text without letters and
// digits.
func (b *book) batch(text string, product *uuid.UUID) *registry.Batch {
	fresh := registry.Batch{ProductID: product, Text: tidy(text)}
	if fresh.Key() == "" {
		return nil
	}
	return b.batches.get(batchKey(&fresh), func() registry.Batch { fresh.ID = newID(); return fresh })
}

// idOf is a batch's id, nil for none.
func idOf(b *registry.Batch) *uuid.UUID {
	if b == nil {
		return nil
	}
	return &b.ID
}

// stop returns the next stop of a route.
func (b *book) stop(route, position uuid.UUID) registry.Stop {
	b.lastStop[route]++
	return registry.Stop{RouteID: route, PositionID: position, Rank: b.lastStop[route]}
}

// into adds what was made or altered to a change.
func (b *book) into(c *registry.Change) {
	c.Sites, c.Sectors, c.Routes = b.sites.fresh(), b.sectors.fresh(), b.routes.fresh()
	for _, s := range maps.All(b.altered) {
		c.Sites = append(c.Sites, *s)
	}
	c.Persons, c.Landowners, c.Parcels = b.persons.fresh(), b.owners.fresh(), b.parcels.fresh()
	c.Products, c.Batches = b.glues.fresh(), b.batches.fresh()
}

// tidy joins words with single spaces.
func tidy(text string) string { return registry.Tidy(text) }

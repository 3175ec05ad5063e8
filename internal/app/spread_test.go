package app

import (
	"slices"
	"testing"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/registry"
)

// Whatever the layout, each position that carries a note is covered once, and
// no place is taken at which an anchor stands that does not carry it.
func TestCoverIsTrueOfEveryAnchor(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l, all := drawnLayout(t)
		noted := all[:rapid.IntRange(1, len(all)).Draw(t, "noted")]
		var covered []uuid.UUID
		for _, at := range l.cover(noted) {
			covered = append(covered, at.positions...)
			for _, p := range l.places {
				if p.place == at.place && !l.full(p, noted) {
					t.Fatalf("%s is taken though an anchor stands there that does not carry the note", at.place.Kind)
				}
			}
		}
		if want := distinct(noted); !slices.Equal(distinct(covered), want) || len(covered) != len(want) {
			t.Fatalf("covers %d positions (%d distinct), want each of %d once", len(covered), len(distinct(covered)), len(want))
		}
	})
}

// drawnLayout is a site with a few sectors of a few routes, some of which share
// a position, some positions without an anchor.
func drawnLayout(t *rapid.T) (l *layout, all []uuid.UUID) {
	l = &layout{standing: make(map[uuid.UUID]bool)}
	id := func() uuid.UUID { return uuid.UUID{0: 7, 14: byte(len(all) + len(l.places)*40), 15: byte(len(all))} }
	var sectors []spread
	for range rapid.IntRange(1, 3).Draw(t, "sectors") {
		sector := spread{place: registry.Place{Kind: registry.AtSector, ID: newID()}}
		for range rapid.IntRange(1, 3).Draw(t, "routes") {
			route := spread{place: registry.Place{Kind: registry.AtRoute, ID: newID()}}
			for range rapid.IntRange(1, 4).Draw(t, "positions") {
				p := id()
				all = append(all, p)
				route.positions = append(route.positions, p)
				l.standing[p] = rapid.IntRange(0, 9).Draw(t, "standing") > 0
			}
			if len(sector.positions) > 0 && rapid.Bool().Draw(t, "shared belay") {
				route.positions = append(route.positions, sector.positions[0])
			}
			sector.positions = distinct(append(sector.positions, route.positions...))
			l.places = append(l.places, route)
		}
		sectors = append(sectors, sector)
	}
	all = rapid.Permutation(all).Draw(t, "order")
	l.places = append(append(l.places, sectors...), spread{registry.Place{Kind: registry.AtSite, ID: newID()}, all})
	return l, all
}

package postgres_test

import (
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// What stands at a place is found by each kind of place, in its own group only.
func TestAnchorsAtPlaces(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	other := addGroup(t, r.admin)
	here, none := []uuid.UUID{s.anchor.ID}, []uuid.UUID(nil)
	for kind, id := range map[registry.PlaceKind]uuid.UUID{
		registry.AtSite: s.site.ID, registry.AtSector: s.sector.ID, registry.AtRoute: s.route.ID, registry.AtPosition: s.position.ID,
	} {
		at := registry.Place{Kind: kind, ID: id}
		same(t, "anchors at "+string(kind), here, func() ([]uuid.UUID, error) { return r.store.AnchorsAt(t.Context(), r.group.ID, at) })
		same(t, "anchors of another group at "+string(kind), none, func() ([]uuid.UUID, error) { return r.store.AnchorsAt(t.Context(), other.ID, at) })
	}
	asked := []uuid.UUID{uuid.New(), s.anchor.ID, s.anchor.ID}
	same(t, "known anchors", here, func() ([]uuid.UUID, error) { return r.store.KnownAnchors(t.Context(), r.group.ID, asked) })
	same(t, "known anchors of another group", none, func() ([]uuid.UUID, error) { return r.store.KnownAnchors(t.Context(), other.ID, asked) })

	s.anchor.Version, s.anchor.Removed = 1, true
	if err := r.write(t, registry.Change{Anchors: []registry.Anchor{s.anchor}}); err != nil {
		t.Fatal(err)
	}
	at := registry.Place{Kind: registry.AtSite, ID: s.site.ID}
	same(t, "anchors at a site, once removed", none, func() ([]uuid.UUID, error) { return r.store.AnchorsAt(t.Context(), r.group.ID, at) })
}

package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
)

// AnchorsAt lists the anchors that stand in the rock at a place, in no
// particular order; none at a place that is not there.
func (s *Store) AnchorsAt(ctx context.Context, group uuid.UUID, place registry.Place) ([]uuid.UUID, error) {
	var found []uuid.UUID
	err := s.read(ctx, group, "list anchors at "+string(place.Kind), func(b *pgx.Batch) {
		ids(b, &found, selectBeside, besideArgs([]registry.Place{place}))
	})
	return found, err
}

// selectKnownAnchors is served by the primary key.
const selectKnownAnchors = `
SELECT a.id
FROM anchor AS a
WHERE a.id = ANY(@ids)
ORDER BY a.id`

// KnownAnchors lists those of the ids that are anchors of the group, each once.
func (s *Store) KnownAnchors(ctx context.Context, group uuid.UUID, list []uuid.UUID) ([]uuid.UUID, error) {
	var found []uuid.UUID
	err := s.read(ctx, group, "look up anchors", func(b *pgx.Batch) {
		ids(b, &found, selectKnownAnchors, pgx.StrictNamedArgs{"ids": list})
	})
	return found, err
}

package postgres

import (
	"context"
	"strconv"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// lockPositions holds the positions @ids, which are in order, until the
// transaction ends, and lists those that have not ended. Rows that refer to a
// position may still be entered meanwhile: whoever wants it vacant holds it.
const lockPositions = `
SELECT t.id
FROM ` + theseIDs + ` AS k
CROSS JOIN LATERAL (SELECT p.id, p.ended_on FROM position AS p WHERE p.id = k.id FOR NO KEY UPDATE OFFSET 0) AS t
WHERE t.ended_on IS NULL`

// selectStanding lists the anchors in the rock at positions; served by
// anchor_at_position_idx.
const selectStanding = `
SELECT a.id
FROM ` + theseIDs + ` AS k
CROSS JOIN LATERAL (SELECT a.id FROM anchor AS a WHERE a.position_id = k.id AND NOT a.removed OFFSET 0) AS a`

// wantVacant holds the positions that a change wants vacant, and returns
// fault.Conflict, with code fault.InUse, if an anchor stands at one of them or
// one has ended. It comes before the change is written, so that two changes that
// each saw a position vacant do not both use it.
func (w *writer) wantVacant(ctx context.Context, ch *registry.Change) error {
	if len(ch.Vacant) == 0 {
		return nil
	}
	var open, standing []uuid.UUID
	args := pgx.StrictNamedArgs{"ids": distinct(ch.Vacant)}
	err := w.ask(ctx, "hold positions", func(b *pgx.Batch) {
		ids(b, &open, lockPositions, args)
		ids(b, &standing, selectStanding, args)
	})
	if err != nil {
		return err
	}
	if len(standing) == 0 && len(open) == len(distinct(ch.Vacant)) {
		return nil
	}
	return fault.New(fault.Conflict, "a position is not vacant any more").WithCode(fault.InUse).
		With("occupied", strconv.Itoa(len(standing)))
}

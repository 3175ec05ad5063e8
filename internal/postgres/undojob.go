package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
)

const askUndo = `
UPDATE import_job AS t
SET state = 'undoing', undo_who = @who, undo_at = @at, in_the_way = NULL
WHERE t.id = @id AND t.state IN ('done', 'failed') AND t.begun`

// AskUndo lets a list that was entered, or failed after some of it was, wait to
// be undone for whoever asked, and returns it as it is then. One in another state
// is left as it is.
func (s *Store) AskUndo(ctx context.Context, group, id uuid.UUID, by string, at time.Time) (registry.ImportJob, error) {
	var row jobRow
	q := byID("ask to undo import", jobs.selectSQL, id)
	err := s.read(ctx, group, q.doing, func(b *pgx.Batch) {
		b.Queue(askUndo, pgx.StrictNamedArgs{"id": id, "who": by, "at": at})
		one(b, &row, q.sql, q.args)
	})
	return row.noun(), err
}

const refuseUndo = `
UPDATE import_job AS t
SET state = CASE WHEN t.taken < t.pieces THEN 'failed' ELSE 'done' END, in_the_way = @why
WHERE t.id = @id AND t.state = 'undoing'`

// RefuseUndo keeps what stood in the way of a list that waited to be undone,
// which stays entered as far as it was.
func (s *Store) RefuseUndo(ctx context.Context, group, id uuid.UUID, why *registry.Refusal) error {
	return s.read(ctx, group, "keep why import "+id.String()+" is not undone", func(b *pgx.Batch) {
		b.Queue(refuseUndo, pgx.StrictNamedArgs{"id": id, "why": why})
	})
}

// selectTouched finds anchors of which a list has rows, and of which something was
// recorded by hand, whether that still counts or not; of these, the ones that the list entered itself: a row may be about an anchor of
// another. Served by the primary key of import_row and the indexes by anchor,
// then by ledger_of_row_idx.
const selectTouched = `
WITH own AS MATERIALIZED (
  SELECT DISTINCT r.anchor_id AS id
  FROM import_row AS r
  WHERE r.import_id = @id),
made AS MATERIALIZED (
  SELECT DISTINCT i.era, i.txid, i.at
  FROM ledger AS i
  WHERE i.row_id = @id AND i.noun = 'import'),
touched AS (
  SELECT o.id FROM own AS o JOIN installation AS x ON x.anchor_id = o.id WHERE x.origin = 'recorded'
  UNION SELECT o.id FROM own AS o JOIN inspection AS x ON x.anchor_id = o.id WHERE x.origin = 'recorded'
  UNION SELECT o.id FROM own AS o JOIN removal AS x ON x.anchor_id = o.id WHERE x.origin = 'recorded'
  UNION SELECT o.id FROM own AS o JOIN cure AS x ON x.anchor_id = o.id
  UNION SELECT o.id FROM own AS o JOIN first_use AS x ON x.anchor_id = o.id
  UNION SELECT o.id FROM own AS o JOIN maintenance AS x ON x.anchor_id = o.id
  UNION SELECT o.id FROM own AS o JOIN marking AS x ON x.anchor_id = o.id
  UNION SELECT o.id FROM own AS o JOIN settlement AS x ON x.anchor_id = o.id)
SELECT t.id
FROM touched AS t
WHERE EXISTS (
  SELECT FROM ledger AS l
  JOIN made AS m ON l.era = m.era AND l.txid = m.txid AND l.at = m.at
  WHERE l.row_id = t.id AND l.noun = 'anchor' AND l.before IS NULL)
ORDER BY t.id
LIMIT @max_rows`

// Suspected returns the facts of up to limit anchors that an import entered and
// of which something was recorded since, which may stand in the way of undoing it.
// It locks nothing.
func (s *Store) Suspected(ctx context.Context, group, id uuid.UUID, limit int) ([]registry.Facts, error) {
	var (
		touched []uuid.UUID
		rows    factRows
	)
	err := s.read(ctx, group, "look what is in the way of undoing import "+id.String(), func(b *pgx.Batch) {
		ids(b, &touched, selectTouched, pgx.StrictNamedArgs{"id": id, "max_rows": limit})
	})
	if err != nil || len(touched) == 0 {
		return nil, err
	}
	err = s.read(ctx, group, "load facts", func(b *pgx.Batch) { rows.queue(b, touched) })
	byAnchor := rows.facts()
	var found []registry.Facts
	for _, anchor := range touched {
		if f := byAnchor[anchor]; f != nil {
			found = append(found, *f)
		}
	}
	return found, err
}

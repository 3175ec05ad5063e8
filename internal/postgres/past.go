package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
)

// pastRow is the latest row of a list about an anchor, with the
// headings of its list.
type pastRow struct {
	AnchorID uuid.UUID         `json:"anchor_id"`
	Key      string            `json:"key"`
	Cells    []string          `json:"cells"`
	Taken    *registry.ListRow `json:"taken"`
	Headings []string          `json:"headings"`
	Columns  pastColumns       `json:"columns"`
}

type pastColumn struct {
	Heading string `json:"heading"`
	Field   string `json:"field"`
}

// pastColumns are the columns of a report.
type pastColumns []pastColumn

// byField returns the heading that was taken for each field.
func (c pastColumns) byField() map[string]string {
	out := make(map[string]string)
	for _, column := range c {
		if column.Field != "" {
			out[column.Field] = column.Heading
		}
	}
	return out
}

func (r pastRow) noun() registry.PastRow {
	return registry.PastRow{Key: r.Key, Headings: r.Headings, Columns: r.Columns.byField(), Cells: r.Cells, Taken: r.Taken}
}

// selectPast is served by import_row_of_anchor_idx.
const selectPast = `
SELECT r.anchor_id, r.key, r.cells, r.taken, i.headings, i.report->'columns' AS columns
FROM ` + theseIDs + ` AS k
CROSS JOIN LATERAL (
  SELECT r.anchor_id, r.key, r.cells, r.taken, r.import_id
  FROM import_row AS r
  WHERE r.anchor_id = k.id AND ` + inForce + `
  ORDER BY r.import_id DESC, r.line DESC
  LIMIT 1) AS r
CROSS JOIN LATERAL (SELECT i.headings, i.report FROM import AS i WHERE i.id = r.import_id OFFSET 0) AS i
ORDER BY r.anchor_id`

// loadNeeded locks those of the anchors that are there and adds what is known
// of them: their facts, the latest rows about them and what their notes
// proposed.
func (w *writer) loadNeeded(ctx context.Context, known *registry.Known, anchorIDs []uuid.UUID) error {
	known.Past, known.Facts = make(map[uuid.UUID]registry.PastRow), make(map[uuid.UUID]registry.Facts)
	known.Proposals = make(map[uuid.UUID][]registry.Proposal)
	var past []pastRow
	var proposed []proposalRow
	facts, err := w.lockFacts(ctx, anchorIDs, func(b *pgx.Batch, args pgx.StrictNamedArgs) {
		all(b, &past, selectPast, args)
		all(b, &proposed, selectProposalsOf, args)
	})
	for id, f := range facts {
		known.Facts[id] = *f
	}
	for _, r := range past {
		known.Past[r.AnchorID] = r.noun()
	}
	for _, r := range proposed {
		known.Proposals[r.AnchorID] = append(known.Proposals[r.AnchorID], r.noun())
	}
	return err
}

// lockFacts locks those of the anchors that are there, in the order of ids, unless
// the transaction only looks, and
// reads their facts and what more is asked for.
func (w *writer) lockFacts(ctx context.Context, anchorIDs []uuid.UUID, more func(*pgx.Batch, pgx.StrictNamedArgs)) (map[uuid.UUID]*registry.Facts, error) {
	if len(anchorIDs) == 0 {
		return nil, nil //nolint:nilnil // of no anchors there are no facts
	}
	var (
		rows   factRows
		locked []uuid.UUID
		args   = pgx.StrictNamedArgs{"ids": distinct(anchorIDs)}
	)
	err := w.ask(ctx, "load facts", func(b *pgx.Batch) {
		if !w.looks {
			ids(b, &locked, lockAnchors, args)
			ids(b, &w.queued, lockDue, args)
		}
		rows.queue(b, distinct(anchorIDs))
		more(b, args)
	})
	if err != nil {
		return nil, err
	}
	w.hold(locked)
	return rows.facts(), nil
}

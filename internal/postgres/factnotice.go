package postgres

import (
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
)

// criteriaRows are the rows of the notices that go by a criterion, and what
// these name. There are few, and each may be about any anchor.
type criteriaRows struct {
	notices  []noticeRow
	products []productRow
	batches  []batchRow
}

// What the group's criteria name; served by notice_by_criterion_idx.
const (
	criterionBatches = `(
  SELECT unnest(n.batch_ids) AS id FROM notice AS n WHERE n.by_criterion
  GROUP BY 1)`
	criterionProducts = `(
  SELECT unnest(n.product_ids) AS id FROM notice AS n WHERE n.by_criterion
  UNION
  SELECT b.product_id
  FROM ` + criterionBatches + ` AS k
  CROSS JOIN LATERAL (SELECT b.product_id FROM batch AS b WHERE b.id = k.id AND b.product_id IS NOT NULL OFFSET 0) AS b)`
)

func (r *criteriaRows) queue(b *pgx.Batch) {
	all(b, &r.notices, notices.selectSQL+"\nWHERE t.by_criterion\nORDER BY t.id", nil)
	all(b, &r.products, products.of("id", criterionProducts)+byIDs, nil)
	all(b, &r.batches, batches.of("id", criterionBatches)+byIDs, nil)
}

// nouns returns the notices with what their criteria name, without the anchors
// that they name.
func (r *criteriaRows) nouns() []registry.Notice {
	named, delivered := convert(r.products, productRow.noun), convert(r.batches, batchRow.noun)
	out := convert(r.notices, noticeRow.noun)
	for i := range out {
		out[i].Criterion.Products, out[i].Criterion.Batches = named, delivered
	}
	return out
}

// addNotices gives each anchor the notices that name it and those that go by a
// criterion, each once, in the order of ids of either kind.
func (f *factRows) addNotices(byAnchor map[uuid.UUID]*registry.Facts) {
	criteria := f.criteria.nouns()
	at := make(map[uuid.UUID]int, len(criteria))
	for i := range criteria {
		at[criteria[i].ID] = i
	}
	for _, facts := range byAnchor {
		facts.Notices = append(facts.Notices, criteria...)
	}
	for _, r := range f.notices {
		facts := byAnchor[r.AnchorID]
		if i, ok := at[r.ID]; ok {
			facts.Notices[i].AnchorIDs = []uuid.UUID{r.AnchorID}
			continue
		}
		notice := r.noun()
		notice.AnchorIDs = []uuid.UUID{r.AnchorID}
		facts.Notices = append(facts.Notices, notice)
	}
}

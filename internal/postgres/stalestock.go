package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
)

// selectSetWith lists the living anchors that are of the products @product_ids,
// or were set with them or with the batches @batch_ids, by themselves or through
// their sessions; what was set in a session that another replaces counts as of
// both. Served by the indexes called by_product, by_hardware, by_adhesive,
// by_batch and by_session.
const selectSetWith = `
WITH RECURSIVE delivered (id) AS (
  SELECT unnest(@batch_ids::uuid[])
  UNION
  SELECT b.id
  FROM unnest(@product_ids::uuid[]) AS k (id)
  CROSS JOIN LATERAL (SELECT b.id FROM batch AS b WHERE b.product_id = k.id OFFSET 0) AS b),
glued (id) AS (
  SELECT g.id
  FROM unnest(@product_ids::uuid[]) AS k (id)
  CROSS JOIN LATERAL (SELECT g.id FROM gluing_session AS g WHERE g.adhesive_id = k.id OFFSET 0) AS g
  UNION
  SELECT g.id
  FROM delivered AS k
  CROSS JOIN LATERAL (SELECT g.id FROM gluing_session AS g WHERE g.batch_id = k.id OFFSET 0) AS g),
corrected (id) AS (
  SELECT k.id FROM glued AS k
  UNION
  SELECT g.replaces
  FROM corrected AS k
  CROSS JOIN LATERAL (SELECT g.replaces FROM gluing_session AS g WHERE g.id = k.id AND g.replaces IS NOT NULL OFFSET 0) AS g)
SELECT a.id
FROM (
  SELECT a.id
  FROM unnest(@product_ids::uuid[]) AS k (id)
  CROSS JOIN LATERAL (SELECT a.id FROM anchor AS a WHERE a.product_id = k.id OFFSET 0) AS a
  UNION
  SELECT i.anchor_id
  FROM unnest(@product_ids::uuid[]) AS k (id)
  CROSS JOIN LATERAL (SELECT i.anchor_id FROM installation AS i WHERE i.hardware_id = k.id OFFSET 0) AS i
  UNION
  SELECT i.anchor_id
  FROM unnest(@product_ids::uuid[]) AS k (id)
  CROSS JOIN LATERAL (SELECT i.anchor_id FROM installation AS i WHERE i.adhesive_id = k.id OFFSET 0) AS i
  UNION
  SELECT i.anchor_id
  FROM delivered AS k
  CROSS JOIN LATERAL (SELECT i.anchor_id FROM installation AS i WHERE i.batch_id = k.id OFFSET 0) AS i
  UNION
  SELECT i.anchor_id
  FROM corrected AS k
  CROSS JOIN LATERAL (SELECT i.anchor_id FROM installation AS i WHERE i.session_id = k.id OFFSET 0) AS i) AS k
CROSS JOIN LATERAL (SELECT a.id FROM anchor AS a WHERE a.id = k.id AND NOT a.removed OFFSET 0) AS a`

// anchorsSetWith lists the anchors that rest on the new sheets and the changed
// batches of a change.
func (w *writer) anchorsSetWith(ctx context.Context, ch *registry.Change) (found []uuid.UUID, err error) {
	productIDs := convert(ch.ProductVersions, func(v registry.ProductVersion) uuid.UUID { return v.ProductID })
	var batchIDs []uuid.UUID
	for i := range ch.Batches {
		if ch.Batches[i].Version > 0 {
			batchIDs = append(batchIDs, ch.Batches[i].ID)
		}
	}
	if len(productIDs)+len(batchIDs) == 0 {
		return nil, nil
	}
	args := pgx.StrictNamedArgs{"product_ids": distinct(productIDs), "batch_ids": distinct(batchIDs)}
	err = w.ask(ctx, "find anchors set with", func(b *pgx.Batch) { ids(b, &found, selectSetWith, args) })
	return found, err
}

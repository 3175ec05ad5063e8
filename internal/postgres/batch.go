package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type batchRow struct {
	inventoryKey
	ProductID     *uuid.UUID    `json:"product_id"`
	Text          string        `json:"text"`
	TextKey       string        `json:"text_key"`
	ExpiresOn     calendar.Date `json:"expires_on"`
	ReceivedOn    calendar.Date `json:"received_on"`
	Quantity      string        `json:"quantity"`
	CountReceived *int          `json:"count_received"`
	CountOnHand   *int          `json:"count_on_hand"`
	EndedOn       calendar.Date `json:"ended_on"`
}

func newBatchRow(b registry.Batch) batchRow {
	return batchRow{
		inventoryKey{b.ID, b.Version},
		b.ProductID, b.Text, b.Key(), b.ExpiresOn, b.ReceivedOn, b.Quantity, b.Received, b.OnHand, b.EndedOn,
	}
}

func (r batchRow) noun() registry.Batch {
	return registry.Batch{
		ID: r.ID, Version: r.Version, ProductID: r.ProductID, Text: r.Text, ExpiresOn: r.ExpiresOn,
		ReceivedOn: r.ReceivedOn, Quantity: r.Quantity, Received: r.CountReceived, OnHand: r.CountOnHand, EndedOn: r.EndedOn,
	}
}

var batches = newTable[batchRow]("batch")

// Batches lists batches, of one product or of all, in the order of ids.
func (s *Store) Batches(ctx context.Context, group uuid.UUID, product *uuid.UUID, page registry.Page) ([]registry.Batch, error) {
	f := pageOf(page)
	f.andID(`t.product_id = @product_id`, "product_id", product)
	return list(ctx, s, group, f.query("list batches", batches.selectSQL), batchRow.noun)
}

// Batch returns one batch, or fault.NotFound.
func (s *Store) Batch(ctx context.Context, group, id uuid.UUID) (registry.Batch, error) {
	return single(ctx, s, group, byID("read batch", batches.selectSQL, id), batchRow.noun)
}

// BatchKeyed returns the batch of a product, nil for one that is not known, by
// the key of its text, or fault.NotFound. Served by batch_text_key.
func (s *Store) BatchKeyed(ctx context.Context, group uuid.UUID, product *uuid.UUID, key string) (registry.Batch, error) {
	q := query{
		"read batch by its text", batches.selectSQL + "\nWHERE t.product_id IS NULL AND t.text_key = @key",
		pgx.StrictNamedArgs{"key": key},
	}
	if product != nil {
		q.sql = batches.selectSQL + "\nWHERE t.product_id = @product_id AND t.text_key = @key"
		q.args["product_id"] = *product
	}
	return single(ctx, s, group, q, batchRow.noun)
}

// selectUses counts the anchors that were set with a batch, as the list of
// anchors by batch finds them. Served by installation_by_batch_idx.
const selectUses = `
SELECT count(DISTINCT i.anchor_id)::int AS anchors
FROM installation AS i
JOIN anchor AS a ON a.group_id = i.group_id AND a.id = i.anchor_id
WHERE i.batch_id = @id AND NOT a.mistaken`

// BatchUses counts the anchors that were set with a batch.
func (s *Store) BatchUses(ctx context.Context, group, batch uuid.UUID) (int, error) {
	q := query{"count the uses of batch " + batch.String(), selectUses, pgx.StrictNamedArgs{"id": batch}}
	return single(ctx, s, group, q, usesRow.count)
}

type usesRow struct {
	Anchors int `json:"anchors"`
}

func (r usesRow) count() int { return r.Anchors }

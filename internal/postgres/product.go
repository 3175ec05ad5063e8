package postgres

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

type productRow struct {
	inventoryKey
	Kind      word      `json:"kind"`
	Name      string    `json:"name"`
	Maker     string    `json:"maker"`
	Form      word      `json:"form"`
	Metal     metal.Set `json:"metal"`
	Chemistry string    `json:"chemistry"`
	Notes     string    `json:"notes"`
}

func newProductRow(p registry.Product) productRow {
	return productRow{
		inventoryKey{p.ID, p.Version}, word(p.Kind), p.Name, p.Maker, word(p.Form), grades(p.Metal), p.Chemistry, p.Notes,
	}
}

func (r productRow) noun() registry.Product {
	return registry.Product{
		ID: r.ID, Version: r.Version, Kind: registry.ProductKind(r.Kind), Name: r.Name, Maker: r.Maker,
		Form: registry.Form(r.Form), Metal: r.Metal, Chemistry: r.Chemistry, Notes: r.Notes,
	}
}

var products = newTable[productRow]("product")

// Products lists products, of one kind or (an empty kind) of both, in the
// order of ids.
func (s *Store) Products(ctx context.Context, group uuid.UUID, kind registry.ProductKind, page registry.Page) ([]registry.Product, error) {
	f := pageOf(page)
	if kind != "" {
		f.and(`t.kind = @kind`, "kind", string(kind))
	}
	return list(ctx, s, group, f.query("list products", products.selectSQL), productRow.noun)
}

// Product returns one product, or fault.NotFound.
func (s *Store) Product(ctx context.Context, group, id uuid.UUID) (registry.Product, error) {
	return single(ctx, s, group, byID("read product", products.selectSQL, id), productRow.noun)
}

type batchRow struct {
	inventoryKey
	ProductID  *uuid.UUID    `json:"product_id"`
	Text       string        `json:"text"`
	TextKey    string        `json:"text_key"`
	ExpiresOn  calendar.Date `json:"expires_on"`
	ReceivedOn calendar.Date `json:"received_on"`
	Quantity   string        `json:"quantity"`
}

func newBatchRow(b registry.Batch) batchRow {
	return batchRow{inventoryKey{b.ID, b.Version}, b.ProductID, b.Text, b.Key(), b.ExpiresOn, b.ReceivedOn, b.Quantity}
}

func (r batchRow) noun() registry.Batch {
	return registry.Batch{
		ID: r.ID, Version: r.Version, ProductID: r.ProductID, Text: r.Text, ExpiresOn: r.ExpiresOn,
		ReceivedOn: r.ReceivedOn, Quantity: r.Quantity,
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

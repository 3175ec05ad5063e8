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
	Kind      word          `json:"kind"`
	Name      string        `json:"name"`
	Maker     string        `json:"maker"`
	Form      word          `json:"form"`
	Metal     metal.Set     `json:"metal"`
	Chemistry string        `json:"chemistry"`
	Notes     string        `json:"notes"`
	EndedOn   calendar.Date `json:"ended_on"`
	Shipped   bool          `json:"shipped"`
}

func newProductRow(p registry.Product) productRow {
	return productRow{
		inventoryKey{p.ID, p.Version},
		word(p.Kind), p.Name, p.Maker, word(p.Form), grades(p.Metal), p.Chemistry, p.Notes,
		p.EndedOn, p.Shipped,
	}
}

func (r productRow) noun() registry.Product {
	return registry.Product{
		ID: r.ID, Version: r.Version, Kind: registry.ProductKind(r.Kind), Name: r.Name, Maker: r.Maker,
		Form: registry.Form(r.Form), Metal: r.Metal, Chemistry: r.Chemistry, Notes: r.Notes,
		EndedOn: r.EndedOn, Shipped: r.Shipped,
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

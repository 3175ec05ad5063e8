package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
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
}

func newProductRow(p registry.Product) productRow {
	return productRow{
		inventoryKey{p.ID, p.Version},
		word(p.Kind), p.Name, p.Maker, word(p.Form), grades(p.Metal), p.Chemistry, p.Notes,
		p.EndedOn,
	}
}

func (r productRow) noun() registry.Product {
	return registry.Product{
		ID: r.ID, Version: r.Version, Kind: registry.ProductKind(r.Kind), Name: r.Name, Maker: r.Maker,
		Form: registry.Form(r.Form), Metal: r.Metal, Chemistry: r.Chemistry, Notes: r.Notes,
		EndedOn: r.EndedOn,
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
	EndedOn    calendar.Date `json:"ended_on"`
}

func newBatchRow(b registry.Batch) batchRow {
	return batchRow{inventoryKey{b.ID, b.Version}, b.ProductID, b.Text, b.Key(), b.ExpiresOn, b.ReceivedOn, b.Quantity, b.EndedOn}
}

func (r batchRow) noun() registry.Batch {
	return registry.Batch{
		ID: r.ID, Version: r.Version, ProductID: r.ProductID, Text: r.Text, ExpiresOn: r.ExpiresOn,
		ReceivedOn: r.ReceivedOn, Quantity: r.Quantity, EndedOn: r.EndedOn,
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

type productVersionRow struct {
	ID               uuid.UUID        `json:"id"`
	ProductID        uuid.UUID        `json:"product_id"`
	FromOn           calendar.Date    `json:"from_on"`
	Source           string           `json:"source"`
	HoleDiameterMM   *quantity.Length `json:"hole_diameter_mm"`
	ShankDiameterMM  *quantity.Length `json:"shank_diameter_mm"`
	OverallLengthMM  *quantity.Length `json:"overall_length_mm"`
	EmbeddedLengthMM *quantity.Length `json:"embedded_length_mm"`
	RatedAxialKN     *quantity.Force  `json:"rated_axial_kn"`
	RatedRadialKN    *quantity.Force  `json:"rated_radial_kn"`
	Drawing          string           `json:"drawing"`
	Words            string           `json:"words"`
}

func (r productVersionRow) rowID() uuid.UUID { return r.ID }

func newProductVersionRow(v registry.ProductVersion) productVersionRow {
	return productVersionRow{
		v.ID, v.ProductID, v.From, v.Source, v.Hole, v.Shank, v.Length, v.Embedded, v.AxialKN, v.RadialKN, v.Drawing, v.Words,
	}
}

func (r productVersionRow) noun() registry.ProductVersion {
	return registry.ProductVersion{
		ID: r.ID, ProductID: r.ProductID, From: r.FromOn, Source: r.Source, Hole: r.HoleDiameterMM, Shank: r.ShankDiameterMM,
		Length: r.OverallLengthMM, Embedded: r.EmbeddedLengthMM, AxialKN: r.RatedAxialKN, RadialKN: r.RatedRadialKN,
		Drawing: r.Drawing, Words: r.Words,
	}
}

var productVersions = newTable[productVersionRow]("product_version")

// ProductVersions lists a product's sheets from the earliest on; none for a
// product that is not there. Served by product_version_of_product_idx.
func (s *Store) ProductVersions(ctx context.Context, group, product uuid.UUID) ([]registry.ProductVersion, error) {
	q := query{
		"list product versions", productVersions.selectSQL + "\nWHERE t.product_id = @id\nORDER BY t.from_on, t.id",
		pgx.StrictNamedArgs{"id": product},
	}
	return list(ctx, s, group, q, productVersionRow.noun)
}

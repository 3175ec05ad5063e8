package app

import (
	"context"
	"fmt"
	"reflect"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

var products = noun[registry.Product]{
	what: "product", add: AddProduct, change: ChangeProduct, read: Store.Product,
	key: func(n *registry.Product) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy: func(n *registry.Product) {
		n.Name, n.Maker, n.Metal = tidy(n.Name), tidy(n.Maker), metal.NewSet(n.Metal...)
	},
	check: func(d *desk, before, n *registry.Product) {
		d.Nest("", n.Validate())
		d.Nest("metal", n.Metal.Validate())
		d.past("ended_on", n.EndedOn)
		d.fixed("kind", before == nil || before.Kind == n.Kind)
		if before != nil && before.Shipped { // known by what it stands for
			d.fixed("name", before.Name == n.Name)
			d.fixed("maker", before.Maker == n.Maker)
			d.fixed("form", before.Form == n.Form)
			d.fixed("chemistry", before.Chemistry == n.Chemistry)
		}
	},
	put: func(c *registry.Change, n registry.Product) { c.Products = append(c.Products, n) },
}

// AddProduct stores a new product, by the terms of AddSite.
func (s *Service) AddProduct(ctx context.Context, who registry.Actor, n registry.Product) (stored registry.Product, created bool, err error) {
	return addNoun(ctx, s, who, n, products)
}

// ChangeProduct changes a product, by the terms of ChangeSite. Its kind stays,
// and so does what an entry that came with the register stands for.
func (s *Service) ChangeProduct(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Product) error) (registry.Product, error) {
	return changeNoun(ctx, s, who, id, version, edit, products)
}

var batches = noun[registry.Batch]{
	what: "batch", add: AddBatch, change: ChangeBatch, read: Store.Batch,
	key:  func(n *registry.Batch) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy: func(n *registry.Batch) { n.Text = tidy(n.Text) },
	check: func(d *desk, before, n *registry.Batch) {
		if before == nil && n.OnHand == nil {
			n.OnHand = n.Received
		}
		d.Nest("", n.Validate())
		d.past("received_on", n.ReceivedOn)
		d.past("ended_on", n.EndedOn)
		if n.ProductID != nil {
			has(d, "product_id", *n.ProductID, Store.Product)
		}
		d.onlyBatch(n)
	},
	put: func(c *registry.Change, n registry.Batch) { c.Batches = append(c.Batches, n) },
}

// onlyBatch wants no other batch of the product to have the same text, spaces,
// case and punctuation aside, and names the one that has.
func (d *desk) onlyBatch(n *registry.Batch) {
	have, err := d.s.store.BatchKeyed(d.ctx, d.who.GroupID, n.ProductID, n.Key())
	switch {
	case fault.KindOf(err) == fault.NotFound:
	case err != nil:
		d.Nest("text", err)
	default:
		d.Require(have.ID == n.ID, "text", fault.Duplicate, "batch", have.Text, "id", have.ID.String())
	}
}

// BatchUses counts the anchors that were set with a batch. A batch that is not
// there was used for none.
func (s *Service) BatchUses(ctx context.Context, who registry.Actor, batch uuid.UUID) (int, error) {
	return one(who, GetBatch, func() (int, error) { return s.store.BatchUses(ctx, who.GroupID, batch) })
}

// AddBatch stores a new batch, by the terms of AddSite. One without a count of
// what is on hand has all that was received. The text of another batch of the
// product is fault.Invalid and names that batch.
func (s *Service) AddBatch(ctx context.Context, who registry.Actor, n registry.Batch) (stored registry.Batch, created bool, err error) {
	return addNoun(ctx, s, who, n, batches)
}

// ChangeBatch changes a batch, by the terms of ChangeSite.
func (s *Service) ChangeBatch(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Batch) error) (registry.Batch, error) {
	return changeNoun(ctx, s, who, id, version, edit, batches)
}

// ProductVersions lists a product's sheets, or fault.NotFound if there is no
// such product.
func (s *Service) ProductVersions(ctx context.Context, who registry.Actor, product uuid.UUID) ([]registry.ProductVersion, error) {
	if err := may(who, ListProductVersions); err != nil {
		return nil, err
	}
	if _, err := s.store.Product(ctx, who.GroupID, product); err != nil {
		return nil, err
	}
	return s.store.ProductVersions(ctx, who.GroupID, product)
}

// AddProductVersion stores a product's sheet from one day on, by the terms of
// AddSite. A sheet is never changed: one from a later day takes its place, and
// of one day there is one. Figures that this kind of product does not have are
// refused, and any sheet of an entry that came with the register.
func (s *Service) AddProductVersion(ctx context.Context, who registry.Actor, v registry.ProductVersion) (stored registry.ProductVersion, created bool, err error) {
	var none registry.ProductVersion
	if err := may(who, AddProductVersion); err != nil {
		return none, false, err
	}
	if v.ID == uuid.Nil {
		v.ID = newID()
	}
	d := s.newDesk(ctx, who)
	d.Nest("", v.Validate())
	if p, ok := has(d, "product_id", v.ProductID, Store.Product); ok {
		d.Nest("", v.FitsKind(p.Kind))
		d.Require(!p.Shipped, "product_id", fault.NotAllowed, "shipped", p.Name)
		sheets, err := s.store.ProductVersions(ctx, who.GroupID, v.ProductID)
		d.Nest("", err)
		for _, have := range sheets {
			if have.ID == v.ID {
				return sameSheet(have, v)
			}
			d.Require(have.From != v.From, "from", fault.Duplicate)
		}
	}
	if err := d.Err(); err != nil {
		return none, false, fmt.Errorf("add product version: %w", err)
	}
	c := registry.Change{What: "product version added", At: s.instant(), ProductVersions: []registry.ProductVersion{v}}
	if err := s.store.Write(ctx, who, c); err != nil {
		return none, false, fmt.Errorf("add version of product %v: %w", v.ProductID, err)
	}
	s.freshen(ctx, who)
	return v, true, nil
}

func sameSheet(have, sent registry.ProductVersion) (registry.ProductVersion, bool, error) {
	if reflect.DeepEqual(have, sent) {
		return have, false, nil
	}
	return registry.ProductVersion{}, false, fault.New(fault.Conflict, "product version %v is stored with other content", have.ID)
}

package web

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// stockPage is what the group holds: products, and batches by expiry.
type stockPage struct {
	Frame     frame
	Soon      []batchLine // on the shelf, expired or about to
	Shelf     []batchLine // the others on the shelf, what expires first comes first
	Gone      []batchLine // used up or thrown away
	Adhesives []productLine
	Hardware  []productLine
	Product   string // link to add one; empty: not allowed
	Batch     string
}

// productLine is one product in a list.
type productLine struct {
	Href, Name, About string
	Shipped           bool
}

// batchLine is one batch in a list.
type batchLine struct {
	Href, Text, Product string
	Expiry              string
	Late                bool // expired
	OnHand              string
}

func (p *Pages) stock(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	products, err := p.products(ctx, who)
	if err != nil {
		return err
	}
	batches, err := p.batches(ctx, who, nil)
	if err != nil {
		return err
	}
	page := stockPage{Frame: p.framed(c, "Stock")}
	base := page.Frame.Base
	for _, x := range products {
		if !x.EndedOn.IsZero() {
			continue
		}
		line := productLine{productHref(base, x.ID), x.Name, productAbout(x), x.Shipped}
		if x.Kind == registry.Adhesive {
			page.Adhesives = append(page.Adhesives, line)
		} else {
			page.Hardware = append(page.Hardware, line)
		}
	}
	page.sort(base, batches, productNames(products), p.service.AsOf(who))
	if allowed(c, app.AddProduct) {
		page.Product = base + "/stock/products"
	}
	if allowed(c, app.AddBatch) {
		page.Batch = base + "/stock/batches"
	}
	return ok(c, stockView(page))
}

// sort puts each batch where it belongs.
func (page *stockPage) sort(base string, batches []registry.Batch, names map[uuid.UUID]string, asOf calendar.Date) {
	for _, b := range batches {
		line := newBatchLine(base, b, names, asOf)
		if !b.Shelved() {
			page.Gone = append(page.Gone, line)
			continue
		}
		if e := b.Expiry(asOf); e == registry.Expired || e == registry.ExpiresSoon {
			page.Soon = append(page.Soon, line)
		} else {
			page.Shelf = append(page.Shelf, line)
		}
	}
}

func newBatchLine(base string, b registry.Batch, names map[uuid.UUID]string, asOf calendar.Date) batchLine {
	line := batchLine{
		Href: batchHref(base, b.ID), Text: b.Text, Product: "product not known",
		Expiry: wording.Expiry(b.Expiry(asOf), b.ExpiresOn), Late: b.Expiry(asOf) == registry.Expired && b.Shelved(),
		OnHand: joinNamed("; ", wording.OnHand(b), wording.ReceivedAs(b)),
	}
	if b.ProductID != nil {
		line.Product = names[*b.ProductID]
	}
	return line
}

// products lists all products by name.
func (p *Pages) products(ctx context.Context, who registry.Actor) ([]registry.Product, error) {
	list, err := everything(func(page registry.Page) ([]registry.Product, error) {
		return p.service.Products(ctx, who, "", page)
	}, func(x registry.Product) uuid.UUID { return x.ID })
	slices.SortStableFunc(list, func(a, b registry.Product) int {
		return strings.Compare(registry.Fold(a.Name), registry.Fold(b.Name))
	})
	return list, err
}

// batches lists the batches of one product, or of all, by expiry; those of
// which it is not known come last.
func (p *Pages) batches(ctx context.Context, who registry.Actor, product *uuid.UUID) ([]registry.Batch, error) {
	list, err := everything(func(page registry.Page) ([]registry.Batch, error) {
		return p.service.Batches(ctx, who, product, page)
	}, func(b registry.Batch) uuid.UUID { return b.ID })
	slices.SortStableFunc(list, func(a, b registry.Batch) int {
		if a.ExpiresOn.IsZero() != b.ExpiresOn.IsZero() {
			return cmp.Compare(b.ExpiresOn, a.ExpiresOn)
		}
		return cmp.Or(cmp.Compare(a.ExpiresOn, b.ExpiresOn), strings.Compare(a.Text, b.Text))
	})
	return list, err
}

func productNames(list []registry.Product) map[uuid.UUID]string {
	names := make(map[uuid.UUID]string, len(list))
	for _, x := range list {
		names[x.ID] = x.Name
	}
	return names
}

// productAbout says in a line what a product is.
func productAbout(x registry.Product) string {
	if x.Kind == registry.Adhesive {
		return joinNamed(", ", x.Maker, x.Chemistry)
	}
	about := ""
	if x.Form != "" {
		about = wording.Label(x.Form)
	}
	if x.Metal.Known() {
		about = joinNamed(", ", about, wording.Metal(x.Metal, ""))
	}
	return joinNamed(", ", x.Maker, about)
}

func productHref(base string, id uuid.UUID) string { return base + "/products/" + id.String() }

func batchHref(base string, id uuid.UUID) string { return base + "/batches/" + id.String() }

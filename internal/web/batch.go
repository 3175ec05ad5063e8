package web

import (
	"net/http"
	"strconv"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// batchPage is one batch: what is left of it and where it went.
type batchPage struct {
	*form
	Frame   frame
	Notice  string
	Name    string
	Trail   []detail
	Details []detail
	Expired bool
	UsedBy  []anchorRow
	Trace   string // link to where it went
	Write   string // link to write a notice about it; empty: not allowed
	Action  string // of the form that counts it; empty: not allowed
}

func (p *Pages) batch(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	id, err := idOf(c)
	if err != nil {
		return err
	}
	b, err := p.service.Batch(c.Request().Context(), who, id)
	if err != nil {
		return err
	}
	f := newForm("version", strconv.Itoa(b.Version))
	if b.OnHand != nil {
		f.Values.Set("count_on_hand", strconv.Itoa(*b.OnHand))
	}
	if !b.EndedOn.IsZero() {
		f.Values.Set("ended_on", b.EndedOn.String())
	}
	return p.showBatch(c, who, b, f)
}

func (p *Pages) showBatch(c echo.Context, who registry.Actor, b registry.Batch, f *form) error {
	ctx := c.Request().Context()
	page := batchPage{form: f, Frame: p.framed(c, "Batch "+b.Text), Notice: notice(c), Name: "Batch " + b.Text}
	asOf := p.service.AsOf(who)
	page.Expired = b.Expiry(asOf) == registry.Expired
	var d details
	if b.ProductID != nil {
		x, err := p.service.Product(ctx, who, *b.ProductID)
		if err != nil {
			return err
		}
		page.Trail = append(page.Trail, detail{x.Name, productHref(page.Frame.Base, x.ID)})
		d.add("Product", x.Name)
	} else {
		d.add("Product", wording.Label(""))
	}
	page.Trail = append(page.Trail, detail{b.Text, ""})
	d.add("Received", b.ReceivedOn.Words())
	d.add("Expiry", wording.Expiry(b.Expiry(asOf), b.ExpiresOn))
	d.add("On hand", wording.OnHand(b))
	d.add("As delivered", b.Quantity)
	lines, err := everything(func(at registry.Page) ([]registry.AnchorLine, error) {
		return p.service.Anchors(ctx, who, registry.AnchorFilter{BatchID: &b.ID}, at)
	}, func(l registry.AnchorLine) uuid.UUID { return l.Anchor.ID })
	if err != nil {
		return err
	}
	d.add("Used by", wording.Anchors(len(lines)))
	page.Details = d
	for _, l := range lines {
		page.UsedBy = append(page.UsedBy, lineRow(page.Frame.Base, l))
	}
	page.Trace = batchHref(page.Frame.Base, b.ID) + "/trace"
	if allowed(c, app.AddNotice) {
		page.Write = recallFormHref(page.Frame.Base, b.ID)
	}
	if allowed(c, app.ChangeBatch) {
		page.Action = batchHref(page.Frame.Base, b.ID)
	}
	return render(c, f.status(), batchView(page))
}

// countBatch keeps how much of a batch is left.
func (p *Pages) countBatch(c echo.Context) error {
	who, id, err := p.recording(c, app.ChangeBatch)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	stored, err := p.service.Batch(ctx, who, id)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	version, err := strconv.Atoi(f.text("version"))
	if err != nil {
		err = fault.New(fault.Stale, "no version of batch %v", id)
	}
	f.checks.Nest("", err)
	onHand, endedOn := f.whole("count_on_hand"), f.date("ended_on")
	if err = f.checks.Err(); err == nil {
		_, err = p.service.ChangeBatch(ctx, who, id, version, func(b *registry.Batch) error {
			b.OnHand, b.EndedOn = onHand, endedOn
			return nil
		})
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		if f.refuse == fault.Stale { // the page says what is stored now, so that sending it again is a choice
			f.Values.Set("version", strconv.Itoa(stored.Version))
		}
		return p.showBatch(c, who, stored, f)
	}
	return c.Redirect(http.StatusSeeOther, batchHref(p.base(c), id)+"?done=batch-count")
}

func (p *Pages) batchFormPage(c echo.Context, who registry.Actor, f *form) (stockFormPage, error) {
	page := p.stockForm(c, f, "Add a batch", "/stock/batches")
	list, err := p.products(c.Request().Context(), who)
	page.Products = productOptions(list)
	return page, err
}

func (p *Pages) batchForm(c echo.Context) error {
	who, err := mayAdd(c, app.AddBatch)
	if err != nil {
		return err
	}
	f, err := blankForm("received_on", p.service.AsOf(who).String(), "product_id", c.QueryParam("product"))
	if err != nil {
		return err
	}
	page, err := p.batchFormPage(c, who, f)
	if err != nil {
		return err
	}
	return ok(c, batchFormView(page))
}

func (p *Pages) enterBatch(c echo.Context) error {
	who, err := mayAdd(c, app.AddBatch)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	b := registry.Batch{
		ID: f.id("id"), ProductID: orNil(f.id("product_id")), Text: f.text("text"), Quantity: f.text("quantity"),
		ExpiresOn: f.date("expires_on"), ReceivedOn: f.date("received_on"),
		Received: f.whole("count_received"), OnHand: f.whole("count_on_hand"),
	}
	f.checks.Nest("", b.Validate())
	if err = f.checks.Err(); err == nil {
		b, _, err = p.service.AddBatch(c.Request().Context(), who, b)
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		page, err := p.batchFormPage(c, who, f)
		if err != nil {
			return err
		}
		return render(c, f.status(), batchFormView(page))
	}
	return c.Redirect(http.StatusSeeOther, batchHref(p.base(c), b.ID)+"?done=batch")
}

package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// glued is a list of an invented crag with one bonded anchor.
const glued = `Site,Route,Anchor,Type,Date set,Resin,Batch
Gutter Edge,Slate Rib,1,glue-in,12/05/2016,Invented Resin,L17-A
`

// stocked adds an invented adhesive with a sheet and a batch that expires soon.
func (s *stack) stocked(t *testing.T) (product, batch uuid.UUID) {
	t.Helper()
	ctx, who := t.Context(), s.actor(registry.RoleSteward)
	today := s.service.AsOf(who)
	glue, _, err := s.service.AddProduct(ctx, who, registry.Product{Kind: registry.Adhesive, Name: "Invented Other Resin", Chemistry: "vinylester"})
	check(t, err)
	wet := 400
	_, _, err = s.service.AddProductVersion(ctx, who, registry.ProductVersion{
		ProductID: glue.ID, From: today.AddYears(-1), Source: "invented sheet",
		CureRows: []registry.CureRow{
			{FromC: -4, ToC: 4, WorkMinutes: 40, CureMinutes: 200, CureWetMinutes: &wet}, {FromC: 5, ToC: 5, WorkMinutes: 20, CureMinutes: 90},
		},
	})
	check(t, err)
	received := 12
	b, _, err := s.service.AddBatch(ctx, who, registry.Batch{ProductID: &glue.ID, Text: "L1709-A", ExpiresOn: today.AddDays(30), Received: &received})
	check(t, err)
	_, _, err = s.service.AddBatch(ctx, who, registry.Batch{ProductID: &glue.ID, Text: "OLD-1", ExpiresOn: today.AddDays(-1), Received: &received})
	check(t, err)
	return glue.ID, b.ID
}

// What expires first stands first, what has expired is said to be, and the
// sheet is a table.
func TestStockPages(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(glued)
	s.stocked(t)
	b := s.member(t, registry.RoleReader)
	stock := b.get(b.get("/g/fell-end/").link(t, "Stock"))
	for part, want := range map[string]string{"soon": "OLD-1 L1709-A", "shelf": "L17-A"} { // each batch once
		var order []string
		for _, l := range web.All(web.One(t, stock.doc, part, web.Tag("section"), web.Has("aria-labelledby", part)), web.Class("batch")) {
			order = append(order, strings.Fields(web.Text(l))[0])
		}
		if got := strings.Join(order, " "); got != want {
			t.Errorf("batches under %s %q, want %q: what expires first comes first", part, got, want)
		}
	}
	for _, want := range []string{"never to be used", "expires soon", "12 of 12 on hand", "expiry not known", wording.ExpiryHelp, wording.Caution} {
		if !strings.Contains(stock.text(), want) {
			t.Errorf("stock lacks %q: %s", want, stock.text())
		}
	}
	if strings.Contains(stock.body, "/stock/batches") || strings.Contains(stock.body, "/stock/products") {
		t.Error("a reader is offered to add stock")
	}
	product := b.get(stock.link(t, "Invented Other Resin"))
	table := web.Text(web.One(t, product.doc, "cure table", web.Tag("table")))
	for _, want := range []string{"-4 to 4 °C 40 min 3 h 20 min 6 h 40 min", "5 °C 20 min 1 h 30 min not given"} {
		if !strings.Contains(table, want) {
			t.Errorf("cure table %q lacks %q", table, want)
		}
	}
	if old := b.get(stock.link(t, "OLD-1")); !strings.Contains(old.text(), wording.BatchExpired) {
		t.Errorf("page of an expired batch: %s", old.text())
	}
	used := b.get(stock.link(t, "L17-A"))
	if n := len(web.All(used.doc, web.Class("anchor-row"))); n != 1 || !strings.Contains(used.text(), "Used by 1 anchor") {
		t.Errorf("batch of the list shows %d anchors: %s", n, used.text())
	}
}

func TestStockIsEntered(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	stock := b.get("/g/fell-end/stock")

	at := stock.link(t, "Add a product")
	form := b.get(at).form(t, at)
	if p := b.post(at, form); p.status != http.StatusUnprocessableEntity {
		t.Errorf("a product without a name = %d, want 422", p.status)
	}
	form.Set("name", "Invented Resin")
	form.Set("chemistry", "epoxy")
	product := b.led(t, b.post(at, form))
	if !strings.Contains(product.text(), wording.NoSheet) || !strings.Contains(product.text(), wording.RecordedProduct) {
		t.Errorf("page of a product without a sheet: %s", product.text())
	}

	at = product.link(t, "Add a sheet")
	form = b.get(at).form(t, at)
	form.Set("source", "invented sheet")
	form.Set("cure_rows", "0..4: 45 min, 7 h\n5..9: 25, 2")
	wrong := b.post(at, form)
	if got := web.Text(web.One(t, wrong.doc, "what is wrong", web.Has("id", "cure_rows-wrong"))); wrong.status != 422 || !strings.Contains(got, "Line 2") {
		t.Errorf("a row that cannot be read = %d %q, want it to name line 2", wrong.status, got)
	}
	form.Set("cure_rows", "5..9: 25 min, 2 h, wet 4 h\n0..4: 45 min, 7 h")
	if got := b.post(at, form); got.status != 422 || !strings.Contains(got.text(), "from cold to warm") {
		t.Errorf("rows from warm to cold = %d: %s", got.status, got.text())
	}
	form.Set("cure_rows", "0..4: 45 min, 7 h\n5..9: 25 min, 2 h, wet 4 h")
	form["moistures"] = []string{"dry", "damp"}
	form.Set("cartridge_ml", "345")
	sheet := b.led(t, b.post(at, form))
	for _, want := range []string{"5 to 9 °C 25 min 2 h 4 h", "345 mL", "Hole may be dry, damp"} {
		if !strings.Contains(sheet.text(), want) {
			t.Errorf("sheet lacks %q: %s", want, sheet.text())
		}
	}

	at = stock.link(t, "Add a batch")
	form = b.get(at).form(t, at)
	form.Set("text", "L1709-A")
	form.Set("count_received", "12")
	batch := b.post(at, form)
	href := strings.Split(batch.header.Get("Location"), "?")[0]
	form = b.get(at).form(t, at)
	form.Set("text", "l 1709 a")
	if again := b.post(at, form); again.status != 422 || !strings.Contains(again.text(), "L1709-A") {
		t.Errorf("the same batch again = %d: %s", again.status, again.text())
	}
	form = b.get(href).form(t, href)
	form.Set("count_on_hand", "13")
	if p := b.post(href, form); p.status != 422 {
		t.Errorf("more on hand than received = %d, want 422", p.status)
	}
	form.Set("count_on_hand", "5")
	if p := b.led(t, b.post(href, form)); !strings.Contains(p.text(), "5 of 12 on hand") {
		t.Errorf("counted: %s", p.text())
	}
	if p := b.post(href, form); p.status != http.StatusPreconditionFailed {
		t.Errorf("a form read before the count = %d, want 412", p.status)
	}
}

// led goes where a form led on to.
func (b *browser) led(t *testing.T, p page) page {
	t.Helper()
	if p.status != http.StatusSeeOther {
		t.Fatalf("form = %d, want 303: %s", p.status, p.text())
	}
	return b.get(p.header.Get("Location"))
}

func TestOnlyStewardsEnterStock(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	product, batch := s.stocked(t)
	b := s.member(t, registry.RoleRecorder)
	for _, path := range []string{"/stock/products", "/stock/batches", "/products/" + product.String() + "/sheet"} {
		if p := b.get("/g/fell-end" + path); p.status != http.StatusForbidden {
			t.Errorf("%s = %d, want 403", path, p.status)
		}
		if p := b.post("/g/fell-end"+path, nil); p.status != http.StatusForbidden {
			t.Errorf("posted to %s = %d, want 403", path, p.status)
		}
	}
	if p := b.post("/g/fell-end/batches/"+batch.String(), nil); p.status != http.StatusForbidden {
		t.Errorf("counting = %d, want 403", p.status)
	}
	for _, path := range []string{"/products/", "/batches/"} {
		if p := b.get("/g/fell-end" + path + newID(t).String()); p.status != http.StatusNotFound {
			t.Errorf("%s of nothing = %d, want 404", path, p.status)
		}
	}
}

// A generic entry is marked on every page that names it, and offers no sheet.
func TestShippedProductsAreMarked(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	if _, err := s.admin.Ship(t.Context(), s.groups["fell-end"].ID, registry.ShippedProducts()); err != nil {
		t.Fatal(err)
	}
	b := s.member(t, registry.RoleOwner)
	stock := b.get("/g/fell-end/stock")
	name := "Generic vinylester cartridge (no sheet)"
	if got := strings.Count(stock.text(), wording.ShippedProduct); got != len(registry.ShippedProducts()) {
		t.Errorf("%d entries are marked, want all %d", got, len(registry.ShippedProducts()))
	}
	p := b.get(stock.link(t, name))
	if !strings.Contains(p.text(), wording.ShippedProduct) || strings.Contains(p.body, "Add a sheet") {
		t.Errorf("page of a generic entry: %s", p.text())
	}
}

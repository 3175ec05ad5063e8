package web

import (
	"net/http"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// recallLabels name the fields of a notice, by their names in the API.
var recallLabels = map[string]string{
	"title": "Title", "issued_on": "Issued on", "batch_ids": "Set with any of these batches",
	"product_ids": "Of any of these products", "setter_ids": "Set by any of these people", "site_ids": "At any of these places",
	"rocks": "In any of these kinds of rock", "set_from": "Set from which day", "set_to": "Set to which day",
	"ended_reason": "Why it is closed",
}

// recallFormPage is the form of a new notice, with what it would hit once that
// was looked at.
type recallFormPage struct {
	*form
	Frame   frame
	Action  string
	Finders []finder
	Share   string // blank: not looked at yet
	Counts  []string
	Hits    []hitPart
}

func (p *Pages) recallForm(c echo.Context) error {
	who, err := mayAdd(c, app.AddNotice)
	if err != nil {
		return err
	}
	today := p.service.AsOf(who)
	f, err := blankForm("issued_on", today.String(), "inspect_by", today.AddDays(30).String())
	if err != nil {
		return err
	}
	if batch := c.QueryParam("batch"); batch != "" {
		f.Values.Set("batch_ids", batch)
	}
	return p.showRecallForm(c, who, f, nil)
}

func (p *Pages) showRecallForm(c echo.Context, who registry.Actor, f *form, made *report.Notice) error {
	page := recallFormPage{form: f, Frame: p.framed(c, "Write a notice")}
	page.Action, page.Frame.Script = page.Frame.Base+"/notices/new", "find.js"
	if err := p.offerCriterion(c, who, &page); err != nil {
		return err
	}
	if made != nil {
		f.Values.Set("seen", seen(f))
		page.Share = wording.NoticeShare(made.About(), made.SharePct())
		for _, hit := range slices.Backward(registry.NoticeHits()) {
			if count := made.ByHit[hit]; count > 0 {
				page.Counts = append(page.Counts, wording.NoticeHit(hit)+": "+wording.Anchors(count))
			}
		}
		page.Hits = hitParts(page.Frame.Base, made)
	}
	return render(c, f.status(), recallFormView(page))
}

// offerCriterion lists what a notice can go by.
func (p *Pages) offerCriterion(c echo.Context, who registry.Actor, page *recallFormPage) error {
	ctx := c.Request().Context()
	products, err := p.products(ctx, who)
	if err != nil {
		return err
	}
	batches, err := p.batches(ctx, who, nil)
	if err != nil {
		return err
	}
	persons, err := p.persons(c, who)
	if err != nil {
		return err
	}
	sites, err := everything(func(at registry.Page) ([]registry.Site, error) {
		return p.service.Sites(ctx, who, at)
	}, func(s registry.Site) uuid.UUID { return s.ID })
	if err != nil {
		return err
	}
	for _, of := range []struct {
		name    string
		options []option
	}{
		{"batch_ids", batchOptions(batches, productNames(products))},
		{"product_ids", allProducts(products)},
		{"setter_ids", personOptions(persons)[1:]},
		{"site_ids", siteOptions(sites)},
	} {
		page.Finders = append(page.Finders, newFinder(page.form, of.name, of.options))
	}
	return nil
}

// batchOptions are batches as choices, with their products.
func batchOptions(batches []registry.Batch, products map[uuid.UUID]string) []option {
	var options []option
	for _, b := range batches {
		text := b.Text
		if b.ProductID != nil {
			text = joinNamed(", ", b.Text, products[*b.ProductID])
		}
		options = append(options, option{Value: b.ID.String(), Text: text})
	}
	return options
}

// allProducts are products as choices, those no longer in the catalogue too:
// what was set with them is in the rock all the same.
func allProducts(products []registry.Product) []option {
	var options []option
	for _, x := range products {
		text := x.Name
		if !x.EndedOn.IsZero() {
			text = wording.NoLongerInCatalogue(text)
		}
		options = append(options, option{Value: x.ID.String(), Text: text})
	}
	return options
}

func siteOptions(sites []registry.Site) []option {
	var options []option
	for _, s := range sites {
		options = append(options, option{Value: s.ID.String(), Text: s.Name})
	}
	return options
}

// finderFields are the fields of a notice that are chosen with a finder.
var finderFields = []string{"batch_ids", "product_ids", "setter_ids", "site_ids"}

// criterionFields are the fields that say what a notice is about.
var criterionFields = []string{"batch_ids", "product_ids", "setter_ids", "site_ids", "rocks", "set_from", "set_to"}

// seen is what a notice would be about, as it was typed: nobody issues what
// nobody has looked at.
func seen(f *form) string {
	var parts []string
	for _, name := range criterionFields {
		parts = append(parts, strings.Join(f.Values[name], ","))
	}
	return strings.Join(parts, ";")
}

// enterRecall shows what a notice would hit and, once that was looked at, issues
// it.
func (p *Pages) enterRecall(c echo.Context) error {
	who, err := mayAdd(c, app.AddNotice)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	if searched(f, finderFields) {
		return p.showRecallForm(c, who, f, nil)
	}
	n := recallIn(f)
	ctx := c.Request().Context()
	issue := f.text("step") == "issue" && f.text("seen") == seen(f)
	var made report.Notice
	if err = f.checks.Err(); err == nil && issue {
		n, _, err = p.service.AddNotice(ctx, who, n)
	} else if err == nil {
		made, err = p.service.PreviewNotice(ctx, who, n)
	}
	switch bad, err := f.reject(ofRecall(err)); {
	case err != nil:
		return err
	case bad:
		return p.showRecallForm(c, who, f, nil)
	case !issue:
		return p.showRecallForm(c, who, f, &made)
	}
	return c.Redirect(http.StatusSeeOther, recallHref(p.base(c), n.ID)+"?done=notice")
}

func recallIn(f *form) registry.Notice {
	n := registry.Notice{
		ID: f.id("id"), Title: f.text("title"), Words: f.text("words"), IssuedOn: f.date("issued_on"), InspectBy: f.date("inspect_by"),
		Criterion: registry.NoticeCriterion{
			ProductIDs: f.ids("product_ids"), BatchIDs: f.ids("batch_ids"), SetterIDs: f.ids("setter_ids"), SiteIDs: f.ids("site_ids"),
			From: f.date("set_from"), To: f.date("set_to"),
		},
	}
	for _, r := range f.Values["rocks"] {
		n.Criterion.Rocks = append(n.Criterion.Rocks, registry.RockClass(r))
	}
	return n
}

// ids reads the choices from a list of things with ids.
func (f *form) ids(name string) []uuid.UUID {
	var list []uuid.UUID
	for _, text := range f.Values[name] {
		id, err := uuid.Parse(text)
		f.checks.Require(err == nil, name, fault.NoSuchReference)
		list = append(list, id)
	}
	return list
}

// ofRecall names the fields of the form in what is wrong with a notice.
func ofRecall(err error) error {
	e, ok := fault.As(err)
	if !ok {
		return err
	}
	named := *e
	named.Violations = slices.Clone(e.Violations)
	for i := range named.Violations {
		v := &named.Violations[i]
		switch v.Field {
		case "anchor_ids":
			v.Field = "batch_ids"
		default:
			v.Field = strings.TrimPrefix(v.Field, "criterion.")
		}
	}
	return &named
}

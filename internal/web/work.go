package web

import (
	"io"

	"github.com/labstack/echo/v4"

	"rockledger/internal/exchange"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// workRowsOnPage is how many anchors of a work list one page shows: each takes
// more room than in other reports.
const workRowsOnPage = 20

// kitOpen is how many lines of kit a work list shows without folding them up.
const kitOpen = 8

// work lists the anchors that ask for work by urgency, with what to bring.
func (p *Pages) work(c echo.Context) error {
	r, form, err := dated(c, p.service.Work)
	if err != nil {
		return err
	}
	page := p.newReport(c, "Work", form, r.Heading)
	page.None = wording.NoneWork
	for _, n := range []struct {
		kind  registry.WorkKind
		count int
	}{{registry.WorkReplace, r.Replace}, {registry.WorkRepair, r.Repair}, {registry.WorkInspect, r.Inspect}} {
		if n.count > 0 {
			page.Summary = append(page.Summary, wording.WorkCount(n.kind, n.count))
		}
	}
	for _, k := range r.Kit {
		page.Kit = append(page.Kit, wording.Kit(k))
	}
	page.jumpToBands(r.Items)
	from, to := page.window(c, len(r.Items), workRowsOnPage)
	for _, band := range registry.Bands() {
		page.part("band-"+string(band), wording.Label(band), "", workRows(page.Frame.Base, band, r.Items[from:to]))
	}
	return render(c, form.status(), reportView(page))
}

// jumpToBands leads to the page where each band begins. The items are in the
// order of bands.
func (page *reportPage) jumpToBands(items []registry.WorkItem) {
	for _, band := range registry.Bands() {
		first, n := -1, 0
		for i, item := range items {
			if item.Line.Assessment.Band != band {
				continue
			}
			if n++; first < 0 {
				first = i
			}
		}
		if n == 0 {
			continue
		}
		// The page that shows the first of the band, counted as window counts.
		from := first / workRowsOnPage * workRowsOnPage
		page.Jumps = append(page.Jumps, jump{
			Href: page.Path + asOfQuery(page.Heading, "", from) + "#band-" + string(band),
			Text: wording.Label(band) + ": " + wording.Anchors(n),
		})
	}
}

// workRows are the items of one band, in their order.
func workRows(base string, band registry.Band, items []registry.WorkItem) []anchorRow {
	var rows []anchorRow
	for _, i := range items {
		if i.Line.Assessment.Band != band {
			continue
		}
		row := rowOf(base, i.Line)
		row.Do, row.Reason = wording.Work(i.Do), ""
		row.Findings = worstInFull(i.For)
		for _, k := range i.Bring {
			if k.Kind != registry.KitTools && k.Kind != registry.KitMending {
				row.Bring = append(row.Bring, wording.Kit(k))
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// worstInFull says the worst finding in a sentence and names the others; the
// anchor's own page says all.
func worstInFull(findings []registry.Finding) []string {
	if len(findings) == 0 {
		return nil
	}
	lines := []string{wording.Finding(findings[0])}
	if len(findings) > 1 {
		lines = append(lines, wording.Also(findings[1:]))
	}
	return lines
}

func (p *Pages) workCSV(c echo.Context) error {
	r, form, err := dated(c, p.service.Work)
	if err != nil {
		return err
	}
	return asCSV(c, "work", form, func(w io.Writer) error { return exchange.WriteWorkCSV(w, r) })
}

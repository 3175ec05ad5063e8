package exchange

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"rockledger/internal/registry"
)

// name reads where a row belongs. A row without a site goes on with the row
// above, as lists do that write a name only once.
func (r *reader) name(i int) {
	rec := r.sheet.data[i]
	row := &r.list.Rows[i]
	row.Line, row.Cells, row.Blank, row.SiteKind = rec.line, r.padded(i), rec.blank(), registry.Crag
	if row.Blank {
		return
	}
	row.Site = r.short(i, FieldSite)
	row.Sector = r.short(i, FieldSector)
	row.Route = r.short(i, FieldRoute)
	row.Label = r.short(i, FieldPosition)
	if row.Site == "" {
		r.fromAbove(i)
	}
	if row.Site != "" {
		r.named = i
	}
}

// padded returns the row's cells as written, at least one per heading.
func (r *reader) padded(i int) []string {
	cells := r.sheet.data[i].cells
	if missing := len(r.sheet.headings) - len(cells); missing > 0 {
		return append(cells[:len(cells):len(cells)], make([]string, missing)...)
	}
	return cells
}

// short returns a name, cut to what the register keeps; "" where the cell says
// "not known".
func (r *reader) short(i int, f Field) string {
	name := known(r.text(i, f))
	if len(name) <= registry.MaxName {
		return name
	}
	r.doubt(i, f, registry.DoubtNameShortened, "limit", strconv.Itoa(registry.MaxName))
	end := registry.MaxName
	for !utf8.RuneStart(name[end]) {
		end--
	}
	return strings.TrimSpace(name[:end])
}

// fromAbove takes the site of the row before, and its sector and route where
// the row has neither; a list of one site has it from the mapping.
func (r *reader) fromAbove(i int) {
	row := &r.list.Rows[i]
	if r.mapping.Site != "" {
		row.Site = tidy(r.mapping.Site)
		return
	}
	if !r.ofAnchor(i) {
		return
	}
	if r.named < 0 {
		return
	}
	above := &r.list.Rows[r.named]
	row.Site = above.Site
	if row.Sector == "" && row.Route == "" {
		row.Sector, row.Route = above.Sector, above.Route
	}
	r.doubt(i, FieldSite, registry.DoubtSiteFromAbove, "taken", row.Site)
}

// ofAnchor says whether the row says anything of an anchor beyond its place.
func (r *reader) ofAnchor(i int) bool {
	if r.text(i, FieldPosition) != "" {
		return true
	}
	for _, f := range anchorFields {
		if r.text(i, f) != "" {
			return true
		}
	}
	return false
}

// labels names the positions that the list leaves without a name, by their
// order on the route. A row that says nothing of an anchor (a total, a heading
// between the rows), or not at which site it is, gets none, and is refused.
func (r *reader) labels() {
	count := map[string]int{}
	for i := range r.list.Rows {
		row := &r.list.Rows[i]
		if row.Blank || row.Site == "" || row.Label != "" || !r.ofAnchor(i) {
			continue
		}
		key := row.Key()
		count[key]++
		row.Label = "unnamed " + strconv.Itoa(count[key])
		r.doubt(i, FieldPosition, registry.DoubtPositionNotNamed, "taken", row.Label)
	}
}

package exchange

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// ownList is a list that was taken over, as far as it takes to write another
// like it.
type ownList struct {
	comma    rune
	headings []string      // those of the list, one for cells beyond them, and those added
	added    []string      // of places, which the list had no columns for
	sheet    sheet         // without data, as it was read
	columns  map[Field]int // of headings
	orders   map[Field]calendar.Order
	far      map[int]bool // lines whose coordinates were not believed
	hands    []*recall    // one
}

func newOwnList(past registry.PastList) (*ownList, error) {
	var done report.Import
	if err := json.Unmarshal(past.Import.Report, &done); err != nil {
		return nil, fmt.Errorf("read the report of list %s: %w", past.Import.ID, err)
	}
	o := &ownList{
		comma:  ',',
		sheet:  sheet{headings: past.Import.Headings, columns: map[Field]int{}, units: map[Field]quantity.Unit{}},
		orders: map[Field]calendar.Order{},
		far:    map[int]bool{},
		hands:  newRecalls(1),
	}
	for _, d := range delimiters {
		if delimiterName(d) == past.Import.Delimiter {
			o.comma = rune(d)
		}
	}
	for _, d := range done.Doubts {
		if d.Code == registry.DoubtCoordinatesFar {
			o.far[d.Line] = true
		}
	}
	o.findColumns(done.Columns, past)
	o.decideOrders(past)
	o.widen(past)
	return o, nil
}

// findColumns finds the column of each field by its heading; of several columns
// with the same heading it is the one whose cells look most like the field.
func (o *ownList) findColumns(columns []report.Column, past registry.PastList) {
	for cells := range past.Cells {
		if len(o.sheet.data) == cellsRead {
			break
		}
		o.sheet.data = append(o.sheet.data, record{cells: cells})
	}
	for _, c := range columns {
		best, most := -1, -1.0
		for at, h := range o.sheet.headings {
			if h != c.Heading || c.Field == "" || takes(o.sheet.columns, at) {
				continue
			}
			share := 0.0
			if test, ok := recognisers[Field(c.Field)]; ok {
				_, share = o.sheet.share(at, test)
			}
			if share > most {
				best, most = at, share
			}
		}
		if best >= 0 {
			o.sheet.take(Field(c.Field), best)
		}
	}
	o.sheet.data = nil
}

// takes says whether a column was taken for a field.
func takes(columns map[Field]int, at int) bool {
	for _, taken := range columns {
		if taken == at {
			return true
		}
	}
	return false
}

// decideOrders decides the order of day and month as it is decided when the
// list is read.
func (o *ownList) decideOrders(past registry.PastList) {
	for _, f := range []Field{FieldSetOn, FieldLastInspected} {
		var texts []string
		at, ok := o.sheet.columns[f]
		if !ok {
			continue
		}
		for cells := range past.Cells {
			if at < len(cells) {
				texts = append(texts, tidy(cells[at]))
			}
		}
		o.orders[f] = calendar.Decide(texts)
	}
}

// spareHeadings are the headings under which a field is looked for, to add a
// column for it under the first that the list has not.
var spareHeadings = map[Field][]string{
	FieldSite:     {string(FieldSite), "site name", "crag name"},
	FieldSector:   {string(FieldSector), "sector name", "sub area"},
	FieldRoute:    {string(FieldRoute), "route name", "climb name"},
	FieldPosition: {string(FieldPosition), "bolt label", "anchor label"},
	FieldID:       {string(FieldID), "anchor id", "register id"},
}

// widen adds headings for cells beyond the last one, which say nothing, and those
// that the list has not and that it takes to say where an anchor stands and which
// it is: a list of one route may be written for all of the group.
func (o *ownList) widen(past registry.PastList) {
	width := len(o.sheet.headings)
	for cells := range past.Cells {
		width = max(width, len(cells))
	}
	o.columns = maps.Clone(o.sheet.columns)
	o.headings = append(slices.Clone(o.sheet.headings), make([]string, width-len(o.sheet.headings))...)
	for _, n := range []struct {
		field  Field
		needed bool
	}{{FieldSite, true}, {FieldSector, past.InSector}, {FieldRoute, past.OnRoute}, {FieldPosition, true}} {
		if name := o.add(n.field, n.needed); name != "" {
			o.added = append(o.added, name)
		}
	}
	o.add(FieldID, true)
}

// add adds a column for a field that is needed and has none yet, and returns its
// heading; "" if it did not.
func (o *ownList) add(f Field, needed bool) string {
	if _, ok := o.columns[f]; ok || !needed {
		return ""
	}
	for _, name := range spareHeadings[f] {
		taken := slices.ContainsFunc(o.headings, func(h string) bool { return registry.Fold(h) == name })
		if !taken {
			o.columns[f] = len(o.headings)
			o.headings = append(o.headings, name)
			return name
		}
	}
	return ""
}

// row returns the cells of an anchor.
func (o *ownList) row(l *registry.Listed, asOf calendar.Date) []string {
	cells := make([]string, len(o.headings))
	keep := func(Field) bool { return false }
	if l.Row != nil {
		copy(cells, l.Row.Cells)
		keep = o.kept(l, asOf)
	}
	_, sized := o.columns[FieldLength]
	for f, at := range o.columns {
		if f == FieldID || !keep(f) {
			cells[at] = written(f, l, asOf, sized)
		}
	}
	if l.Withheld {
		o.withhold(cells)
	}
	return cells
}

// withhold leaves out what is, or may be, a cave's coordinates: no one looked at
// what was never read.
func (o *ownList) withhold(cells []string) {
	for at := range cells {
		if !takes(o.columns, at) {
			cells[at] = ""
		}
	}
	for _, f := range []Field{FieldLat, FieldLon, FieldCoordinates} {
		if at, ok := o.columns[f]; ok {
			cells[at] = ""
		}
	}
}

package exchange

import (
	"slices"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// kept returns which cells of an anchor's row still say what the register
// holds. The row is read by itself: what was taken from other rows (a site
// named only above, coordinates put right) counts as changed, so that it is
// written out.
func (o *ownList) kept(l *registry.Listed, asOf calendar.Date) func(Field) bool {
	s := o.sheet
	s.data = []record{{line: l.Row.Line, cells: l.Row.Cells}}
	r := &reader{
		sheet: s, mapping: &Mapping{}, asOf: l.Anchor.EnteredOn, orders: o.orders, named: -1,
		recall: o.hands[0], hands: o.hands,
	}
	r.list.Rows = make([]registry.ListRow, 1)
	row := &r.list.Rows[0]
	r.name(0)
	r.kinds()
	kind := row.SiteKind
	row.SiteKind = l.SiteKind
	r.values(0)
	if len(r.points) == 1 {
		row.Lat, row.Lon = &r.points[0].lat, &r.points[0].lon
	}
	return func(f Field) bool {
		switch f {
		case FieldSiteKind:
			return kind == l.SiteKind
		case FieldLat, FieldLon, FieldCoordinates:
			return o.keptPlace(row, l)
		case FieldState:
			return keptState(row, l, asOf)
		}
		return keptName(f, row, l) && keptValue(f, row, l)
	}
}

// keptName compares the names; true for other fields.
func keptName(f Field, row *registry.ListRow, l *registry.Listed) bool {
	same := func(a, b string) bool { return registry.Fold(a) == registry.Fold(b) }
	switch f {
	case FieldSite:
		return same(row.Site, l.Site)
	case FieldSector:
		return same(row.Sector, l.Sector)
	case FieldRoute:
		return same(row.Route, l.Route) || slices.ContainsFunc(l.Routes, func(name string) bool { return same(name, row.Route) })
	case FieldPosition:
		return same(row.Label, l.Label)
	case FieldGlue:
		return same(row.Glue, l.Glue)
	case FieldBatch:
		return registry.FoldBatch(row.Batch) == registry.FoldBatch(l.Batch)
	case FieldSetBy:
		return same(row.SetBy, l.SetBy)
	case FieldLandowner:
		return same(row.Landowner, l.Landowner)
	case FieldNotes:
		return tidy(row.Notes) == tidy(l.Anchor.Notes)
	}
	return true
}

// keptValue compares what is more than a name; true for other fields.
func keptValue(f Field, row *registry.ListRow, l *registry.Listed) bool {
	a := &l.Anchor
	switch f {
	case FieldRole:
		return row.Role == l.Role
	case FieldType:
		return row.Form == a.Form && row.HasHanger == l.Hanger
	case FieldMetal:
		return row.Metal.Equal(a.Metal)
	case FieldDiameter:
		return sameLength(row.Shank, a.Shank) && sameLength(row.Length, a.Length)
	case FieldLength:
		return sameLength(row.Length, a.Length)
	case FieldHole:
		return sameLength(row.Hole, hole(l))
	case FieldSetOn:
		return sameDays(row.SetOn, a.SetOn)
	case FieldLastInspected:
		return sameDays(row.CheckedOn, seenOn(l))
	}
	return true
}

func sameLength(a, b *quantity.Length) bool {
	return a == nil && b == nil || a != nil && b != nil && *a == *b
}

// sameDays says whether two dates are of the same days; of two that are not
// known the words must not differ, if the register has any.
func sameDays(cell, held calendar.Span) bool {
	if cell.From != held.From || cell.To != held.To {
		return false
	}
	return held.Known() || held.Words == "" || tidy(held.Words) == cell.Words
}

// keptPlace says whether the coordinates still stand. Those of a cave are only
// kept as written; those that were not believed were never taken.
func (o *ownList) keptPlace(row *registry.ListRow, l *registry.Listed) bool {
	switch {
	case l.SiteKind == registry.Cave, l.Lat == nil && o.far[row.Line]:
		return true
	case row.Lat == nil || l.Lat == nil:
		return row.Lat == nil && l.Lat == nil
	}
	return *row.Lat == *l.Lat && row.Lon != nil && l.Lon != nil && *row.Lon == *l.Lon
}

// keptState says whether a state's words stand: the same words, or others for a
// state that tells by itself all that was seen and decided.
func keptState(row *registry.ListRow, l *registry.Listed, asOf calendar.Date) bool {
	now := writtenState(l, asOf)
	switch {
	case registry.Fold(now) == registry.Fold(row.StateWords):
		return true
	case row.State == "":
		return now == ""
	case l.Anchor.Removed:
		said, _ := readState(now)
		return row.State == registry.StateRemoved && said.state == row.State && !said.guessed
	case row.State == registry.StateOther, row.State == registry.StateUnsafe:
		return false
	}
	return !l.Standing.Barred() && row.State.Told(l.Seen)
}

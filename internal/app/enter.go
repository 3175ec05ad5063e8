package app

import (
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// maxHole is the widest hole that an installation can hold.
const maxHole = 100 * quantity.Millimetre

// unfit says why a row cannot be entered whatever the register holds, nil if
// it can.
func (in *intake) unfit(row *registry.ListRow) *registry.Doubt {
	var d registry.Doubt
	if registry.Fold(row.Site) == "" {
		d = in.doubt(row, "site", row.Site, registry.RefusedSiteNotNamed)
		return &d
	}
	v, bad := in.firstViolation(row)
	if !bad {
		return nil
	}
	d = in.doubt(row, "position", row.Label, registry.RefusedInvalid,
		registry.Value{Name: "field", Text: v.Field}, registry.Value{Name: "code", Text: string(v.Code)})
	return &d
}

// firstViolation checks what a row would become.
func (in *intake) firstViolation(row *registry.ListRow) (fault.Violation, bool) {
	site, position, anchor := newSite(row), in.newPosition(row), in.newAnchor(row)
	var c fault.Checks
	c.Nest("site", site.Validate())
	c.Nest("position", position.Validate())
	c.Nest("anchor", anchor.Validate())
	c.Nest("anchor.set_on", row.SetOn.Validate())
	c.Require(row.Hole == nil || *row.Hole > 0 && *row.Hole <= maxHole, "hole_diameter_mm", fault.OutOfRange)
	for _, n := range []struct{ field, name string }{
		{"sector", row.Sector},
		{"route", row.Route},
		{"glue", row.Glue},
		{"batch", row.Batch},
		{"set_by", row.SetBy},
		{"landowner", row.Landowner},
	} {
		c.Require(len(tidy(n.name)) <= registry.MaxName, n.field, fault.TooLong)
	}
	e, ok := fault.As(c.Err())
	if !ok || len(e.Violations) == 0 {
		return fault.Violation{}, false
	}
	return e.Violations[0], true
}

// enter makes a row's anchor with its place and records and, where the row says
// it was replaced, the anchor that came after it.
func (in *intake) enter(row *registry.ListRow, key, print string) {
	e := in.placeOf(row)
	old := in.newAnchor(row)
	old.SiteID, old.PositionID = e.site.ID, e.facts.Position.ID
	in.written.ImportRows = append(in.written.ImportRows, registry.ImportRow{
		ImportID: in.id, Line: row.Line, Key: key, Print: print, Cells: row.Cells, Taken: row, AnchorID: old.ID,
	})
	next := e
	e.facts.Anchor = old
	in.addFitting(&e.facts, row)
	in.addInstallation(&e.facts, row)
	in.addInspection(&e.facts, row)
	in.addRemoval(&e.facts, row)
	in.add(e)
	in.propose(row, &e.facts, nil)
	if row.State == registry.StateReplaced {
		next.facts.Anchor = in.successor(row, &old)
		in.addNextInspection(&next.facts, row)
		in.add(next)
		in.report.Successors++
	}
}

// add keeps an anchor with what was recorded of it.
func (in *intake) add(e entry) {
	f, w := &e.facts, &in.written
	w.Anchors = append(w.Anchors, f.Anchor)
	w.Fittings = append(w.Fittings, f.Fittings...)
	w.Installations = append(w.Installations, f.Installations...)
	w.Inspections = append(w.Inspections, f.Inspections...)
	w.Removals = append(w.Removals, f.Removals...)
	in.entries = append(in.entries, e)
}

// placeOf makes a row's position at its site and on its route.
func (in *intake) placeOf(row *registry.ListRow) entry {
	e := entry{site: in.book.site(row)}
	p := in.newPosition(row)
	p.SiteID, p.SectorID = e.site.ID, in.book.sector(row, e.site.ID)
	p.ParcelID = in.book.parcel(row.Landowner)
	p.ParcelByHand = p.ParcelID != nil
	if e.site.Kind == registry.Cave {
		p.Lat, p.Lon = nil, nil
	}
	if e.route = in.book.route(row, p.SiteID, p.SectorID); e.route != nil {
		in.written.Stops = append(in.written.Stops, in.book.stop(e.route.ID, p.ID))
	}
	in.written.Positions = append(in.written.Positions, p)
	e.facts.Position = p
	return e
}

func (in *intake) newPosition(row *registry.ListRow) registry.Position {
	return registry.Position{ID: newID(), Label: tidy(row.Label), Role: row.Role, Lat: row.Lat, Lon: row.Lon}
}

func (in *intake) newAnchor(row *registry.ListRow) registry.Anchor {
	a := registry.Anchor{
		ID: newID(), Form: row.Form, FormWords: row.FormWords, Metal: row.Metal, MetalWords: row.MetalWords,
		Shank: row.Shank, Length: row.Length, SetOn: row.SetOn,
		Origin: registry.Imported, EnteredOn: in.asOf, Notes: row.Notes,
	}
	if on, removed := removedOn(row); removed {
		a.Removed, a.RemovedOn = true, on
	}
	return a
}

// removedOn says when a row's anchor came out, if it did. The day of a removal
// is not on the list, nor is a replacement before the anchor was set a day to
// go by: then only the words are kept.
func removedOn(row *registry.ListRow) (calendar.Span, bool) {
	switch {
	case row.State == registry.StateRemoved:
		return calendar.Span{Words: row.StateWords}, true
	case row.State != registry.StateReplaced:
		return calendar.Span{}, false
	case setAfterReplacement(row):
		return calendar.Span{Words: row.StateWords}, true
	}
	return row.ReplacedOn, true
}

func setAfterReplacement(row *registry.ListRow) bool {
	return row.SetOn.Known() && row.ReplacedOn.Known() && row.SetOn.From > row.ReplacedOn.To
}

// successor returns the anchor that took the place of one replaced. All that is
// known of it is the year, and that not where the row contradicts itself, which
// is doubted unless the reading of the list did so already.
func (in *intake) successor(row *registry.ListRow, old *registry.Anchor) registry.Anchor {
	a := registry.Anchor{
		ID: newID(), SiteID: old.SiteID, PositionID: old.PositionID,
		SetOn: row.ReplacedOn, Origin: registry.Imported, EnteredOn: in.asOf,
	}
	if !setAfterReplacement(row) {
		return a
	}
	a.SetOn = calendar.Span{Words: row.StateWords}
	if !in.doubted(row.Line, registry.DoubtSetAfterReplace) {
		in.report.Doubts = append(in.report.Doubts, in.doubt(row, "state", row.StateWords, registry.DoubtSetAfterReplace))
	}
	return a
}

func (in *intake) record(anchor uuid.UUID, on calendar.Span, words string) registry.Record {
	return registry.Record{
		ID: newID(), AnchorID: anchor, DoneOn: on, Words: words, Origin: registry.Imported, RecordedAt: in.at,
	}
}

func (in *intake) addFitting(f *registry.Facts, row *registry.ListRow) {
	if row.HasHanger {
		f.Fittings = []registry.Fitting{{
			ID: newID(), AnchorID: f.Anchor.ID, Kind: registry.Hanger, Presence: registry.Present,
		}}
	}
}

// addInstallation keeps what a row says of the setting, if anything.
func (in *intake) addInstallation(f *registry.Facts, row *registry.ListRow) {
	glue := in.book.glue(row.Glue)
	batch, by := in.book.batch(row.Batch, glue), in.book.person(row.SetBy)
	if row.Hole == nil && glue == nil && batch == nil && by == nil && !row.SetOn.Known() {
		return
	}
	i := registry.Installation{
		Record:       in.record(f.Anchor.ID, row.SetOn, ""),
		HoleDiameter: row.Hole, AdhesiveID: glue, BatchID: idOf(batch),
	}
	if batch != nil {
		f.Batches = []registry.Batch{*batch}
	}
	i.PersonID = by
	f.Installations = []registry.Installation{i}
}

// addInspection makes one glance of a row's date and state. That an anchor was
// removed or replaced is no sight of it: then only a date makes a glance.
func (in *intake) addInspection(f *registry.Facts, row *registry.ListRow) {
	if !saw(row) {
		return
	}
	f.Inspections = in.glance(f, row.CheckedOn, row.State, row.StateWords)
}

// addNextInspection makes one glance of what a row's words say of the anchor
// that took the place of one replaced. It was then that the row was checked
// only if that was surely after the replacement.
func (in *intake) addNextInspection(f *registry.Facts, row *registry.ListRow) {
	if row.NextState == "" {
		return
	}
	var on calendar.Span
	if set := f.Anchor.SetOn; set.Known() && row.CheckedOn.Known() && row.CheckedOn.From >= set.To {
		on = row.CheckedOn
	}
	f.Inspections = in.glance(f, on, row.NextState, row.StateWords)
}

// glance is what a list saw of an anchor.
func (in *intake) glance(f *registry.Facts, on calendar.Span, state registry.ListState, words string) []registry.Inspection {
	i := registry.Inspection{Record: in.record(f.Anchor.ID, on, words), Level: registry.Glance}
	i.Observations = state.Observed()
	if state == registry.StateNotFound {
		found := false
		i.Found = &found
	}
	return []registry.Inspection{i}
}

func (in *intake) addRemoval(f *registry.Facts, row *registry.ListRow) {
	if on, removed := removedOn(row); removed {
		f.Removals = []registry.Removal{{Record: in.record(f.Anchor.ID, on, row.StateWords)}}
	}
}

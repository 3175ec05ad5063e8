package app

import (
	"slices"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// newBack is an intake of what the lists before had.
func newBack(u *registry.Undoing, asOf calendar.Date, at time.Time) *intake {
	known := registry.Known{Landowners: u.Landowners, Parcels: u.Parcels}
	return &intake{names: namesOf(&known), book: newBook(known), asOf: asOf, at: at}
}

// putBack takes back what the import corrected of an anchor of another list.
// beside are other anchors at such positions.
func (d *undoing) putBack(f registry.Facts, beside []registry.Anchor) {
	was, is := d.Before[f.Anchor.ID], d.Corrected[f.Anchor.ID]
	switch later := d.Later[f.Anchor.ID]; {
	case later != nil:
		d.blocks.list(later)
		return
	case was == nil || is == nil:
		d.blocks.add(f.Anchor, "corrected", "")
		return
	}
	d.blocks.rests(&f)
	c := d.back.newCorrection(was, &registry.PastRow{Taken: is}, f)
	d.putCellsBack(c, was, is)
	returns := d.retractFrom(c)
	if other := slices.IndexFunc(beside, func(a registry.Anchor) bool {
		return a.PositionID == f.Anchor.PositionID && a.ID != f.Anchor.ID && !a.Removed
	}); returns && other >= 0 {
		d.blocks.add(beside[other], "anchor", "")
	}
	d.keepBack(c)
}

// putCellsBack puts back each trait that the import took over. What was changed
// since stands in the way, unless it says already what the list before had.
func (d *undoing) putCellsBack(c *correction, was, is *registry.ListRow) {
	for _, t := range traits {
		before, after := t.read(c, was), t.read(c, is)
		if t.setting && !slices.Contains(t.cells, "set_on") || t.same(before, after) {
			continue // of the setting, the record that the import made is retracted
		}
		switch now := t.now(c); {
		case t.same(now, before):
		case t.same(now, after):
			t.take(c)
		default:
			d.blocks.put(block{anchor: c.facts.Anchor, what: "cell", detail: before, more: map[string]string{
				"field": t.cells[0], "register": now,
			}})
		}
	}
}

// retractFrom retracts what the import recorded of the anchor, retractions too,
// and says whether that lets the anchor stand in the rock again.
func (d *undoing) retractFrom(c *correction) (returns bool) {
	now := c.facts.Current()
	now.Retractions = standing(c.facts.Retractions)
	for _, id := range recordIDs(&now) {
		if !d.made[id] {
			continue
		}
		r := newRetraction(c.facts.Anchor.ID, id, reasonUndone, d.asOf, d.at)
		c.facts.Retractions = append(slices.Clone(c.facts.Retractions), r)
		d.change.Retractions = append(d.change.Retractions, r)
	}
	removed := slices.ContainsFunc(now.Removals, func(r registry.Removal) bool { return d.made[r.ID] })
	if !removed || len(c.facts.Current().Removals) > 0 {
		return false
	}
	c.facts.Anchor.Removed, c.facts.Anchor.RemovedOn, c.anchor = false, calendar.Span{}, true
	return true
}

// keepBack keeps what was put back of an anchor.
func (d *undoing) keepBack(c *correction) {
	if c.anchor {
		d.change.Anchors = append(d.change.Anchors, c.facts.Anchor)
	}
	if c.position {
		d.change.Positions = append(d.change.Positions, c.facts.Position)
	}
	d.change.Fittings = append(d.change.Fittings, c.written.Fittings...)
	d.change.Assessments = append(d.change.Assessments, assess.Anchor(c.facts.Current(), d.rules, d.asOf))
}

// takeLand keeps the landowners and parcels that had ended by now and that
// something was put back to: they are made anew.
func (d *undoing) takeLand() {
	b := d.back.book
	d.change.Landowners, d.change.Parcels = append(d.change.Landowners, b.owners.fresh()...), append(d.change.Parcels, b.parcels.fresh()...)
	b.owners.made, b.parcels.made = nil, nil
}

// rests finds records of others that replace or take back what the import
// recorded: they would be left without it.
func (b *blocks) rests(f *registry.Facts) {
	now, a := f.Current(), f.Anchor
	on := func(id *uuid.UUID) bool { return id != nil && b.made[*id] }
	since := func(what string, r registry.Record) {
		if !b.made[r.ID] && on(r.Replaces) {
			b.add(a, what, r.DoneOn.String())
		}
	}
	for _, r := range now.Installations {
		since(installations.what, r.Record)
	}
	for _, r := range now.Inspections {
		since(inspections.what, r.Record)
	}
	for _, r := range now.Removals {
		since(removals.what, r.Record)
	}
}

package app

import (
	"maps"
	"slices"
	"strconv"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// blocks gathers what stands in the way of undoing an import.
type blocks struct {
	made  map[uuid.UUID]bool
	later map[uuid.UUID]*registry.LaterList // that corrected what was made, by anchor
	named map[uuid.UUID]bool                // lists named already
	// byLists are those of the piece that is looked at: see registry.UndoPiece.
	byLists map[uuid.UUID]int
	count   int
	found   []block // the first of them
}

// block is one thing in the way.
type block struct {
	anchor       registry.Anchor
	what, detail string
	more         map[string]string // nil: none
}

// add names one thing in the way: a record, "anchor" (another at the position),
// "changed", "corrected", "cell", "list", "fitting", "notice" or "assembly".
func (b *blocks) add(a registry.Anchor, what, detail string) {
	b.put(block{anchor: a, what: what, detail: detail})
}

func (b *blocks) put(found block) {
	if b.count++; b.count <= maxInTheWay {
		b.found = append(b.found, found)
	}
}

// list names a list that came later, once.
func (b *blocks) list(l *registry.LaterList) {
	if b.named[l.ImportID] {
		return
	}
	b.named[l.ImportID] = true
	b.put(block{what: "list", detail: l.FileName, more: map[string]string{
		"import_id": l.ImportID.String(), "on": calendar.On(l.At, time.UTC).String(),
	}})
}

// err returns fault.Conflict with what keeps an import from being undone, nil if
// nothing does. places names its positions, rows the anchors of other lists.
func (b *blocks) err(places map[uuid.UUID]string, rows map[uuid.UUID]*registry.ListRow) *fault.Error {
	if b.count == 0 {
		return nil
	}
	e := fault.New(fault.Conflict, "%d things stand in the way", b.count).WithCode(fault.InUse).
		With("in_the_way", strconv.Itoa(b.count))
	for _, f := range b.found {
		v := fault.Violation{Field: "anchors", Code: fault.InUse, Values: map[string]string{"what": f.what}}
		maps.Copy(v.Values, f.more)
		place := places[f.anchor.PositionID]
		if row := rows[f.anchor.ID]; row != nil {
			place = placeOfRow(row)
		}
		for name, text := range map[string]string{"place": place, "detail": f.detail} {
			if text != "" {
				v.Values[name] = text
			}
		}
		if f.anchor.ID != uuid.Nil {
			v.Values["anchor_id"] = f.anchor.ID.String()
		}
		e.Violations = append(e.Violations, v)
	}
	return e
}

// look finds what was recorded of an anchor since it was entered and counts. What
// a later list did to it goes when that is undone, which comes first.
func (b *blocks) look(f *registry.Facts) {
	a, later := f.Anchor, b.later[f.Anchor.ID]
	if later != nil {
		b.list(later)
	}
	b.lookRecords(f)
	if later != nil {
		return
	}
	for _, t := range f.Fittings {
		if byLists := b.byLists[t.ID]; t.Version > max(1, byLists) || byLists == 0 && !b.made[t.ID] {
			b.add(a, "fitting", string(t.Kind))
		}
	}
	if a.Version > max(1, b.byLists[a.ID]) {
		b.add(a, "changed", "")
	}
}

// lookRecords finds the records and notices among that.
func (b *blocks) lookRecords(f *registry.Facts) {
	now, a := f.Current(), f.Anchor
	later := b.later[a.ID]
	since := func(what string, list ...registry.Record) {
		for _, r := range list {
			if !b.made[r.ID] && (later == nil || r.Origin != registry.Imported) {
				b.add(a, what, r.DoneOn.String())
			}
		}
	}
	for _, r := range now.Installations {
		since(installations.what, r.Record)
	}
	for _, r := range now.Cures {
		since(cures.what, r.Record)
	}
	for _, r := range now.FirstUses {
		since(firstUses.what, r.Record)
	}
	for _, r := range now.Inspections {
		since(inspections.what, r.Record)
	}
	for _, r := range now.Maintenance {
		since(maintenances.what, r.Record)
	}
	for _, r := range now.Markings {
		since(markings.what, r.Record)
	}
	for _, r := range now.Removals {
		since(removals.what, r.Record)
	}
	for _, r := range now.Settlements {
		since(settlements.what, r.Record)
	}
	for _, n := range f.Notices {
		if !n.Criterion.Given() || slices.Contains(n.AnchorIDs, a.ID) {
			b.add(a, "notice", n.Title)
		}
	}
}

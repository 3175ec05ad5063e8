package app

import (
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// alters says whether the row would put an anchor back into the rock, or alter
// how it came out. That an anchor gone by the register is removed alters
// nothing.
func (c *correction) alters() bool {
	agreed := c.facts.Anchor.Removed && c.row.State == registry.StateRemoved
	return c.differs("state") && gone(c.prev.State) && !sameState(c.row, c.prev) && !agreed
}

// compareState takes over what a row says of the anchor's state and of when it
// was looked at.
func (c *correction) compareState() {
	if !c.differs(stateCells...) || sameState(c.row, c.prev) && sameDays(c.row.CheckedOn, c.prev.CheckedOn) {
		return
	}
	was, is, removed := gone(c.prev.State), gone(c.row.State), c.facts.Anchor.Removed
	switch {
	case !was && is && !removed:
		c.takeRemoval()
	case !was && !is && removed:
		c.clash(stateCells, string(registry.StateRemoved))
		return
	}
	if !is || c.row.CheckedOn.Known() && !sameDays(c.row.CheckedOn, c.prev.CheckedOn) {
		c.compareSeen()
	}
}

func gone(s registry.ListState) bool {
	return s == registry.StateRemoved || s == registry.StateReplaced
}

// sameState says whether two rows say the same of the state. The words count
// only where nothing else was read from them.
func sameState(a, b *registry.ListRow) bool {
	if a.State != b.State || a.NextState != b.NextState || !sameDays(a.ReplacedOn, b.ReplacedOn) {
		return false
	}
	vague := []registry.ListState{registry.StateOther, registry.StateUnsafe}
	return !slices.Contains(vague, a.State) && !slices.Contains(vague, a.NextState) ||
		registry.Fold(a.StateWords) == registry.Fold(b.StateWords)
}

func sameDays(a, b calendar.Span) bool { return a.From == b.From && a.To == b.To }

// saw says whether a row makes an inspection: see intake.addInspection.
func saw(r *registry.ListRow) bool { return r.CheckedOn.Known() || r.State != "" && !gone(r.State) }

// compareSeen takes over what was seen. The same sight told otherwise replaces
// the record before it; a later one is a record of its own; one that the list
// no longer has is taken back. A clash it is where the record before no longer
// counts: somebody has corrected it or taken it back.
func (c *correction) compareSeen() {
	if c.seenAgrees() {
		return
	}
	before := c.seenBefore()
	if saw(c.prev) && before == nil {
		c.clash(stateCells, c.seenNow())
		return
	}
	c.change(stateCells)
	if !saw(c.row) {
		c.retract(before.ID)
		return
	}
	i := c.in.glance(&c.facts, c.row.CheckedOn, c.row.State, c.row.StateWords)[0]
	if before != nil && !c.later() {
		i.Replaces = &before.ID
	}
	c.written.Inspections = append(c.written.Inspections, i)
	c.facts.Inspections = append(slices.Clone(c.facts.Inspections), i)
}

// later says whether the row tells of a sight after that of the list before.
func (c *correction) later() bool {
	is, was := c.row.CheckedOn, c.prev.CheckedOn
	if !is.Known() {
		return false
	}
	if was.Known() {
		return is.From > was.To
	}
	return c.prev.State != "" && !sameState(c.row, c.prev)
}

// seenBefore returns the inspection that the list before made, nil if it no
// longer counts.
func (c *correction) seenBefore() *registry.Inspection {
	now := c.facts.Current().Inspections
	for i := range now {
		if now[i].Origin == registry.Imported && now[i].OfNote == nil && tells(&now[i], c.prev, slices.Equal[[]registry.Observation]) {
			return &now[i]
		}
	}
	return nil
}

// seenAgrees says whether the register says of the state what the row says.
func (c *correction) seenAgrees() bool {
	if gone(c.row.State) != c.facts.Anchor.Removed {
		return false
	}
	now := c.facts.Current().Inspections
	if !saw(c.row) {
		return !slices.ContainsFunc(now, func(i registry.Inspection) bool {
			return i.Origin == registry.Imported && i.OfNote == nil
		})
	}
	return slices.ContainsFunc(now, func(i registry.Inspection) bool { return tells(&i, c.row, holds) })
}

// tells says whether an inspection saw on the same days what a row says.
func tells(i *registry.Inspection, r *registry.ListRow, observations func(of, wanted []registry.Observation) bool) bool {
	return sameDays(i.DoneOn, r.CheckedOn) && i.NotFound() == (r.State == registry.StateNotFound) &&
		observations(i.Observations, observed[r.State])
}

func holds(list, wanted []registry.Observation) bool {
	return !slices.ContainsFunc(wanted, func(o registry.Observation) bool { return !slices.Contains(list, o) })
}

// seenNow is what was seen last that still counts, "" for nothing.
func (c *correction) seenNow() string {
	now := c.facts.Current().Inspections
	if len(now) == 0 {
		return ""
	}
	last := now[0]
	for _, i := range now[1:] {
		if i.DoneOn.To >= last.DoneOn.To {
			last = i
		}
	}
	parts := []string{string(last.Level), last.DoneOn.String()}
	for _, o := range last.Observations {
		parts = append(parts, string(o))
	}
	return strings.Join(parts, ", ")
}

// takeRemoval lets the anchor be removed or replaced, as the row says.
func (c *correction) takeRemoval() {
	on, _ := removedOn(c.row)
	c.facts.Anchor.Removed, c.facts.Anchor.RemovedOn, c.anchor = true, on, true
	r := registry.Removal{Record: c.in.record(c.facts.Anchor.ID, on, c.row.StateWords)}
	c.written.Removals = append(c.written.Removals, r)
	c.facts.Removals = append(slices.Clone(c.facts.Removals), r)
	c.replaced = c.row.State == registry.StateReplaced
	c.change(stateCells)
}

// addSuccessor makes the anchor that came instead of one replaced.
func (c *correction) addSuccessor() {
	next := registry.Facts{
		Anchor: c.in.successor(c.row, &c.facts.Anchor), Position: c.facts.Position, Site: c.facts.Site,
		Traffic: c.facts.Traffic, InAssembly: c.facts.InAssembly, Environments: c.facts.Environments, Events: c.facts.Events,
	}
	c.in.addNextInspection(&next, c.row)
	c.in.written.Anchors = append(c.in.written.Anchors, next.Anchor)
	c.in.written.Inspections = append(c.in.written.Inspections, next.Inspections...)
	c.in.corrected = append(c.in.corrected, next)
	c.in.report.Successors++
}

// newRetraction takes a record back in the course of an import or its undoing.
func newRetraction(anchor, record uuid.UUID, reason string, asOf calendar.Date, at time.Time) registry.Retraction {
	return registry.Retraction{
		Record: registry.Record{
			ID: newID(), AnchorID: anchor, DoneOn: calendar.Exactly(asOf), Origin: registry.Imported, RecordedAt: at,
		},
		RetractsID: record, Reason: reason,
	}
}

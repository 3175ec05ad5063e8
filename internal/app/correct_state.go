package app

import (
	"slices"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// alters says whether the row would put an anchor back into the rock, or alter
// how it came out, and the register does not say so too.
func (c *correction) alters() bool {
	return c.differs("state") && c.prev.State.Gone() && !sameState(c.row, c.prev) && !c.goneAgrees()
}

// compareState takes over what a row says of the anchor's state and of when it
// was looked at.
func (c *correction) compareState() {
	if !c.differs(stateCells...) || sameState(c.row, c.prev) && sameDays(c.row.CheckedOn, c.prev.CheckedOn) {
		return
	}
	if c.stateAgrees() {
		c.holdState()
		return
	}
	is, removed := c.row.State.Gone(), c.facts.Anchor.Removed
	switch {
	case !c.prev.State.Gone() && is && !removed && !c.in.again:
		c.takeRemoval()
	case !c.goneAgrees():
		c.clashState()
		return
	}
	if !is || c.row.CheckedOn.Known() && !sameDays(c.row.CheckedOn, c.prev.CheckedOn) {
		c.compareSeen()
	}
}

func (c *correction) holdState() {
	for _, t := range seenTraits {
		c.hold(t)
	}
}

func (c *correction) clashState() {
	c.holdState()
	field, now := c.stateApart()
	c.clashes = append(c.clashes, report.CellClash{CellChange: c.cellChange(field), Register: now})
}

// stateApart returns the cell of the state that is at odds with the register,
// and what that says.
func (c *correction) stateApart() (field, now string) {
	seen := c.facts.LastSeen()
	if c.has("last_inspected") && (!c.has("state") || c.wordsAgree(seen)) {
		return "last_inspected", spanText(dayOf(seen))
	}
	return "state", c.stateNow(seen)
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
func saw(r *registry.ListRow) bool { return r.CheckedOn.Known() || r.State != "" && !r.State.Gone() }

// compareSeen takes over what was seen. The same sight told otherwise replaces
// the record before it; a later one is a record of its own; one that the list
// no longer has is taken back. A clash it is where the record before no longer
// counts: somebody has corrected it or taken it back.
func (c *correction) compareSeen() {
	if c.seenAgrees() {
		return
	}
	before := c.seenBefore()
	if saw(c.prev) && before == nil || c.in.again {
		c.clashState()
		return
	}
	c.change(stateCells)
	if !saw(c.row) {
		c.retract(before.ID)
		return
	}
	i := c.in.glance(&c.facts, c.row.CheckedOn, c.seenState(), c.row.StateWords)[0]
	if before != nil && !c.later() {
		i.Replaces = &before.ID
	}
	c.written.Inspections = append(c.written.Inspections, i)
	c.facts.Inspections = append(slices.Clone(c.facts.Inspections), i)
}

// seenState is the state that the row tells of. A list without a column for it
// says nothing of a later sight.
func (c *correction) seenState() registry.ListState {
	if !c.has("state") && c.later() {
		return ""
	}
	return c.row.State
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
		if now[i].Origin == registry.Imported && now[i].OfNote == nil &&
			sameDays(now[i].DoneOn, c.prev.CheckedOn) && observes(&now[i], c.prev.State, slices.Equal[[]registry.Observation]) {
			return &now[i]
		}
	}
	return nil
}

// stateAgrees says whether the register says of the state what the row says.
func (c *correction) stateAgrees() bool {
	unsaid := c.row.State.Gone() && !c.row.CheckedOn.Known()
	return c.goneAgrees() && (unsaid || c.seenAgrees())
}

// goneAgrees says whether the register and the row have the anchor in the rock,
// or out of it since the same day, where the row has a day.
func (c *correction) goneAgrees() bool {
	switch a := &c.facts.Anchor; {
	case !c.has("state"):
		return true
	case a.Removed != c.row.State.Gone():
		return false
	case c.row.State != registry.StateReplaced || !c.row.ReplacedOn.Known():
		return true
	default:
		return sameDays(a.RemovedOn, c.row.ReplacedOn)
	}
}

// seenAgrees says whether the register holds the sight that the row tells of: as
// an exported list has it, or as a list made it.
func (c *correction) seenAgrees() bool {
	if seen := c.facts.LastSeen(); c.dayAgrees(seen) && (!c.has("state") || c.wordsAgree(seen)) {
		return true
	}
	now := c.facts.Current().Inspections
	if !saw(c.row) {
		return !slices.ContainsFunc(now, func(i registry.Inspection) bool {
			return i.Origin == registry.Imported && i.OfNote == nil
		})
	}
	return slices.ContainsFunc(now, func(i registry.Inspection) bool {
		return c.dayAgrees(&i) && (!c.has("state") || observes(&i, c.row.State, holds))
	})
}

// dayAgrees says whether a sight, nil for none, was on the row's days.
func (c *correction) dayAgrees(i *registry.Inspection) bool {
	return !c.has("last_inspected") || sameDays(dayOf(i), c.row.CheckedOn)
}

// wordsAgree says whether the row's words are those that an exported list has for
// the sight, nil for none, and for the anchor's standing. Words of a list that
// are of an earlier anchor too are not exported.
func (c *correction) wordsAgree(i *registry.Inspection) bool {
	said := registry.Fold(c.row.StateWords)
	return c.row.State.Gone() || said == registry.Fold(c.stateNow(i)) ||
		said == registry.Fold(registry.StateText(c.standing(), registry.SightText(i)))
}

// stateNow is what an exported list has for the state.
func (c *correction) stateNow(i *registry.Inspection) string {
	seen := registry.SightText(i)
	switch {
	case c.facts.Anchor.Removed:
		return string(registry.StateRemoved)
	case i != nil && i.Origin == registry.Imported && i.Words != "":
		seen = i.Words
	}
	return registry.StateText(c.standing(), seen)
}

func (c *correction) standing() registry.Standing {
	return assess.Anchor(c.facts.Current(), c.in.rules, c.in.asOf).Standing
}

func dayOf(i *registry.Inspection) calendar.Span {
	if i == nil {
		return calendar.Span{}
	}
	return i.DoneOn
}

// observes says whether an inspection saw what a list's state tells of.
func observes(i *registry.Inspection, s registry.ListState, observations func(of, wanted []registry.Observation) bool) bool {
	return i.NotFound() == (s == registry.StateNotFound) && observations(i.Observations, s.Observed())
}

func holds(list, wanted []registry.Observation) bool {
	return !slices.ContainsFunc(wanted, func(o registry.Observation) bool { return !slices.Contains(list, o) })
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

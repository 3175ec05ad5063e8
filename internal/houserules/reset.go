package houserules

import (
	"slices"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Clock is something that an inspection may reset.
type Clock string

// The clocks.
const (
	ClockInterval        Clock = "interval"
	ClockFirstInspection Clock = "first-inspection"
	ClockVerdict         Clock = "verdict"
	ClockSeen            Clock = "seen"  // was it there at all
	ClockEvent           Clock = "event" // and a notice's
	ClockFitting         Clock = "fitting"
	ClockDuty            Clock = "duty"
)

// Clocks lists the clocks.
func Clocks() []Clock {
	return []Clock{
		ClockInterval, ClockFirstInspection, ClockVerdict, ClockSeen, ClockEvent, ClockFitting, ClockDuty,
	}
}

// What a level does to a clock.
const (
	resetNo      = "no"
	resetYes     = "yes"
	resetAtLevel = "at-its-level-or-above" // of the inspection that set it
)

// resets says whether an inspection at level by resets a clock that one at
// level set had started.
func (r *Rules) resets(c Clock, by, set registry.Level) bool {
	switch r.Resets[string(c)][string(by)].Value {
	case resetYes:
		return true
	case resetAtLevel:
		return by.Rank() >= set.Rank()
	}
	return false
}

// Counts says whether an inspection resets a clock: it was recorded here, on a
// known day, the anchor was found and ticked, and its level is enough. For
// ClockSeen an imported state counts too, as the glance it is.
func (r *Rules) Counts(c Clock, i *registry.Inspection) bool {
	if i.NotFound() || !i.DoneOn.Known() || !i.Ticked && i.Origin == registry.Recorded {
		return false
	}
	if i.Origin != registry.Recorded && c != ClockSeen {
		return false
	}
	return r.resets(c, i.Level, i.Level)
}

// later says whether j surely happened after i: on a later day whatever the
// uncertainty, or on the same day and recorded later. An inspection whose day
// is not known happened before the anchor was entered here at the latest, and
// so did every imported one.
func later(f *registry.Facts, i, j *registry.Inspection) bool {
	end := lastDay(f, i)
	return j.DoneOn.From > end || j.DoneOn.From == end && j.RecordedAt.After(i.RecordedAt)
}

// VerdictStands says whether the verdict of an inspection is still in force. It
// ends with a later inspection that resets the verdict's clock, is close enough
// by the table of what settles its finding, and gives a verdict itself; "take out
// of use" only with another one. To say nothing is not to say that all is well,
// and no maintenance lifts what a person decided.
func (r *Rules) VerdictStands(f *registry.Facts, i *registry.Inspection) bool {
	rule := verdictRule(i.Verdict)
	for k := range f.Inspections {
		j := &f.Inspections[k]
		if !r.Counts(ClockVerdict, j) || !r.resets(ClockVerdict, j.Level, i.Level) || !later(f, i, j) {
			continue
		}
		if j.Verdict != "" && r.closeEnough(rule, j.Level) && (i.Verdict != registry.TakeOutOfUse || j.Verdict != registry.TakeOutOfUse) {
			return false
		}
	}
	return true
}

// ObservationStands says whether what an inspection saw is still held against
// the anchor by a rule. It ends with a later inspection that was recorded and
// counts for the interval, at no lower a level and one that the table of what
// settles the rule's findings lets do, gives a verdict that leaves the anchor in
// use, and does not list it again. Without such a verdict it is not said
// whether it was seen, and that is not "not seen". It ends, too, with
// maintenance that the table names, on the day it was seen or later.
func (r *Rules) ObservationStands(f *registry.Facts, i *registry.Inspection, o registry.Observation, rule string) bool {
	if r.maintained(f, i, rule) {
		return false
	}
	for k := range f.Inspections {
		j := &f.Inspections[k]
		if r.Counts(ClockInterval, j) && j.Level.Rank() >= i.Level.Rank() && r.closeEnough(rule, j.Level) && later(f, i, j) &&
			leavesInUse(j.Verdict) && !slices.Contains(j.Observations, o) {
			return false
		}
	}
	return true
}

// leavesInUse says whether a verdict was given, and not to take it out of use.
func leavesInUse(v registry.Verdict) bool { return v != "" && v != registry.TakeOutOfUse }

// InspectedSince says whether a later inspection that counts for the interval
// was recorded.
func (r *Rules) InspectedSince(f *registry.Facts, i *registry.Inspection) bool {
	for k := range f.Inspections {
		if j := &f.Inspections[k]; r.Counts(ClockInterval, j) && later(f, i, j) {
			return true
		}
	}
	return false
}

// Missed returns the latest inspection that did not find the anchor, unless
// it was seen again since; nil otherwise.
func (r *Rules) Missed(f *registry.Facts) *registry.Inspection {
	var found *registry.Inspection
	for k := range f.Inspections {
		i := &f.Inspections[k]
		if !i.NotFound() || r.seenSince(f, i) {
			continue
		}
		if found == nil || Newer(i, found) {
			found = i
		}
	}
	return found
}

func (r *Rules) seenSince(f *registry.Facts, i *registry.Inspection) bool {
	for k := range f.Inspections {
		if j := &f.Inspections[k]; r.Counts(ClockSeen, j) && later(f, i, j) {
			return true
		}
	}
	return false
}

// inspectedAfter says whether an inspection that resets an event's clock, and is
// close enough to settle the findings of a rule, was surely done after a day. One
// done on that day may have come before what happened then.
func (r *Rules) inspectedAfter(f *registry.Facts, rule string, day calendar.Date) bool {
	for k := range f.Inspections {
		if i := &f.Inspections[k]; i.DoneOn.From > day && r.Counts(ClockEvent, i) && r.closeEnough(rule, i.Level) {
			return true
		}
	}
	return false
}

// Newer orders inspections by the earliest day they can have happened, then by
// when they were recorded, then by id, so that the order of facts means
// nothing.
func Newer(a, b *registry.Inspection) bool {
	switch {
	case a.DoneOn.From != b.DoneOn.From:
		return a.DoneOn.From > b.DoneOn.From
	case !a.RecordedAt.Equal(b.RecordedAt):
		return a.RecordedAt.After(b.RecordedAt)
	}
	return slices.Compare(a.ID[:], b.ID[:]) > 0
}

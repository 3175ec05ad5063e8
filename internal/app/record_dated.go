package app

import (
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// admitDated wants a record to be of the time when the anchor was in the rock.
func admitDated(f *registry.Facts, r *registry.Record) error {
	var c fault.Checks
	inTheRock(&c, &f.Anchor, r)
	return c.Err()
}

// inTheRock refuses a record that is wholly of a day before the anchor was set
// or after it was removed: it is of another anchor, or one of the dates is
// wrong. What of that is not known refuses nothing, but that an anchor which was
// entered as removed was gone by the day it was entered. An anchor entered by
// mistake never was in the rock.
func inTheRock(c *fault.Checks, a *registry.Anchor, r *registry.Record) {
	c.Require(!a.Mistaken, "anchor_id", fault.NoSuchReference)
	early := a.SetOn.Known() && r.DoneOn.Known() && r.DoneOn.To < a.SetOn.From
	c.Require(!early, "done_on", fault.Order, uncertain("set_on", a.SetOn.From, a.SetOn)...)
	late := a.Removed && a.RemovedOn.Known() && r.DoneOn.From > a.RemovedOn.To
	c.Require(!late, "done_on", fault.Order, uncertain("removed_on", a.RemovedOn.To, a.RemovedOn)...)
	gone := a.Removed && !a.RemovedOn.Known() && r.DoneOn.From >= a.EnteredOn
	c.Require(!gone, "done_on", fault.Order, "gone_by", a.EnteredOn.String(), "removed_words", a.RemovedOn.Words)
}

// uncertain are the values of a violation that name a date: the end of it that
// refused, and, unless it is known to the day, both ends and what was written,
// so that whoever entered "2013" is not told of a 1 January.
func uncertain(name string, end calendar.Date, s calendar.Span) []string {
	values := []string{name, end.String()}
	if s.Exact() {
		return values
	}
	values = append(values, name+"_from", s.From.String(), name+"_to", s.To.String())
	if s.Words != "" {
		values = append(values, name+"_words", s.Words)
	}
	return values
}

package app

import (
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
// wrong. What of that is not known refuses nothing. An anchor entered by mistake
// never was in the rock.
func inTheRock(c *fault.Checks, a *registry.Anchor, r *registry.Record) {
	c.Require(!a.Mistaken, "anchor_id", fault.NoSuchReference)
	c.Require(!a.SetOn.Known() || r.DoneOn.To >= a.SetOn.From, "done_on", fault.Order, "set_on", a.SetOn.From.String())
	gone := a.Removed && a.RemovedOn.Known()
	c.Require(!gone || r.DoneOn.From <= a.RemovedOn.To, "done_on", fault.Order, "removed_on", a.RemovedOn.To.String())
}

package registry

import (
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
)

// Facts are all that the register knows of one anchor. Their order means
// nothing; neither the slices nor what they hold are modified by those who
// read them.
type Facts struct {
	Anchor        Anchor
	Position      Position
	Site          Site
	Traffic       Traffic // the busiest of its routes
	InAssembly    bool
	Fittings      []Fitting
	Installations []Installation
	FirstUses     []FirstUse
	Inspections   []Inspection
	Removals      []Removal
}

// Until returns the facts with only the records that had happened by asOf.
// Inventory is left as it stands today, but for anchors set or removed later.
// A record whose day is not known counts as having happened. It reports false
// if the anchor was surely not yet set.
func (f Facts) Until(asOf calendar.Date) (Facts, bool) {
	if f.Anchor.SetOn.From > asOf {
		return f, false
	}
	f.Installations = keep(f.Installations, func(r Installation) bool { return happened(r.Record, asOf) })
	f.FirstUses = keep(f.FirstUses, func(r FirstUse) bool { return happened(r.Record, asOf) })
	f.Inspections = keep(f.Inspections, func(r Inspection) bool { return happened(r.Record, asOf) })
	f.Removals = keep(f.Removals, func(r Removal) bool { return happened(r.Record, asOf) })
	if f.Anchor.Removed && f.Anchor.RemovedOn.From > asOf {
		f.Anchor.Removed = false
	}
	return f, true
}

// happened takes the day a record surely had happened by: the last day of its
// span.
func happened(r Record, asOf calendar.Date) bool { return r.DoneOn.To <= asOf }

// InForce returns the facts without the records that a later record replaces.
func (f Facts) InForce() Facts {
	f.Installations = inForce(f.Installations, func(r *Installation) *Record { return &r.Record })
	f.FirstUses = inForce(f.FirstUses, func(r *FirstUse) *Record { return &r.Record })
	f.Inspections = inForce(f.Inspections, func(r *Inspection) *Record { return &r.Record })
	f.Removals = inForce(f.Removals, func(r *Removal) *Record { return &r.Record })
	return f
}

func inForce[T any](list []T, record func(*T) *Record) []T {
	var replaced []uuid.UUID
	for i := range list {
		if old := record(&list[i]).Replaces; old != nil {
			replaced = append(replaced, *old)
		}
	}
	if replaced == nil {
		return list
	}
	return keep(list, func(v T) bool { return !slices.Contains(replaced, record(&v).ID) })
}

func keep[T any](list []T, ok func(T) bool) []T {
	var out []T
	for _, v := range list {
		if ok(v) {
			out = append(out, v)
		}
	}
	return out
}

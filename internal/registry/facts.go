package registry

import "rockledger/internal/calendar"

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
	Settlements   []Settlement
	Retractions   []Retraction
	// Environments are the statements about the position, its routes, sector
	// and site, whatever their dates.
	Environments []Environment
	Events       []Event  // of the site
	Notices      []Notice // that name the anchor
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
	f.Settlements = keep(f.Settlements, func(r Settlement) bool { return happened(r.Record, asOf) })
	f.Retractions = keep(f.Retractions, func(r Retraction) bool { return happened(r.Record, asOf) })
	f.Events = keep(f.Events, func(e Event) bool { return e.HappenedOn <= asOf })
	f.Notices = keep(f.Notices, func(n Notice) bool { return n.IssuedOn <= asOf })
	if f.Anchor.Removed && f.Anchor.RemovedOn.From > asOf {
		f.Anchor.Removed = false
	}
	return f, true
}

// happened takes the day a record surely had happened by: the last day of its
// span.
func happened(r Record, asOf calendar.Date) bool { return r.DoneOn.To <= asOf }

func keep[T any](list []T, ok func(T) bool) []T {
	var out []T
	for _, v := range list {
		if ok(v) {
			out = append(out, v)
		}
	}
	return out
}

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
	// Sessions are those that the installations name, and what replaces them.
	Sessions    []GluingSession
	Cures       []Cure
	FirstUses   []FirstUse
	Inspections []Inspection
	Maintenance []Maintenance
	Removals    []Removal
	Markings    []Marking
	// Sheets and Batches are those of the products and adhesives that the
	// anchor, its installations and their sessions name.
	Sheets      []ProductVersion
	Batches     []Batch
	Settlements []Settlement
	Retractions []Retraction
	// Environments are the statements about the position, its routes, sector
	// and site, whatever their dates.
	Environments []Environment
	Events       []Event // of the site
	// Notices are those that name the anchor, and all that go by a criterion,
	// whether it hits the anchor or not: see HitBy.
	Notices []Notice
	// TimeZone is the group's, an IANA name, in which a day without a time
	// begins and ends. Blank: not known.
	TimeZone string
}

// Bonded says whether resin or mortar holds the anchor: surely where its form,
// or the form that an installation records, is a bonded one, or an installation
// names an adhesive or a batch, by itself or through its session; surely not
// where another form is known and no adhesive. Nil: not known, which is not no.
//
// What was glued once counts as glued, whatever form the anchor is given later:
// the form that the installation recorded stays.
func (f *Facts) Bonded() *bool {
	bonded, known := f.Anchor.Form.Bonded(), f.Anchor.Form != ""
	for k := range f.Installations {
		i := f.AsSet(&f.Installations[k])
		bonded = bonded || i.Form.Bonded() || i.AdhesiveID != nil || i.BatchID != nil
		known = known || i.Form != ""
	}
	if !bonded && !known {
		return nil
	}
	return &bonded
}

// Until returns the facts with only the records that had happened by asOf.
// Inventory is left as it stands today, but for anchors set or removed later.
// It reports false if the anchor was surely not yet set, or never was.
//
// Of an uncertain date the less favourable end counts. A record has happened on
// its last day; but an inspection that saw or measured something, or decided
// against the anchor, has so on its first day, and until its last it is taken
// as not ticked, so that it resets nothing. A record whose day is not known
// counts as having happened. An anchor is removed from the last day of its
// removal on or, if that is not known, from the day it was entered.
func (f Facts) Until(asOf calendar.Date) (Facts, bool) {
	if f.Anchor.SetOn.From > asOf || f.Anchor.Mistaken {
		return f, false
	}
	f.Installations = keep(f.Installations, func(r Installation) bool { return happened(r.Record, asOf) })
	f.Sessions = keep(f.Sessions, func(s GluingSession) bool { return s.DoneOn.To <= asOf })
	f.Cures = keep(f.Cures, func(r Cure) bool { return happened(r.Record, asOf) })
	f.Maintenance = keep(f.Maintenance, func(r Maintenance) bool { return happened(r.Record, asOf) })
	f.Markings = keep(f.Markings, func(r Marking) bool { return happened(r.Record, asOf) })
	f.FirstUses = keep(f.FirstUses, func(r FirstUse) bool { return happened(r.Record, asOf) })
	f.Inspections = inspectedBy(f.Inspections, asOf)
	f.Removals = keep(f.Removals, func(r Removal) bool { return happened(r.Record, asOf) })
	f.Settlements = keep(f.Settlements, func(r Settlement) bool { return happened(r.Record, asOf) })
	f.Retractions = keep(f.Retractions, func(r Retraction) bool { return happened(r.Record, asOf) })
	f.Events = keep(f.Events, func(e Event) bool { return e.HappenedOn <= asOf })
	f.Notices = keep(f.Notices, func(n Notice) bool { return n.IssuedOn <= asOf })
	if f.Anchor.Removed && f.Anchor.goneFrom() > asOf {
		f.Anchor.Removed = false
	}
	return f, true
}

// goneFrom is the first day on which a removed anchor surely was gone.
func (a *Anchor) goneFrom() calendar.Date {
	if a.RemovedOn.Known() {
		return a.RemovedOn.To
	}
	return a.EnteredOn
}

// inspectedBy returns the inspections that had happened by a day, and those
// against the anchor that may have.
func inspectedBy(list []Inspection, asOf calendar.Date) []Inspection {
	var out []Inspection
	for _, i := range list {
		switch {
		case happened(i.Record, asOf):
		case i.DoneOn.From <= asOf && i.adverse():
			i.Ticked = false
		default:
			continue
		}
		out = append(out, i)
	}
	return out
}

// adverse says whether the inspection holds anything against the anchor.
func (i *Inspection) adverse() bool {
	decided := i.Verdict != verdictUnknown && i.Verdict != Keep
	return decided || len(i.Observations) > 0 || len(i.Measured) > 0
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

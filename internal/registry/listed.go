package registry

import (
	"cmp"
	"iter"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
)

// ListAsk says under which headings the list of anchors is asked for.
type ListAsk struct {
	// Own asks for the headings of a list that was taken over: that of ImportID
	// or, if it is nil, the newest. False: this register's own headings.
	Own      bool
	ImportID *uuid.UUID
}

// PastList is a list that was taken over, to write another under its headings.
type PastList struct {
	Import Import
	// InSector and OnRoute say that some anchor of the group is.
	InSector, OnRoute bool
	// Cells goes through the cells of its rows that were entered, in the order
	// of the file and as often as asked.
	Cells iter.Seq[[]string]
}

// ListEntry is all that a list of anchors needs to know of one anchor.
type ListEntry struct {
	Line     ReportLine // without an assessment
	Facts    Facts
	Routes   []string // the names of its routes, in their order
	Persons  map[uuid.UUID]string
	Products map[uuid.UUID]string
	Batches  map[uuid.UUID]Batch
	// Row is the row of the list taken over that the anchor was made of. Nil:
	// it was made otherwise.
	Row *ImportRow
	// Written is what the latest list row about the anchor's position, in a cave,
	// had for its coordinates. Nil: there is none.
	Written *string
}

// Listed is what a list says of one anchor, as the register has it.
type Listed struct {
	Anchor   Anchor
	Standing Standing
	SiteKind SiteKind
	Site     string
	Sector   string
	Route    string   // the first of its routes, by name
	Routes   []string // all of them
	Label    string
	Role     PositionRole
	Hanger   bool // one hangs on it

	Hole  *Installation // that of the setting; nil: none recorded
	Glue  string
	Batch string
	SetBy string

	Seen *Inspection // the last; nil: none
	Out  *Removal    // nil: it is in the rock, or nothing is recorded of how it came out

	Lat, Lon *float64
	// CoordinateWords are the anchor's own of those written of a cave.
	CoordinateWords string
	Landowner       string

	// Row is that of a ListEntry.
	Row *ImportRow
	// Withheld says that coordinates, and what was never read and so may hold
	// them, are not for whoever asks.
	Withheld bool
}

// LastSeen returns the inspection that says how the anchor is now: the latest,
// by the last day on which it can have been, of those that are neither replaced
// nor retracted. One of unknown date counts as the earliest; a bulk entry that
// did not tick the anchor and holds nothing against it does not count, nor does
// one made of a note, which a list holds in a column of its own. Nil: there is
// none.
func (f Facts) LastSeen() *Inspection {
	return latest(f.Current().Inspections, func(i *Inspection) *Record {
		if i.OfNote != nil || i.Origin == Recorded && !i.Ticked && !i.adverse() {
			return nil
		}
		return &i.Record
	})
}

// CameOut returns the latest removal, on the terms of LastSeen.
func (f Facts) CameOut() *Removal {
	return latest(f.Current().Removals, func(r *Removal) *Record { return &r.Record })
}

// HasHanger says whether a hanger hangs on the anchor on a day.
func (f Facts) HasHanger(asOf calendar.Date) bool {
	for k := range f.Fittings {
		if t := &f.Fittings[k]; t.Kind == Hanger && t.Presence == Present && t.Hangs(asOf) {
			return true
		}
	}
	return false
}

// latest returns the latest of some records, nil for none; one whose record is
// nil does not count.
func latest[R any](list []R, record func(*R) *Record) *R {
	var last *R
	for k := range list {
		r := record(&list[k])
		if r != nil && (last == nil || r.compare(record(last)) > 0) {
			last = &list[k]
		}
	}
	return last
}

// compare orders records by the last day they can be of, then by when they were
// made.
func (r *Record) compare(other *Record) int {
	return cmp.Or(
		cmp.Compare(r.DoneOn.To, other.DoneOn.To),
		r.RecordedAt.Compare(other.RecordedAt),
		cmp.Compare(r.ID.String(), other.ID.String()),
	)
}

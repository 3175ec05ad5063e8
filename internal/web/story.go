package web

import (
	"cmp"
	"strings"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// told tells an anchor's history, newest first: what was done, and what the
// register showed, the latter by instants of a zone.
func told(s registry.AnchorStory, zone *time.Location) (records, shown []recordLine) {
	for _, l := range wording.History(s) {
		line := recordLine{ID: l.ID, Text: l.Words, Gone: l.Gone}
		if !l.Shown() {
			records = append(records, line)
			continue
		}
		line.At = calendar.On(l.At, zone).Words() + l.At.In(zone).Format(", 15:04")
		shown = append(shown, line)
	}
	return records, shown
}

// namesOf are what the references in a story's records stand for.
func namesOf(s registry.AnchorStory) wording.Names {
	return wording.Names{Persons: s.Persons, Products: s.Products, Batches: s.Batches}
}

// byTime orders records by the day they had surely happened by, then by when
// they were recorded, then by id. A day not known comes first.
func byTime(a, b registry.Record) int {
	return cmp.Or(
		cmp.Compare(a.DoneOn.To, b.DoneOn.To),
		a.RecordedAt.Compare(b.RecordedAt),
		strings.Compare(a.ID.String(), b.ID.String()),
	)
}

package wording

import (
	"fmt"
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Sentences of the work list and of the report for landowners.
const (
	NoneWork      = "No anchor asks for work on what is recorded."
	NoneLand      = "No landowner is recorded."
	NoneProblems  = "No problem is on record. That is not a clean bill of health."
	NoneWorkDone  = "Nothing was recorded in the period."
	OwnerNotKnown = "Land whose owner is not known"
	KitHelp       = "For all anchors on this list. Product instructions and what is found at the rock come first."
)

// Period says the days that a report is about, both included.
func Period(from, to calendar.Date) string {
	return "What was done from " + from.Words() + " to " + to.Words() + "; standings and problems as of the last of these days that has come."
}

// OnParcels says how many anchors stand on whose parcels: "12 anchors in the
// rock, on North Field and Mill Wood."
func OnParcels(anchors int, parcels []registry.Parcel) string {
	text := Anchors(anchors) + " in the rock"
	names := make([]string, len(parcels))
	for i, p := range parcels {
		names[i] = p.Name
	}
	switch n := len(names); n {
	case 0:
		return text + "."
	case 1:
		return text + ", on " + names[0] + "."
	default:
		return text + ", on " + strings.Join(names[:n-1], ", ") + " and " + names[n-1] + "."
	}
}

// Done is how many of the anchors with a problem are where: taken out in the
// period, no longer with it, settled, not to be used, inspected in the period
// with the problem still there, and none of these.
type Done struct{ Removed, Cleared, Settled, OutOfUse, Inspected, Open int }

// ProblemDone says what was done about a problem of several anchors: "1
// settled by a person; 2 inspected in the period, and the problem stands; 1
// open."
func ProblemDone(d Done) string {
	var parts []string
	for _, p := range []struct {
		n    int
		text string
	}{
		{d.Removed, "%d taken out of the rock"},
		{d.Cleared, "%d no longer so"},
		{d.OutOfUse, "%d out of use"},
		{d.Settled, "%d settled by a person"},
		{d.Inspected, "%d inspected in the period, and the problem stands"},
		{d.Open, "%d open"},
	} {
		if p.n > 0 {
			parts = append(parts, fmt.Sprintf(p.text, p.n))
		}
	}
	return strings.Join(parts, "; ") + "."
}

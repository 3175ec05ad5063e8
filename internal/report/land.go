package report

import (
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Land tells landowners what is known of the anchors on their land, what was
// done there in a period, and what was agreed.
type Land struct {
	Heading  Heading // as of the last day of the period that has come
	From, To calendar.Date
	Detail   bool           // anchor by anchor too
	Owners   []LandOwner    // by name; last, without one, land whose owner is not known
	Seal     *registry.Seal // the newest; nil: nothing is sealed yet
}

// LandOwner is what the report says to one landowner. It never holds the
// landowner's contact.
type LandOwner struct {
	ID           *uuid.UUID // nil: whose land it is is not known
	Name         string     // empty: not known
	Parcels      []registry.Parcel
	Anchors      int // in the rock on that land
	ByStanding   map[registry.Standing]int
	Problems     []LandProblem // worst first
	Work         []LandWork    // in the period, by kind
	Agreements   []registry.Agreement
	Restrictions []registry.Restriction // in force on some day of the period
	Lines        []LandLine             // with Detail only
}

// LandProblem is one kind of problem on a landowner's land, known when the
// period began or when it ended, and what was done about it: Anchors = Removed
// + Cleared + Settled + OutOfUse + Inspected + Open.
type LandProblem struct {
	Rule     string
	Severity registry.Severity // the worst it has on that land
	Anchors  int
	// Removed: the anchor was taken out of the rock in the period. Cleared: the
	// problem no longer stands. Settled: a person's answer settles it. OutOfUse:
	// the anchor is not to be used. Inspected: it was inspected hands-on or
	// closer in the period, and the problem stands. Open: none of these.
	Removed, Cleared, Settled, OutOfUse, Inspected, Open int
}

// LandWork counts the records of one kind made of what was done in the period.
type LandWork struct {
	Kind  string // as registry.LandRecord
	Count int
}

// LandLine is one anchor with a problem or with work in the period.
type LandLine struct {
	Line registry.ReportLine
	Work []registry.LandRecord // oldest first
}

package adhesive

import (
	"math"

	"rockledger/internal/quantity"
)

// Reason says why a sheet gives no time, in a word; blank: it gives one.
type Reason string

// The reasons.
const (
	NoTable Reason = "no-table"          // the sheet has no rows
	TooCold Reason = "colder-than-sheet" // below its lowest row or bound
	TooWarm Reason = "warmer-than-sheet" // above its highest row or bound
	Flooded Reason = "hole-flooded"      // and the sheet does not name such holes
)

// Reasons lists the reasons.
func Reasons() []Reason { return []Reason{NoTable, TooCold, TooWarm, Flooded} }

// UsualDoubling is the factor on the cure in a damp or saturated hole where the
// sheet gives neither a time nor a factor. Common practice, no source; it is
// not the sheet's, and Times says so.
const UsualDoubling = 2

// Times are what a sheet gives for one hole.
type Times struct {
	Minutes int  // of cure
	Row     Row  // the row that was read
	Assumed bool // the temperature is not known: the coldest row was read
	Wet     bool // lengthened for a damp or saturated hole, or one not known
	// Usual says that the lengthening is UsualDoubling and not the sheet's.
	Usual bool
}

// Cure returns the time that the adhesive must cure at the lowest temperature
// that the rock has until release, in whole minutes, rounded up.
//
// The row whose band holds the temperature is read, both ends included as
// printed; between two bands (9.5 between 5 to 9 and 10 to 19) the colder one.
// Nothing is interpolated. Where a warmer row gives a longer time the table was
// misread, and the longer time counts, so that colder is never shorter. A
// temperature that is not known (nil) counts as the coldest row.
//
// A damp or saturated hole takes the row's own wet time, otherwise the dry one
// times the sheet's factor, otherwise twice the dry one, and never less than the
// dry one. A hole of which nothing is known counts as wet.
//
// There is no time, and the reason says why, for a sheet without rows, a
// temperature outside what the rows and the sheet's bounds cover (NaN too), or a
// flooded hole that the sheet does not name as allowed.
//
// Source: the usual sentences of data sheets of injection mortars, from memory.
func Cure(s *Sheet, lowest *quantity.Temperature, hole Moisture) (Times, Reason) {
	if len(s.Rows) == 0 {
		return Times{}, NoTable
	}
	if hole.Flooded() && !s.Allows(hole) {
		return Times{}, Flooded
	}
	rows, at := s.rising(), 0
	if lowest != nil {
		if why := s.outside(*lowest); why != "" {
			return Times{}, why
		}
		at = coldest(rows, *lowest)
	}
	out := Times{Row: rows[at], Assumed: lowest == nil, Wet: hole != Dry}
	for _, r := range rows[at:] {
		minutes, usual := s.cureOf(r, out.Wet)
		if minutes > out.Minutes {
			out.Minutes, out.Row, out.Usual = minutes, r, usual
		}
	}
	return out, ""
}

// coldest finds, among rising rows that cover a temperature, the row that holds
// it, the colder of two, or else the next colder one.
func coldest(rows []Row, t quantity.Temperature) int {
	at := 0
	for i, r := range rows {
		if r.From <= t && t <= r.To {
			return i
		}
		if r.From <= t {
			at = i
		}
	}
	return at
}

// cureOf returns a row's cure in minutes, and whether it was lengthened by the
// usual doubling.
func (s *Sheet) cureOf(r Row, wet bool) (minutes int, usual bool) {
	switch {
	case !wet:
		return r.Cure, false
	case r.CureWet != nil:
		return max(r.Cure, *r.CureWet), false
	case s.WetFactor != nil:
		return max(r.Cure, Lengthened(r.Cure, *s.WetFactor)), false
	}
	return Lengthened(r.Cure, UsualDoubling), true
}

// Lengthened returns minutes times a factor, rounded up to whole minutes.
func Lengthened(minutes int, factor float64) int {
	const slack = 1e-9 // 80 × 1.1 is 88 minutes, not 89
	return int(math.Ceil(float64(minutes)*factor - slack))
}

// Working returns the time in minutes that the adhesive can be worked at the
// warmest temperature that the rock can have had at the setting, and false where
// the sheet does not cover it.
//
// Resin gels sooner in warm rock, so that everything is the other way round
// than for Cure: between two bands the warmer row is read, where a colder row
// gives a shorter time that counts, and nil is the shortest time of all rows.
// Moisture and the warmth of the cartridge are not reckoned with.
//
// Source: as Cure.
func Working(s *Sheet, warmest *quantity.Temperature) (int, bool) {
	if len(s.Rows) == 0 || warmest != nil && s.outside(*warmest) != "" {
		return 0, false
	}
	rows := s.rising()
	shortest := math.MaxInt
	for _, r := range rows {
		shortest = min(shortest, r.Working)
		if warmest != nil && r.To >= *warmest {
			break
		}
	}
	return shortest, true
}

package registry

import "rockledger/internal/calendar"

// The kinds of metal that the rules tell apart.
const (
	KindTitanium    = "titanium"
	KindStainless   = "stainless"
	KindCoatedSteel = "coated-steel"
	KindBareSteel   = "bare-steel"
	KindAluminium   = "aluminium"
)

// MetalKinds lists the kinds of metal.
func MetalKinds() []string {
	return []string{KindTitanium, KindStainless, KindCoatedSteel, KindBareSteel, KindAluminium}
}

// MetalRow is a row of the house rules' intervals by metal: an environment and
// a row of its table.
type MetalRow struct{ Environment, Row string }

// Exposure is what the place of an anchor does to its metal, computed for one
// day: the worst over every grade that the metal can be. Blank words and "no
// date" are not known, or not asked for that metal.
type Exposure struct {
	Environment Environment // resolved
	// EnvironmentKnown says that enough of the environment is on record to
	// judge at least one of the grades by it.
	EnvironmentKnown bool
	Kinds            []string // what the metal can be
	// Rows are the rows of the house rules' intervals that the grades fall
	// in; there is always one.
	Rows []MetalRow

	RequiredClass string   // of stainless steel, "I" to "V", EN 1993-1-4 Annex A
	ClassesShort  *float64 // how far the worst grade falls short of it
	// Cracking is the risk of stress-corrosion cracking ("high", "medium",
	// "none"), Concerns whether that concerns the grades ("concerned",
	// "expert-needed", "not-concerned").
	Cracking string
	Concerns []string

	// The days by which, at the upper bound, the zinc is used up and the lost
	// section reaches the house rules' shares.
	CoatingGoneOn    calendar.Date
	SectionWatchOn   calendar.Date
	SectionSuspectOn calendar.Date
	// Atmosphere is the category those days rest on.
	Atmosphere Category
	// ServiceEndsOn is when the expected service life ends.
	ServiceEndsOn calendar.Date

	// Couples say, fitting by fitting in the order of Facts.Fittings, how its
	// metal gets on with the anchor and the other fittings.
	Couples []Couple
}

// Couple is how a metal gets on with those it touches; the empty couple is no
// matter, or not known.
type Couple string

// The couples.
const (
	MixedMetals Couple = "mixed"     // different, within the limit
	FarApart    Couple = "far-apart" // one eats the other
)

// Couples lists the couples.
func Couples() []Couple { return []Couple{MixedMetals, FarApart} }

package corrosion

import "rockledger/internal/metal"

// ClassOf returns the corrosion resistance class of a stainless grade, false for
// a metal that has none. Two grades that the table does not list take the class
// of the listed grade they are a variant of (judgement of this project): 1.4303
// that of 1.4301, 1.4436 that of 1.4401.
//
// Source: EN 1993-1-4:2006+A1:2015, Table A.3, from memory.
func ClassOf(g metal.Grade) (Class, bool) {
	switch g {
	case "1.4303":
		g = "1.4301"
	case "1.4436":
		g = "1.4401"
	}
	e, _ := metal.Lookup(g)
	return Class(e.CRC), e.CRC > 0
}

// GradesFor returns the stainless grades of a class and of every higher one: a
// higher class may always stand in. It does not ask about stress-corrosion
// cracking.
//
// Source: EN 1993-1-4:2006+A1:2015, Table A.3, from memory.
func GradesFor(c Class) metal.Set {
	var grades []metal.Grade
	for _, e := range metal.All() {
		if has, ok := ClassOf(e.Grade); ok && has >= c {
			grades = append(grades, e.Grade)
		}
	}
	return metal.NewSet(grades...)
}

// Fit is how a grade stands to the class a place asks for: the rows of the
// house rules' intervals, metal against environment.
type Fit string

// The fits, from best to worst. NotRated: the metal has no resistance class,
// being no stainless steel or not in the table, and its own rows count; or none
// is asked for.
const (
	AboveClass     Fit = "above-class"
	OfClass        Fit = "of-class"
	OneShort       Fit = "one-class-short"
	TwoOrMoreShort Fit = "two-or-more-classes-short"
	NotRated       Fit = "not-rated"
)

// FitOf returns how a grade stands to the class that a place asks for. Titanium
// is above every class. It does not ask about stress-corrosion cracking, which
// overrides it: see Suits.
//
// Source: judgement of this project, upon EN 1993-1-4:2006+A1:2015, Annex A.
func FitOf(g metal.Grade, required Class) Fit {
	if required < ClassI {
		return NotRated
	}
	if familyOf(g) == metal.TitaniumFamily {
		return AboveClass
	}
	has, ok := ClassOf(g)
	switch short := required - has; {
	case !ok:
		return NotRated
	case short < 0:
		return AboveClass
	case short == 0:
		return OfClass
	case short == 1:
		return OneShort
	}
	return TwoOrMoreShort
}

func familyOf(g metal.Grade) metal.Family {
	e, _ := metal.Lookup(g)
	return e.Family
}

// PoolUse is how a load-bearing part in the air of an indoor pool is looked
// after.
type PoolUse string

// The uses.
const (
	// PoolCleaned: at least every week, and neither fixing nor threaded.
	PoolCleaned PoolUse = "cleaned-weekly"
	// PoolNotCleaned: less often; all fixings, fasteners and threaded parts.
	PoolNotCleaned PoolUse = "not-cleaned"
)

// PoolAllows reports whether a stainless grade may bear load in the air of an
// indoor pool. Metals that are no stainless steel are not in the table, and
// false.
//
// Source: EN 1993-1-4:2006+A1:2015, Table A.4, from memory; agrees with what
// EN 13451-1 advises.
func PoolAllows(g metal.Grade, use PoolUse) bool {
	switch {
	case isHighAlloy(g):
		return true
	case use != PoolCleaned:
		return false
	}
	c, ok := ClassOf(g)
	leanDuplex := c == ClassIII && familyOf(g) == metal.Duplex
	return ok && c >= ClassIII && !leanDuplex
}

package corrosion

import (
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// Part is a part of an anchor, as far as its coating is concerned.
type Part string

// The parts.
const (
	Exposed Part = "exposed"
	// InHole is the part in the rock. Zinc there is scratched when the anchor is
	// driven and nobody sees it again: it is taken to be gone from the first day
	// (judgement of this project).
	InHole Part = "in-hole"
)

// Life is how long a zinc coating lasts at one rate by three laws, in years.
type Life struct {
	Linear float64 // the rate of the first year goes on
	B1, B2 float64 // ISO 9224 with either exponent of zinc
}

// Least returns the shortest of the three, the one to reckon with. It is B1 for
// coatings that last less than a year, and Linear for all others.
func (l Life) Least() float64 { return min(l.Linear, l.B1, l.B2) }

// ZincLife returns how long an exposed zinc coating lasts,
//
//	linear: t = d / r;    B1, B2: the t at which Depth(r, b, t) = d
//
// in years, where d is the least thickness of the coating and r the rate of zinc
// in the first year in micrometres a year. At a rate of 0 it is positive
// infinity, for a coating of 0 it is 0.
//
// It holds for zinc in the open, not in a hole, under a hanger or where a rope
// wears it, and says when the zinc is used up, not when the anchor is. Results
// of salt spray tests do not enter it.
//
// ZincLife returns an error of kind fault.Invalid if d or r is negative or not a
// finite number.
//
// Source: linear: ISO 1461:2009, Annex E (life is proportional to thickness);
// others: ISO 9224:2012, equations (1) and (3).
func ZincLife(thickness quantity.Length, r PerYear) (Life, error) {
	exponents, _ := ExponentsOf(Zinc)
	b1, err := YearsUntil(thickness, r, exponents.B1)
	if err != nil {
		return Life{}, err
	}
	return Life{
		Linear: yearsUntil(thickness, r, 1),
		B1:     b1,
		B2:     yearsUntil(thickness, r, exponents.B2),
	}, nil
}

// LifeBand is how long a coating lasts somewhere in a category, in years.
type LifeBand struct {
	Shortest float64
	// Longest is nil where the category has no lowest rate (C1).
	Longest *float64
}

// ZincLifeIn returns how long a zinc coating lasts at the highest and the lowest
// rate of a category for zinc, each by the least of the three laws of ZincLife.
// Above CX there is no highest rate and Shortest is 0. In the hole both are 0
// everywhere.
//
// ZincLifeIn returns an error of kind fault.Invalid if the thickness is negative
// or not a finite number, or if the category or the part is not known.
//
// Source: the rates of ISO 9223:2012, Table 2; in the hole judgement of this
// project.
func ZincLifeIn(thickness quantity.Length, c Category, part Part) (LifeBand, error) {
	band, err := BandOf(Zinc, c)
	if err != nil {
		return LifeBand{}, err
	}
	longest, err := ZincLife(thickness, band.Low)
	if err != nil {
		return LifeBand{}, err
	}
	switch part {
	case InHole:
		return LifeBand{Longest: new(float64)}, nil
	case Exposed:
		return exposedLife(thickness, band, longest), nil
	}
	return LifeBand{}, fault.Reject(fault.Unknown, "part %q", string(part)).With("part", string(part))
}

func exposedLife(thickness quantity.Length, band Band, longest Life) LifeBand {
	var life LifeBand
	if band.Low > 0 {
		years := longest.Least()
		life.Longest = &years
	}
	if band.High != nil {
		shortest, _ := ZincLife(thickness, *band.High) // thickness was checked
		life.Shortest = shortest.Least()
	}
	return life
}

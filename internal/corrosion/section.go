package corrosion

import (
	"math"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// SectionLeft returns the share of a round bar's area that is left when a depth
// was lost all around,
//
//	A = (1 - 2 D/d)^2     2 D < d
//	A = 0                 d ≤ 2 D
//
// where D is the depth lost and d the diameter, both lengths, and A a share
// from 0 to 1.
//
// It describes the exposed part only, never the shank in the hole, nor pits.
//
// SectionLeft returns an error of kind fault.Invalid if d is not above 0, if D
// is negative, or if either is not a finite number.
//
// Source: geometry.
func SectionLeft(diameter, lost quantity.Length) (float64, error) {
	if err := checkDiameter(diameter); err != nil {
		return 0, err
	}
	if !finite(float64(lost)) {
		return 0, fault.New(fault.Invalid, "depth %v mm: want ≥ 0", lost.Millimetres())
	}
	left := max(1-2*float64(lost/diameter), 0)
	return left * left, nil
}

// DepthForSection returns the depth that takes a share of a round bar's area,
//
//	D = d (1 - √(1 - s)) / 2
//
// where s is the share of the area lost, 0 to 1: the inverse of SectionLeft.
//
// DepthForSection returns an error of kind fault.Invalid if d is not above 0 or
// not a finite number, or if s lies outside 0 to 1.
//
// Source: geometry.
func DepthForSection(diameter quantity.Length, lost float64) (quantity.Length, error) {
	if err := checkDiameter(diameter); err != nil {
		return 0, err
	}
	if !(lost >= 0 && lost <= 1) {
		return 0, fault.New(fault.Invalid, "share %v of the section: want 0 to 1", lost)
	}
	return diameter * quantity.Length(1-math.Sqrt(1-lost)) / 2, nil
}

func checkDiameter(d quantity.Length) error {
	if finite(float64(d)) && d > 0 {
		return nil
	}
	return fault.New(fault.Invalid, "diameter %v mm: want > 0", d.Millimetres())
}

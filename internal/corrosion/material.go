package corrosion

import (
	"slices"

	"rockledger/internal/fault"
)

// Metal is one of the four metals of ISO 9223. It is not a grade of an anchor:
// stainless steel and titanium are not among them.
type Metal string

// The metals.
const (
	CarbonSteel Metal = "carbon_steel"
	Zinc        Metal = "zinc"
	Copper      Metal = "copper"
	Aluminium   Metal = "aluminium"
)

var metals = []Metal{CarbonSteel, Zinc, Copper, Aluminium}

// Metals returns the four metals, carbon steel first. The slice is the caller's.
func Metals() []Metal { return slices.Clone(metals) }

// PerYear is a rate of loss: micrometres of depth a year, mean over the surface.
type PerYear float64

// MicrometresPerYear returns r in micrometres a year.
func (r PerYear) MicrometresPerYear() float64 { return float64(r) }

// Grams returns the loss of mass that goes with r, in g/(m2 year), by the
// densities of Density; 0 for a metal that is none of the four.
func (r PerYear) Grams(m Metal) float64 { return float64(r) * Density(m) }

// FromGrams returns the rate that goes with a loss of mass in g/(m2 year); 0 for
// a metal that is none of the four.
func FromGrams(m Metal, grams float64) PerYear {
	d := Density(m)
	if d == 0 {
		return 0
	}
	return PerYear(grams / d)
}

// Density returns the density of a metal in g/cm3, 0 for one that is none of
// the four. One micrometre over one square metre is one gram per g/cm3.
//
// Source: the rounded values that reproduce the two columns of ISO 9223:2012,
// Table 2 (steel, zinc, copper); 2.7 g/cm3 for aluminium.
func Density(m Metal) float64 {
	switch m {
	case CarbonSteel:
		return 7.86
	case Zinc:
		return 7.14
	case Copper:
		return 8.96
	case Aluminium:
		return 2.7
	}
	return 0
}

func (m Metal) check() error {
	if slices.Contains(metals, m) {
		return nil
	}
	return fault.Reject(fault.Unknown, "metal %q is none of ISO 9223", string(m)).With("metal", string(m))
}

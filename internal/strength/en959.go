// Package strength answers whether what a product's sheet says is plausible as
// the strength of a rock anchor. It says nothing of an anchor in service: what a
// sheet rates was pulled from a test block, not from this rock.
package strength

import "rockledger/internal/quantity"

// What EN 959:2018 asks of a rock anchor as a product. The loads are type tests
// in a concrete block, the lengths those installed for them; in softer rock a
// longer anchor can be needed (note to 4.2.6). None of them is ever asked of an
// anchor in service.
const (
	// BondedLength is the least installed length of a bonded anchor (4.2.6).
	BondedLength = 70 * quantity.Millimetre
	// MechanicalDiameters is the least installed length of a mechanical anchor,
	// in diameters of its hole (4.2.6).
	MechanicalDiameters = 5
	// AxialLoad is the least load along the axis (4.3.1).
	AxialLoad = 15 * quantity.Kilonewton
	// RadialLoad is the least load across the axis (4.3.2).
	RadialLoad = 25 * quantity.Kilonewton
)

// Source is where the figures come from; they are known from a public preview
// of these clauses, not from the whole standard.
const Source = "EN 959:2018, 4.2.6, 4.3.1 and 4.3.2"

// Hold is how a product holds in the rock.
type Hold int

// The ways to hold. That a way is not known, or is another, is the zero value.
const (
	HoldNotKnown Hold = iota
	Bonded
	Mechanical
)

// Sheet is what a product's sheet says; nil: it does not say.
type Sheet struct {
	Hold     Hold
	Hole     *quantity.Length // diameter
	Embedded *quantity.Length
	Axial    *quantity.Force // rated
	Radial   *quantity.Force // rated
}

// Figure names what falls short.
type Figure string

// The figures.
const (
	EmbeddedLength Figure = "embedded-length"
	RatedAxial     Figure = "rated-axial"
	RatedRadial    Figure = "rated-radial"
)

// Shortfall is one figure of a sheet that is below what EN 959 asks of the
// product, both in the figure's unit: mm or kN.
type Shortfall struct {
	Figure       Figure
	Given, Least float64
}

// EN959 lists the figures of a sheet that are below the least of EN 959:2018,
// length first. What the sheet does not say is not judged, nor the length of an
// anchor that holds in another way, or of a mechanical one without a hole
// diameter. A figure that is not a number is below any least.
//
// Source: EN 959:2018, 4.2.6, 4.3.1, 4.3.2.
func EN959(s Sheet) []Shortfall {
	var out []Shortfall
	check := func(f Figure, given, least float64) {
		if !(given >= least) { // written so that NaN fails too
			out = append(out, Shortfall{f, given, least})
		}
	}
	if least, ok := leastLength(s); ok && s.Embedded != nil {
		check(EmbeddedLength, s.Embedded.Millimetres(), least.Millimetres())
	}
	if s.Axial != nil {
		check(RatedAxial, s.Axial.Kilonewtons(), AxialLoad.Kilonewtons())
	}
	if s.Radial != nil {
		check(RatedRadial, s.Radial.Kilonewtons(), RadialLoad.Kilonewtons())
	}
	return out
}

// leastLength returns the least installed length, and false where none is asked
// or it cannot be told.
func leastLength(s Sheet) (quantity.Length, bool) {
	switch {
	case s.Hold == Bonded:
		return BondedLength, true
	case s.Hold == Mechanical && s.Hole != nil:
		return MechanicalDiameters * *s.Hole, true
	}
	return 0, false
}

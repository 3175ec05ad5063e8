package adhesive

import (
	"math"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// DefaultWaste is by how much more mortar is injected than the hole keeps:
// what overflows, stays in the rock's pores and cracks, and in the nozzle.
// Default of this project, dimensionless.
//
// Source: a published consumption table (its maker withheld), which with the
// real section of the steel implies 1.25 to 1.71; its two plain threaded rods
// 1.25 and 1.34. See testdata/adhesive/consumption.csv.
const DefaultWaste = 1.3

// Hole is one hole for a bonded anchor. Diameter, depth and embedded length
// must be given, and either the shank's diameter or the section of the steel.
type Hole struct {
	Diameter quantity.Length
	Depth    quantity.Length
	Embedded quantity.Length // of the steel in the hole
	Shank    quantity.Length // of a smooth round shank; 0: not given
	// SteelAreaMM2 is the real section of the steel in the hole, mm²: threads,
	// notches and twisted legs taken into account. Nil: that of a smooth shank.
	SteelAreaMM2 *float64
}

// Validate reports every violation, keyed by JSON name: what is not above zero
// or beyond any rock anchor, steel longer than the hole is deep, and steel that
// does not go into the hole.
func (h Hole) Validate() error {
	var c fault.Checks
	within(&c, "hole_diameter_mm", float64(h.Diameter), 100)
	within(&c, "hole_depth_mm", float64(h.Depth), 1000)
	within(&c, "embedded_mm", float64(h.Embedded), 1000)
	c.Require(!(h.Embedded > h.Depth), "embedded_mm", fault.Mismatch, "with", "hole_depth_mm")
	if h.SteelAreaMM2 == nil || h.Shank != 0 {
		within(&c, "shank_diameter_mm", float64(h.Shank), 100)
		c.Require(!(h.Shank >= h.Diameter), "shank_diameter_mm", fault.Mismatch, "with", "hole_diameter_mm")
	}
	if a := h.SteelAreaMM2; a != nil {
		within(&c, "steel_area_mm2", *a, 10_000)
		c.Require(!(*a >= circle(h.Diameter)), "steel_area_mm2", fault.Mismatch, "with", "hole_diameter_mm")
	}
	return c.Err()
}

// within wants a number above zero and up to most; NaN is neither.
func within(c *fault.Checks, field string, v, most float64) {
	if !(v > 0) {
		c.Require(false, field, fault.NotPositive)
		return
	}
	c.Require(v <= most, field, fault.OutOfRange, "to", figure(most))
}

// SteelArea returns the section of the steel in the hole, mm²: as given, or
// π/4 d² of a smooth shank of diameter d.
func (h Hole) SteelArea() float64 {
	if h.SteelAreaMM2 != nil {
		return *h.SteelAreaMM2
	}
	return circle(h.Shank)
}

// Nominal says that the section of the steel was taken from its diameter,
// which for a threaded or notched shank is too much steel and so too little
// mortar: by about half for threaded rods.
//
// Source: the consumption table of DefaultWaste, which nominal diameters miss
// by 2.1 to 3.1 times and real sections by 1.25 to 1.71.
func (h Hole) Nominal() bool { return h.SteelAreaMM2 == nil }

// Volume returns the mortar that the hole keeps, in mL,
//
//	V = (π/4 d0² h0 - As hef) / 1000
//
// where d0 is the hole's diameter and h0 its depth, hef the embedded length, all
// in mm, and As the section of the steel in mm². It is more than zero.
//
// Volume knows neither waste nor what a hole in porous or cracked rock drinks,
// nor a hole drilled out of round.
//
// Volume returns the error of Validate.
//
// Source: geometry.
func (h Hole) Volume() (float64, error) {
	if err := h.Validate(); err != nil {
		return 0, err
	}
	return (circle(h.Diameter)*float64(h.Depth) - h.SteelArea()*float64(h.Embedded)) / 1000, nil
}

// circle is the area of a circle, mm².
func circle(diameter quantity.Length) float64 {
	return math.Pi / 4 * float64(diameter) * float64(diameter)
}

package corrosion

import (
	"math"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// Place is what is on record of where an anchor sits. Nil and the empty word are
// not known, never no. Neither the place nor what it points to is modified.
type Place struct {
	// Indoors is an internally controlled environment, as a climbing hall.
	Indoors bool
	// SeaCliff: the site is one, which is a source of chloride whatever the
	// distance on record.
	SeaCliff bool
	// SeaDistance is to salt water. Far stands for so far that nobody measured.
	SeaDistance *quantity.Length
	Coast       Coast
	// RoadDistance is to a road salted in winter. Far: there is none.
	RoadDistance *quantity.Length
	// RoadTunnel: in a road tunnel where salt is spread or carried in.
	RoadTunnel bool
	// MineralSalts: salts of a mineral spring, a pool or a mine reach the anchor.
	MineralSalts *bool
	// Chloride is the class of airborne salinity that was measured.
	Chloride *ChlorideClass
	// SulphurDioxide is the mean concentration in the air, µg/m3.
	SulphurDioxide *float64
	Washing        Washing
	// SurfaceTemperature is the highest the anchor's surface reaches in a year.
	SurfaceTemperature *quantity.Temperature
	// Cave is blank outside caves.
	Cave Cave
}

// Far is a distance so great that what lies there does not matter.
func Far() quantity.Length { return quantity.Length(math.Inf(1)) }

// Coast is the kind of sea.
type Coast string

// The coasts of EN 1993-1-4, Table A.1.
const (
	// BalticCoast: the German North Sea coast and all coasts of the Baltic.
	BalticCoast Coast = "baltic-or-german-north-sea"
	// OtherCoast: all other European coasts.
	OtherCoast Coast = "other"
)

// Washing is whether salts are washed off.
type Washing string

// The ways of washing.
const (
	Rain    Washing = "rain"    // fully exposed to rain
	Cleaned Washing = "cleaned" // no rain, but cleaned by a written regime
	Never   Washing = "never"   // sheltered, not cleaned
)

// Names of the fields of a place, as violations and assumptions carry them.
const (
	FieldSeaDistance        = "sea_distance_mm"
	FieldRoadDistance       = "road_distance_mm"
	FieldCoast              = "coast"
	FieldSulphurDioxideAir  = "sulphur_dioxide_ug_m3"
	FieldWashing            = "washing"
	FieldSurfaceTemperature = "surface_temperature_c"
	FieldChlorideClass      = "chloride_class"
	FieldCave               = "cave"
)

// Validate reports every value that no place has: a negative distance or
// concentration, a value that is not a number, a word outside its closed list.
func (p *Place) Validate() error {
	var c fault.Checks
	checkDistance(&c, FieldSeaDistance, p.SeaDistance)
	checkDistance(&c, FieldRoadDistance, p.RoadDistance)
	if p.SulphurDioxide != nil {
		checkNumber(&c, FieldSulphurDioxideAir, *p.SulphurDioxide, span{0, 100_000})
	}
	if p.SurfaceTemperature != nil {
		checkNumber(&c, FieldSurfaceTemperature, p.SurfaceTemperature.Celsius(), span{-90, 120})
	}
	if p.Chloride != nil {
		c.Require(*p.Chloride >= S0 && *p.Chloride <= AboveS3, FieldChlorideClass, fault.Unknown)
	}
	c.Require(oneOf(p.Coast, BalticCoast, OtherCoast), FieldCoast, fault.Unknown)
	c.Require(oneOf(p.Washing, Rain, Cleaned, Never), FieldWashing, fault.Unknown)
	c.Require(oneOf(p.Cave, CaveNotKnown, CaveDry, CaveDripping, CaveStream, CaveSea), FieldCave, fault.Unknown)
	return c.Err()
}

func checkDistance(c *fault.Checks, field string, d *quantity.Length) {
	if d == nil {
		return
	}
	c.Require(*d == *d, field, fault.NotANumber)
	c.Require(!(*d < 0), field, fault.Negative)
}

// oneOf reports whether a word is blank or in the list.
func oneOf[T ~string](word T, list ...T) bool {
	if word == "" {
		return true
	}
	for _, w := range list {
		if w == word {
			return true
		}
	}
	return false
}

// within reports whether a distance is known and at most limit.
func within(d *quantity.Length, limit quantity.Length) bool { return d != nil && *d <= limit }

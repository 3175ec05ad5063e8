package registry

import (
	"math"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

// PlaceKind says what kind of place a statement is about.
type PlaceKind string

// The kinds of place, nearest to the anchor first.
const (
	AtPosition PlaceKind = "position"
	AtRoute    PlaceKind = "route"
	AtSector   PlaceKind = "sector"
	AtSite     PlaceKind = "site"
)

// PlaceKinds lists the kinds of place, nearest to the anchor first.
func PlaceKinds() []PlaceKind { return []PlaceKind{AtPosition, AtRoute, AtSector, AtSite} }

// Place names one site, sector, route or position.
type Place struct {
	Kind PlaceKind
	ID   uuid.UUID
}

// Category is an atmospheric corrosivity category of ISO 9223:2012, "C1" to
// "CX"; empty: not known.
type Category string

// Categories lists the categories, mildest first.
func Categories() []Category { return []Category{"C1", "C2", "C3", "C4", "C5", "CX"} }

// Wetness is how wet the rock of a cave is.
type Wetness string

// The wetnesses, driest first; the empty wetness is not known.
const (
	Dry      Wetness = "dry"
	Dripping Wetness = "dripping"
	Stream   Wetness = "stream" // stream or spray, guano
)

// Wetnesses lists the wetnesses, driest first.
func Wetnesses() []Wetness { return []Wetness{Dry, Dripping, Stream} }

// Coast is the kind of coast that EN 1993-1-4 Annex A tells apart.
type Coast string

// The coasts; the empty coast is not known and counts as Other.
const (
	BalticOrGermanNorthSea Coast = "baltic-or-german-north-sea"
	OtherCoast             Coast = "other"
)

// Coasts lists the coasts.
func Coasts() []Coast { return []Coast{BalticOrGermanNorthSea, OtherCoast} }

// Environment is what one statement says of the climate at one place, from one
// day to another. Every field may be left open: the nearest place that states
// a field wins for it.
type Environment struct {
	ID      uuid.UUID
	Version int
	SiteID  uuid.UUID // the site the place lies at
	Place   Place
	From    calendar.Date
	Until   calendar.Date // last day; zero: open
	Preset  string        // the preset its values came from; empty: none
	Source  string        // where the values come from, in words

	// Annual means, as for ISO 9223: air temperature in degC, relative
	// humidity in %, deposition of SO2 and chloride in mg/(m2 d).
	TemperatureC   *float64
	HumidityPct    *float64
	SulphurDioxide *float64
	Chloride       *float64

	// Categories stated rather than computed, for each metal by itself.
	SteelCategory, ZincCategory, CopperCategory, AluminiumCategory Category

	SeaKm        *float64 // distance to the sea, km
	RoadKm       *float64 // distance to a road with de-icing salt, km
	Coast        Coast
	MineralSalts *bool // mineral spring, evaporite or the like
	Wetness      Wetness
	Washed       *bool    // rain washes the rock
	SurfaceMaxC  *float64 // highest surface temperature of a year, degC
}

// InForce says whether the statement holds on a day.
func (e *Environment) InForce(asOf calendar.Date) bool {
	return e.From <= asOf && (e.Until.IsZero() || asOf <= e.Until)
}

// Validate reports every violation, keyed by JSON name.
func (e *Environment) Validate() error {
	var c fault.Checks
	checkListed(&c, "place_kind", e.Place.Kind, PlaceKinds())
	c.Require(!e.From.IsZero(), "from", fault.Required)
	c.Require(e.Until.IsZero() || e.Until >= e.From, "until", fault.Order)
	checkRange(&c, "temperature_c", e.TemperatureC, -60, 60)
	checkRange(&c, "humidity_pct", e.HumidityPct, 0, 100)
	checkRange(&c, "sulphur_dioxide_mg_per_m2_day", e.SulphurDioxide, 0, 10000)
	checkRange(&c, "chloride_mg_per_m2_day", e.Chloride, 0, 10000)
	checkRange(&c, "sea_km", e.SeaKm, 0, 10000)
	checkRange(&c, "road_km", e.RoadKm, 0, 10000)
	checkRange(&c, "surface_max_c", e.SurfaceMaxC, -60, 100)
	for field, cat := range map[string]Category{
		"steel_category": e.SteelCategory, "zinc_category": e.ZincCategory,
		"copper_category": e.CopperCategory, "aluminium_category": e.AluminiumCategory,
	} {
		checkListedOrBlank(&c, field, cat, Categories())
	}
	checkListedOrBlank(&c, "coast", e.Coast, Coasts())
	checkListedOrBlank(&c, "wetness", e.Wetness, Wetnesses())
	return c.Err()
}

// checkRange wants a finite number from low to high where one is given.
func checkRange(c *fault.Checks, field string, v *float64, low, high float64) {
	if v == nil {
		return
	}
	c.Require(!math.IsNaN(*v) && *v >= low && *v <= high, field, fault.OutOfRange, "from", number(low), "to", number(high))
}

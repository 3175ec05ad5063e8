package registry

import (
	"slices"
	"strconv"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// CureRow is one row of a sheet's table: between two rock temperatures, both
// included as printed, the working and the cure time.
type CureRow struct {
	FromC       quantity.Temperature `json:"from_c"`
	ToC         quantity.Temperature `json:"to_c"`
	WorkMinutes int                  `json:"work_minutes"`
	CureMinutes int                  `json:"cure_minutes"`
	// CureWetMinutes is the cure time in a damp or saturated hole. Nil: the
	// sheet gives none for the row.
	CureWetMinutes *int `json:"cure_wet_minutes,omitempty"`
}

// Limits of what a sheet may say.
const (
	MaxCureRows    = 40
	MaxCartridgeML = 5000
)

// Validate reports every violation, keyed by JSON name. Rows of a cure table
// stand from cold to warm and do not overlap; a gap between them is allowed, and
// a temperature in it reads the colder row (adhesive.Cure).
func (v *ProductVersion) Validate() error {
	var c fault.Checks
	c.Require(!v.From.IsZero(), "from", fault.Required)
	checkName(&c, "source", v.Source)
	checkLength(&c, "hole_diameter_mm", v.Hole, 100)
	checkLength(&c, "shank_diameter_mm", v.Shank, 100)
	checkLength(&c, "overall_length_mm", v.Length, 1000)
	checkLength(&c, "embedded_length_mm", v.Embedded, 1000)
	checkForce(&c, "rated_axial_kn", v.AxialKN)
	checkForce(&c, "rated_radial_kn", v.RadialKN)
	checkAbove(&c, "steel_area_mm2", v.SteelAreaMM2, 10_000)
	checkLength(&c, "edge_least_mm", v.EdgeLeast, 10_000)
	checkLength(&c, "spacing_least_mm", v.SpacingLeast, 10_000)
	checkAbove(&c, "torque_nm", v.TorqueNM, 500)
	v.checkAdhesive(&c)
	return c.Err()
}

func (v *ProductVersion) checkAdhesive(c *fault.Checks) {
	checkCureRows(c, v.CureRows)
	c.Require(v.WetFactor == nil || *v.WetFactor >= 1 && *v.WetFactor <= 10, "wet_factor", fault.OutOfRange, "from", "1", "to", "10")
	for i, m := range v.Moistures {
		checkListed(c, "moistures", m, Moistures())
		c.Require(!slices.Contains(v.Moistures[:i], m), "moistures", fault.Duplicate)
	}
	checkBand(c, "rock_low_c", v.RockLowC, "rock_high_c", v.RockHighC)
	checkBand(c, "cartridge_low_c", v.CartridgeLowC, "cartridge_high_c", v.CartridgeHighC)
	checkCount(c, "cleaning_cycles", v.CleaningCycles, 0, 99)
	checkCount(c, "shelf_months", v.ShelfMonths, 1, 240)
	checkAbove(c, "cartridge_ml", v.CartridgeML, MaxCartridgeML)
}

func checkCureRows(c *fault.Checks, rows []CureRow) {
	c.Require(len(rows) <= MaxCureRows, "cure_rows", fault.OutOfRange, "to", strconv.Itoa(MaxCureRows)+" rows")
	for i, r := range rows {
		var k fault.Checks
		checkBand(&k, "from_c", &r.FromC, "to_c", &r.ToC)
		checkMinutes(&k, "work_minutes", &r.WorkMinutes)
		checkMinutes(&k, "cure_minutes", &r.CureMinutes)
		checkMinutes(&k, "cure_wet_minutes", r.CureWetMinutes)
		k.Require(r.WorkMinutes <= r.CureMinutes, "cure_minutes", fault.Mismatch, "with", "work_minutes")
		k.Require(r.CureWetMinutes == nil || *r.CureWetMinutes >= r.CureMinutes, "cure_wet_minutes", fault.Mismatch, "with", "cure_minutes")
		if i > 0 {
			k.Require(r.FromC > rows[i-1].ToC, "from_c", fault.Order, "above_c", number(rows[i-1].ToC.Celsius()))
		}
		c.Nest("cure_rows["+strconv.Itoa(i)+"]", k.Err())
	}
}

// checkBand wants two temperatures that the world has, the lower one first.
func checkBand(c *fault.Checks, lowField string, low *quantity.Temperature, highField string, high *quantity.Temperature) {
	checkTemperature(c, lowField, low)
	checkTemperature(c, highField, high)
	if low != nil && high != nil {
		c.Require(*low <= *high, highField, fault.Order, "from_degrees", number(low.Celsius()))
	}
}

// checkAbove wants a number above zero and up to most where one is given.
func checkAbove(c *fault.Checks, field string, v *float64, most float64) {
	if v != nil {
		c.Require(*v > 0, field, fault.NotPositive)
		c.Require(!(*v > most), field, fault.OutOfRange, "to", number(most))
	}
}

// checkCount wants a whole number from least to most where one is given.
func checkCount(c *fault.Checks, field string, n *int, least, most int) {
	if n != nil {
		c.Require(*n >= least && *n <= most, field, fault.OutOfRange, "from", strconv.Itoa(least), "to", strconv.Itoa(most))
	}
}

// FitsKind reports, keyed by JSON name, each figure of the sheet that a product
// of this kind does not have.
func (v *ProductVersion) FitsKind(k ProductKind) error {
	var c fault.Checks
	given := func(kind ProductKind, field string, is bool) {
		c.Require(k == kind || !is, field, fault.Mismatch, "with", "kind")
	}
	given(Hardware, "hole_diameter_mm", v.Hole != nil)
	given(Hardware, "shank_diameter_mm", v.Shank != nil)
	given(Hardware, "overall_length_mm", v.Length != nil)
	given(Hardware, "embedded_length_mm", v.Embedded != nil)
	given(Hardware, "rated_axial_kn", v.AxialKN != nil)
	given(Hardware, "rated_radial_kn", v.RadialKN != nil)
	given(Hardware, "steel_area_mm2", v.SteelAreaMM2 != nil)
	given(Hardware, "edge_least_mm", v.EdgeLeast != nil)
	given(Hardware, "spacing_least_mm", v.SpacingLeast != nil)
	given(Hardware, "torque_nm", v.TorqueNM != nil)
	given(Adhesive, "cure_rows", len(v.CureRows) > 0)
	given(Adhesive, "wet_factor", v.WetFactor != nil)
	given(Adhesive, "moistures", len(v.Moistures) > 0)
	given(Adhesive, "rock_low_c", v.RockLowC != nil)
	given(Adhesive, "rock_high_c", v.RockHighC != nil)
	given(Adhesive, "cartridge_low_c", v.CartridgeLowC != nil)
	given(Adhesive, "cartridge_high_c", v.CartridgeHighC != nil)
	given(Adhesive, "cleaning_cycles", v.CleaningCycles != nil)
	given(Adhesive, "shelf_months", v.ShelfMonths != nil)
	given(Adhesive, "cartridge_ml", v.CartridgeML != nil)
	return c.Err()
}

package houserules

import (
	"slices"
	"strings"

	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// The environments of the metal table.
const (
	EnvironmentNotKnown = "environment-not-known"
	// RequiredClass: stainless steel and titanium against the class that the
	// place asks for, EN 1993-1-4 Annex A.
	RequiredClass = "required-class"
	// Cracking: stainless steel that may crack there.
	Cracking = "cracking"
	// Atmosphere: metals that waste away, by category of ISO 9223.
	Atmosphere = "atmosphere"
	// CaveDry and CaveDripping: caves, which lie outside the atmosphere's
	// model. Dripping counts too where nothing else is known.
	CaveDry      = "cave-dry"
	CaveDripping = "cave-dripping"
)

// The rows of the metal table, environment not known.
const (
	Titanium           = "titanium"
	StainlessHighAlloy = "stainless-high-alloy" // 1.4529, 1.4547, 1.4565
	Stainless          = "stainless"            // every other
	CarbonSteel        = "carbon-steel"         // bare or coated
	Aluminium          = "aluminium"            // in other environments too
)

// The rows of the other environments.
const (
	AboveClass  = "above-class"
	OfClass     = "of-class"
	OneShort    = "one-class-short"
	TwoShort    = "two-or-more-classes-short"
	RiskMedium  = "medium"
	RiskHigh    = "high"
	CoatedC2    = "coated-c1-c2"
	CoatedC3    = "coated-c3"
	CoatedC4    = "coated-c4"
	CoatedC5    = "coated-c5-cx"
	Bare        = "bare"
	Coated      = "coated"            // in a cave
	LastingCave = "stainless-lasting" // in a cave: from 1.4404 upward
	LowerCave   = "stainless-lower"   // in a cave: below that
)

// SinglePoint is the row of the role table for an anchor that nothing backs
// up, whatever its role.
const SinglePoint = "single-point"

// The duties: what the group's anchors are used for.
const (
	DutyOff        = "off"
	DutyWork       = "work" // work or instructed groups
	DutyRopeAccess = "rope-access"
)

// Who may allow first use.
const (
	AnotherPerson = "another-person" // than who set the anchor
	AnyPerson     = "anyone"
)

// Whether a first use must state what became of the kept sample.
const (
	SampleStated   = "stated"
	SampleNotAsked = "not-asked"
)

// The rows of the service lives.
const (
	TitaniumBonded     = "titanium-bonded"
	StainlessBonded    = "stainless-bonded"    // where it suits the place
	StainlessExpansion = "stainless-expansion" // where it suits the place
)

// Choices lists the words that the row at a path ("kept_sample",
// "resets.interval.full") may hold one of; nil for a row that holds a number or
// several words, and for a path that the rules do not have.
func Choices(path string) []string {
	switch path {
	case "duty":
		return []string{DutyOff, DutyWork, DutyRopeAccess}
	case "first_use_by":
		return []string{AnotherPerson, AnyPerson}
	case "kept_sample":
		return []string{SampleStated, SampleNotAsked}
	}
	table, row, _ := strings.Cut(path, ".")
	switch {
	case table == "resets" && slices.Contains(resetRows(), row):
		return []string{resetNo, resetYes, resetAtLevel}
	case table == "imported_severities" && slices.Contains(importedRules(), row),
		table == "finding_severities" && slices.Contains(weighedRules(), row):
		return words(registry.Note, registry.Watch, registry.Suspect)
	}
	return nil
}

// resetRows are the rows of the table of what resets which clock.
func resetRows() []string {
	var rows []string
	for _, clock := range Clocks() {
		for _, level := range registry.Levels() {
			rows = append(rows, string(clock)+"."+string(level))
		}
	}
	return rows
}

// shape returns every path the rules must have, with the check of its leaf.
func shape() map[string]leafCheck {
	want := map[string]leafCheck{"version": wholePositive}
	for _, path := range []string{
		"first_inspection_months", "shortest_interval_months", "due_soon_days", "first_round_months",
		"verdict_months.watch", "verdict_months.repair", "bad_state_months", "not_located_months",
		"event_days", "wear_rate_factor",
		"cave_rock_c", "least_edge_mm", "least_spacing_mm", "soft_rock_embedded_mm",
	} {
		want[path] = number
	}
	for table, rows := range numberTables() {
		for _, row := range rows {
			want[table+"."+row] = number
		}
	}
	want["coldest_rock_c"] = temperature
	oneWord := []string{"duty", "first_use_by", "kept_sample"}
	for _, row := range resetRows() {
		oneWord = append(oneWord, "resets."+row)
	}
	for rule, s := range settlingRows {
		want["settled_by."+rule] = s.check
	}
	for _, rule := range importedRules() {
		oneWord = append(oneWord, "imported_severities."+rule)
	}
	for _, rule := range weighedRules() {
		oneWord = append(oneWord, "finding_severities."+rule)
	}
	for _, path := range oneWord {
		want[path] = oneOf(Choices(path)...)
	}
	return want
}

// laterTables are the paths and tables that came after the first house rules were
// stored: what is missing of them is taken from the defaults.
var laterTables = []string{
	"longest_interval_months.metal." + RequiredClass, "longest_interval_months.metal." + Cracking,
	"longest_interval_months.metal." + Atmosphere, "longest_interval_months.metal." + CaveDry,
	"longest_interval_months.metal." + CaveDripping,
	"event_days", "fitting_months", "duty", "duty_months", "wear_lost_percent", "wear_rate_factor",
	"section_lost_percent", "coating_um", "service_life_years", "settled_by", "finding_severities",
	"cave_rock_c", "coldest_rock_c", "least_edge_mm", "least_spacing_mm", "soft_rock_embedded_mm", "first_use_by", "kept_sample",
	"imported_severities.imported-called-unsafe", "imported_severities.imported-state-not-understood",
	"resets." + string(ClockEvent), "resets." + string(ClockFitting), "resets." + string(ClockDuty),
}

func cameLater(path string) bool {
	for _, table := range laterTables {
		if path == table || strings.HasPrefix(path, table+".") {
			return true
		}
	}
	return false
}

// numberTables returns the rows of each table of numbers.
func numberTables() map[string][]string {
	tables := map[string][]string{
		"fitting_months":       rows(registry.Traffics()),
		"duty_months":          {DutyWork, DutyRopeAccess},
		"wear_lost_percent":    words(registry.Watch, registry.Suspect, registry.OutOfUse),
		"section_lost_percent": words(registry.Watch, registry.Suspect),
		"coating_um":           words(metal.SteelElectroplated, metal.SteelHotDipGalvanised, metal.SteelSherardised),
		"service_life_years":   {TitaniumBonded, StainlessBonded, StainlessExpansion},
	}
	for table, rows := range intervalRows() {
		tables["longest_interval_months."+table] = rows
	}
	return tables
}

// intervalRows returns the rows of each table of intervals.
func intervalRows() map[string][]string {
	cave := []string{Titanium, LastingCave, LowerCave, Coated, Bare, Aluminium}
	return map[string][]string{
		"metal." + EnvironmentNotKnown: {Titanium, StainlessHighAlloy, Stainless, CarbonSteel, Aluminium, NotKnown},
		"metal." + RequiredClass:       {AboveClass, OfClass, OneShort, TwoShort},
		"metal." + Cracking:            {RiskMedium, RiskHigh},
		"metal." + Atmosphere:          {CoatedC2, CoatedC3, CoatedC4, CoatedC5, Bare, Aluminium},
		"metal." + CaveDry:             cave,
		"metal." + CaveDripping:        cave,
		"form":                         rows(registry.Forms()),
		"rock":                         rows(registry.RockClasses()),
		"rock_sound":                   rows(registry.Sounds()),
		"traffic":                      rows(registry.Traffics()),
		"role":                         append(rows(registry.PositionRoles()), SinglePoint),
		"age":                          append(bandNames(), NotKnown),
	}
}

// rows returns the words of a closed list and the row for not known.
func rows[T ~string](list []T) []string { return append(words(list...), NotKnown) }

func words[T ~string](list ...T) []string {
	out := make([]string, len(list), len(list)+1)
	for i, v := range list {
		out[i] = string(v)
	}
	return out
}

// importedRules names the rules that weigh what an imported list says of an
// anchor. None may weigh more than suspect.
func importedRules() []string {
	return []string{
		"imported-spins", "imported-cracked-glue", "imported-cracked-glue-not-bonded",
		"imported-hanger-bent", "imported-loose-nut", "imported-rust", "imported-surface-rust",
		"imported-called-unsafe", "imported-state-not-understood",
	}
}

// weighedRules names the other rules whose severity the house rules set. What
// puts an anchor out of use, what an inspector decided, and what holds an
// anchor back from its first use are not among them.
func weighedRules() []string {
	return []string{
		"imported-anchor-turns", "anchor-turns", "something-spins", "hanger-turns", "loose-nut", "hanger-bent",
		"rust", "surface-rust", "tea-staining", "tea-staining-by-the-sea", "cracked-glue",
		"cracked-glue-not-bonded", "hollow-sound", "cracked-rock", "form-doubted",
		"metal-not-recorded", "set-date-not-recorded", "form-not-recorded", "hole-not-recorded",
		"batch-not-recorded",
		"stress-corrosion-high", "stress-corrosion-medium", "stress-corrosion-expert", "stress-corrosion-expert-high",
		"one-class-short", "two-classes-short", "plan-replacement", "plan-replacement-place-not-known",
		"coating-used-up", "section-lost", "section-lost-far", "service-life-passed",
		"sustained-load", "sustained-load-hang", "hole-too-narrow", "hole-too-wide", "hole-not-nominal",
		"hole-narrower-than-sheet", "hole-wider-than-sheet", "hole-no-annulus",
		"embedded-too-short", "embedded-too-short-mechanical", "embedded-short-of-sheet", "soft-rock",
		"cleaning-short-of-sheet", "cleaning-few", "hole-not-cleaned", "hole-flooded", "moisture-against-sheet",
		"rock-colder-than-sheet", "rock-warmer-than-sheet", "cartridge-temperature",
		"adhesive-expired", "adhesive-perhaps-expired", "edge-near", "neighbour-near",
		"rock-hollow-when-set", "cracks-when-set", "kept-sample-soft", "loaded-before-cure", "loaded-perhaps-before-cure",
		"loaded-without-cure-time", "used-without-cure-time", "embedded-deeper-than-hole",
		"edge-nearer-than-sheet", "neighbour-nearer-than-sheet", "torque-off-sheet", "setting-gaps",
		"worn", "worn-far", "new-size-not-recorded", "fitting-missing", "mixed-metals", "mixed-metals-far-apart",
		"event-outstanding", "notice-outstanding", "notice-hit-sure", "notice-hit-possible",
	}
}

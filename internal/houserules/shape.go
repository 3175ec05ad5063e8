package houserules

import (
	"rockledger/internal/registry"
)

// The environments of the metal table.
const environmentNotKnown = "environment-not-known"

// The rows of the metal table.
const (
	Titanium           = "titanium"
	StainlessHighAlloy = "stainless-high-alloy" // 1.4529, 1.4547, 1.4565
	Stainless          = "stainless"            // every other
	CarbonSteel        = "carbon-steel"         // bare or coated
	Aluminium          = "aluminium"
)

// SinglePoint is the row of the role table for an anchor that nothing backs
// up, whatever its role.
const SinglePoint = "single-point"

// shape returns every path the rules must have, with the check of its leaf.
func shape() map[string]leafCheck {
	want := map[string]leafCheck{
		"version":                  wholePositive,
		"first_inspection_months":  number,
		"shortest_interval_months": number,
		"due_soon_days":            number,
		"first_round_months":       number,
		"verdict_months.watch":     number,
		"verdict_months.repair":    number,
		"bad_state_months":         number,
		"not_located_months":       number,
	}
	for table, rows := range intervalRows() {
		for _, row := range rows {
			want["longest_interval_months."+table+"."+row] = number
		}
	}
	for _, clock := range Clocks() {
		for _, level := range registry.Levels() {
			want["resets."+string(clock)+"."+string(level)] = oneOf(resetNo, resetYes, resetAtLevel)
		}
	}
	for _, rule := range importedRules() {
		want["imported_severities."+rule] = oneOf(
			string(registry.Note), string(registry.Watch), string(registry.Suspect))
	}
	return want
}

// intervalRows returns the rows of each table of intervals.
func intervalRows() map[string][]string {
	return map[string][]string{
		"metal." + environmentNotKnown: {Titanium, StainlessHighAlloy, Stainless, CarbonSteel, Aluminium, NotKnown},
		"form":                         rows(registry.Forms()),
		"rock":                         rows(registry.RockClasses()),
		"rock_sound":                   rows(registry.Sounds()),
		"traffic":                      rows(registry.Traffics()),
		"role":                         append(rows(registry.PositionRoles()), SinglePoint),
		"age":                          append(bandNames(), NotKnown),
	}
}

// rows returns the words of a closed list and the row for not known.
func rows[T ~string](list []T) []string {
	words := make([]string, 0, len(list)+1)
	for _, v := range list {
		words = append(words, string(v))
	}
	return append(words, NotKnown)
}

// importedRules names the rules whose severity the house rules set: what an
// imported list may say of an anchor. None may weigh more than suspect.
func importedRules() []string {
	return []string{
		"imported-spins", "imported-cracked-glue", "imported-cracked-glue-not-bonded",
		"imported-hanger-bent", "imported-loose-nut", "imported-rust", "imported-surface-rust",
	}
}

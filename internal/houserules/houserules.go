// Package houserules holds a group's own numbers: how long an anchor may wait
// for its next inspection, which inspection resets which clock, and how much an
// imported state weighs. The shipped defaults name their source, number by
// number.
//
// It decides nothing about an anchor; schedule, suspicion and assess do.
package houserules

import (
	_ "embed"
	"encoding/json"
	"fmt"

	"rockledger/internal/registry"
)

// Number is one number of the house rules, in the unit that the name of its
// table ends with, and where it comes from.
type Number struct {
	Value  int    `json:"value"`
	Source string `json:"source"`
}

// Word is one choice from a closed list, and where it comes from.
type Word struct {
	Value  string `json:"value"`
	Source string `json:"source"`
}

// Table holds one number per row.
type Table map[string]Number

// Rules are the numbers of one group. They are shared between copies and must
// not be changed: make new ones with Parse. The zero value has no rows; start
// from Default.
type Rules struct {
	// Version is the number under which these rules are kept; a higher one is
	// newer.
	Version   int       `json:"version"`
	Intervals Intervals `json:"longest_interval_months"`

	FirstInspection Number `json:"first_inspection_months"` // after first use
	ShortestGiven   Number `json:"shortest_interval_months"`
	DueSoon         Number `json:"due_soon_days"`
	FirstRound      Number `json:"first_round_months"` // after entry, none planned
	Verdict         Table  `json:"verdict_months"`     // by verdict, no date given
	BadState        Number `json:"bad_state_months"`   // after entry
	NotLocated      Number `json:"not_located_months"`

	// Resets says which level of inspection resets which clock.
	Resets map[string]map[string]Word `json:"resets"`
	// Severities weigh the states that an imported list gives, by rule id.
	Severities map[string]Word `json:"imported_severities"`
}

// Intervals are the longest intervals to the next hands-on inspection, one
// table a factor. The shortest over the factors counts.
type Intervals struct {
	Metal     map[string]Table `json:"metal"` // by environment, then by kind of metal
	Form      Table            `json:"form"`
	Rock      Table            `json:"rock"`
	RockSound Table            `json:"rock_sound"`
	Traffic   Table            `json:"traffic"`
	Role      Table            `json:"role"`
	Age       Table            `json:"age"`
}

// NotKnown is the row for a fact that is not known.
const NotKnown = "not-known"

//go:embed default.json
var defaultJSON []byte

var shipped = mustParse(defaultJSON)

func mustParse(data []byte) Rules {
	r, err := Parse(data)
	if err != nil {
		panic(fmt.Sprintf("default house rules: %v", err))
	}
	return r
}

// Default returns the shipped house rules.
func Default() Rules { return shipped }

// JSON returns the rules in the layout that Parse reads.
func (r Rules) JSON() ([]byte, error) {
	data, err := json.MarshalIndent(r, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("write house rules: %w", err)
	}
	return data, nil
}

// Severity returns how much the imported state behind the named rule weighs,
// blank if the rules do not name it.
func (r Rules) Severity(rule string) registry.Severity {
	return registry.Severity(r.Severities[rule].Value)
}

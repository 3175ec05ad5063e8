// Package houserules holds a group's own numbers: how long an anchor may wait
// for its next inspection, which inspection resets which clock, how much may be
// worn away, and how much a finding weighs. The shipped defaults name their
// source, number by number.
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

	Event   Number `json:"event_days"`     // after it happened
	Fitting Table  `json:"fitting_months"` // one that runs on rope, by traffic
	// Duty says whether the group's anchors are work equipment, DutyMonths how
	// long one may then wait from one full inspection to the next.
	Duty       Word  `json:"duty"`
	DutyMonths Table `json:"duty_months"`

	Wear        Table  `json:"wear_lost_percent"`    // of the new thickness, by severity
	WearFactor  Number `json:"wear_rate_factor"`     // on the rate of one measurement
	Section     Table  `json:"section_lost_percent"` // of the area, by severity
	Coating     Table  `json:"coating_um"`           // reckoned with, by coated grade
	ServiceLife Table  `json:"service_life_years"`

	CaveRock Number `json:"cave_rock_c"` // of the rock in a cave, where nobody read it
	// ColdestRock is the coldest that the rock outdoors is reckoned to become until
	// release, degC, where nobody recorded the night.
	ColdestRock Number `json:"coldest_rock_c"`
	Edge        Number `json:"least_edge_mm"` // from an anchor to an edge
	Spacing     Number `json:"least_spacing_mm"`
	SoftDepth   Number `json:"soft_rock_embedded_mm"` // embedded in soft rock, at least
	// FirstUseBy says who may allow first use, KeptSample whether the kept
	// sample must be stated with it.
	FirstUseBy Word `json:"first_use_by"`
	KeptSample Word `json:"kept_sample"`

	// Resets says which level of inspection resets which clock.
	Resets map[string]map[string]Word `json:"resets"`
	// Severities weigh the states that an imported list gives, by rule id.
	Severities map[string]Word `json:"imported_severities"`
	// Findings weigh all other findings that a group may weigh itself.
	Findings map[string]Word `json:"finding_severities"`
	// SettledBy says which kinds of record settle the findings of a rule, by id.
	SettledBy map[string]Words `json:"settled_by"`

	// Completed names the rows that Parse took from the defaults because the
	// JSON, written before they existed, had none.
	Completed []string `json:"-"`
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
	r, err := parse(data, nil)
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

// Severity returns how much a finding of the named rule weighs, blank if the
// rules do not name it.
func (r *Rules) Severity(rule string) registry.Severity {
	if w, ok := r.Findings[rule]; ok {
		return registry.Severity(w.Value)
	}
	return registry.Severity(r.Severities[rule].Value)
}

// OnDuty returns how many months may pass between full inspections of work
// equipment; false if the group's anchors are none.
func (r *Rules) OnDuty() (Number, bool) {
	n, ok := r.DutyMonths[r.Duty.Value]
	return n, ok
}

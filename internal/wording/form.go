package wording

import (
	"strings"

	"rockledger/internal/registry"
)

// Sentences of the forms.
const (
	InspectionHelp      = "For what you saw at this one anchor. Without a verdict it lifts nothing that was held against the anchor before. What is recorded stays; a mistake is put right by a later record."
	PersonHelp          = "The name as the group knows it. It is added to the list."
	InspectByHelp       = "Only with the verdict watch or repair. Left out, the house rules say when."
	WordsHelp           = "Whatever the boxes cannot say."
	SettlementHelp      = "A settled finding stays on the page but weighs nothing, until a value behind it changes or its day is past."
	SettlementUntilHelp = "The last day on which this holds. Left out, it holds until a value behind the finding changes."
	SettlementReason    = "Why the finding does not count here, and what you base that on."
	EnvironmentFormHelp = "Give what you know and leave out the rest: what is left out counts as not known. Of corrosivity, either the category or the measured yearly means are enough."
	EnvironmentFromHelp = "The day from which this holds. Leave it as it is to correct what was entered. Give a later day if things changed then; what was entered holds until the day before."
	EnvironmentSource   = "For example: measured on a map, a weather station, a survey, an estimate."
	SurfaceMaxHelp      = "In full sun, rock and metal can grow much warmer than the air."
	PresetFilled        = "Filled in from the preset. Correct what is different here, then enter it."
	RecordedInspection  = "The inspection has been recorded. Standing and dates below take it into account."
	RecordedBefore      = "This form had been recorded before, and what was changed in it since was not. Record what is right as a new inspection."
	RecordedSettlement  = "The finding has been settled. Standing and dates below take it into account."
	MaintenanceHelp     = "For work on an anchor that stays. It settles what the house rules say it settles, such as a loose nut; a verdict is only lifted by an inspection."
	MarkingHelp         = "What was done at the rock to keep people off this anchor. It changes nothing in how the anchor stands."
	UnmarkingHelp       = "For a marking that is no longer there. While the anchor is out of use this takes a steward and a named person."
	RemovalHelp         = "From then on the anchor counts as removed. What is not known is left out."
	FittingWorkedOnHelp = "If it was renewed or taken off: the old one. It then ends on that day."
	NewFittingHelp      = "Only where one was renewed or added."
	NewMetalHelp        = "As stamped on it or written on its packet, for example A4 or 1.4404."
	TorqueHelp          = "Only where a nut or bolt was tightened with a tool that shows it."
	StubHelp            = "Left out: not recorded."
	MetalWhereHelp      = "Only where it was kept. It may be wanted to find out why the anchor failed."
	RecordedMaintenance = "The maintenance has been recorded. Standing and dates below take it into account."
	RecordedMarking     = "The marking has been recorded."
	RecordedUnmarking   = "It has been recorded that the marking was taken away."
	RecordedRemoval     = "It has been recorded that the anchor came out."
	RecordedEnvironment = "The environment has been entered. The anchors here are assessed anew."
	Settled             = "(Settled by a person.)"
	FindingGone         = "This finding does not stand any more with these values. Go back to the anchor and look again."
)

// Where an anchor is to be entered at a position that has one.
const (
	Occupied      = "At this position"
	OccupiedHelp  = "An anchor stands here already, and one position takes one anchor. Record first how it came out; then enter the one that took its place."
	RecordCameOut = "Record that it came out"
)

// The adhesive and batch of one anchor, where its session may have another.
const (
	SettingAdhesive = "Adhesive of this anchor"
	SettingBatch    = "Batch of this anchor"
	AsItsSession    = "None of its own: its session's, if it has one"
)

// LevelMeaning names a level of inspection and says what it takes.
func LevelMeaning(l registry.Level) string {
	switch l {
	case registry.Glance:
		return "A glance: from the ground or in passing"
	case registry.HandsOn:
		return "Hands-on: touched, turned, tapped"
	case registry.Full:
		return "In full: fittings off, torque or pull where its sheet allows"
	}
	return Label(l)
}

// ruleNames name what house rules are about, where the words of their names do
// not say it well.
var ruleNames = map[string]string{
	"first_inspection_months":  "First inspection, after first use",
	"shortest_interval_months": "Shortest interval that may be given",
	"due_soon_days":            "Due soon, before the date",
	"first_round_months":       "End of the first round, after entry",
	"verdict_months":           "After a verdict without a date",
	"bad_state_months":         "After entry in a bad state",
	"not_located_months":       "Looked for again, when not located",
	"resets":                   "Which inspection resets what",
	"settled_by":               "Which record settles which finding",
	"imported_severities":      "Weight of what a list says",
	"cave_rock_c":              "Rock in a cave where nobody read it, °C",
	"coldest_rock_c":           "Coldest rock outdoors reckoned with where nobody recorded the night, °C",
	"least_edge_mm":            "Least distance to an edge",
	"least_spacing_mm":         "Least distance to another anchor or an old hole",
	"soft_rock_embedded_mm":    "Least embedded length in soft rock",
	"first_use_by":             "Who may allow first use",
	"sample_found":             "What the kept sample is",
	"kept_sample":              "The kept sample, when first use is allowed",
	"verdict":                  "A verdict's date",
	"seen":                     "What was seen",
}

// unitWords are the units that the names of house rules end with.
var unitWords = []string{"_months", "_days", "_years", "_pct", "_percent", "_mm", "_km", "_kn", "_um"}

// RuleName names a table or a number of the house rules, without its unit.
func RuleName(name string) string {
	if text, ok := ruleNames[name]; ok {
		return text
	}
	for _, unit := range unitWords {
		name = strings.TrimSuffix(name, unit)
	}
	if _, known := rulesInWords[name]; known || strings.HasPrefix(name, "imported-") {
		return Rule(name)
	}
	return corrosivity.Replace(Label(strings.ReplaceAll(name, "_", "-")))
}

// corrosivity writes the categories in the names of house rules as ISO 9223
// does.
var corrosivity = strings.NewReplacer(" c1 c2", ", C1 or C2", " c3", ", C3", " c4", ", C4", " c5 cx", ", C5 or CX")

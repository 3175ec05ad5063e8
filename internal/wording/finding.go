package wording

import (
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// findings are the sentences of the rules. {seen} is when and how closely it
// was seen, {list} when the list says it was checked; {observation} and {form}
// are labels. See fill.
var findings = map[string]string{
	"imported-spins":                   "The list it came from says that it spins{list}; whether the anchor or its hanger turns is not said.",
	"imported-anchor-turns":            "The list it came from says that the anchor itself turns{list}.",
	"imported-cracked-glue":            "The list it came from says that its glue is cracked{list}.",
	"imported-cracked-glue-not-bonded": "The list it came from says that its glue is cracked{list}, though it is not recorded as bonded.",
	"imported-hanger-bent":             "The list it came from says that its hanger is bent{list}.",
	"imported-loose-nut":               "The list it came from says that its nut is loose{list}.",
	"imported-rust":                    "The list it came from says that it is rusty{list}.",
	"imported-surface-rust":            "The list it came from mentions surface rust{list}.",

	"bond-lost":               "It turns, {seen}: a bonded anchor that turns has lost its bond.",
	"anchor-turns":            "The anchor itself turns, {seen}.",
	"something-spins":         "Something spins, {seen}; whether the anchor or its hanger is not said.",
	"hanger-turns":            "The hanger turns, {seen}.",
	"loose-nut":               "The nut is loose, {seen}.",
	"hanger-bent":             "The hanger is bent, {seen}.",
	"rust":                    "Rust, {seen}.",
	"surface-rust":            "Surface rust, {seen}.",
	"tea-staining":            "Tea staining, {seen}.",
	"tea-staining-by-the-sea": "Tea staining by the sea, {seen}: corrosion has begun, and chlorides are at work.",
	"cracked-glue":            "The glue is cracked, {seen}.",
	"cracked-glue-not-bonded": "The glue is cracked, {seen}, though the anchor is not recorded as bonded.",
	"hollow-sound":            "The rock around it sounds hollow, {seen}.",
	"cracked-rock":            "The rock around it is cracked, {seen}.",
	"cracked-metal":           "The metal is cracked, {seen}.",
	"form-doubted":            "“{observation}” does not fit the form on record ({form}): one of the two may be wrong.",

	"verdict-take-out-of-use": "An inspector took it out of use, {seen}.",
	"verdict-repair":          "An inspector's verdict is that it needs repair, {seen}.",
	"verdict-watch":           "An inspector's verdict is to watch it, {seen}.",
	"not-located":             "It was looked for and not found, {seen}.",

	"first-use-not-allowed": "It is bonded, and nobody has allowed first use since it was set. Time alone never does.",
	"metal-not-recorded":    "Its metal is not recorded; dates count it as carbon steel.",
	"set-date-not-recorded": "When it was set is not recorded; dates count it among the oldest.",
	"form-not-recorded":     "Its form is not recorded.",
	"hole-not-recorded":     "The diameter of its hole is not recorded.",
	"batch-not-recorded":    "The batch of its adhesive is not recorded, so that a recall could not rule it out.",
}

// settles say what would settle a finding.
var settles = map[string]string{
	"hands-on-inspection":  "A hands-on inspection recorded here that does not find it again settles this.",
	"inspection-not-lower": "A later inspection, hands-on or closer and no less close than the one that found it, settles this if it does not find it again.",
	"replacement":          "No inspection settles this; only taking it out or replacing it does.",
	"form-confirmed":       "Check the form at the rock and correct whichever is wrong.",
	"other-verdict":        "Only a later inspection, hands-on or closer and no less close, with another verdict settles this.",
	"seen-again":           "Any later inspection that finds it settles this.",
	"first-use":            "A named person who allows first use settles this.",
	"record-it":            "Record it if you know it, or find it out at the rock.",
	"measure-it":           "Measure it when the hole can be seen, or record it if you know it.",
}

// Finding says what is held against an anchor.
func Finding(f registry.Finding) string {
	text, ok := findings[f.Rule]
	if !ok {
		return capital(strings.ReplaceAll(f.Rule, "-", " ")) + "."
	}
	return fill(text, f.Values)
}

// Settles says what would settle a finding.
func Settles(f registry.Finding) string {
	text, ok := settles[f.Settles]
	if !ok {
		return "Ask a steward of your group what would settle this."
	}
	return text
}

// fill puts the values into a sentence.
func fill(text string, v registry.Values) string {
	if !strings.Contains(text, "{") {
		return text
	}
	seen := span(v, "seen")
	list := ""
	if seen.Known() {
		list = " (checked " + On(seen) + ")"
	}
	return strings.NewReplacer(
		"{seen}", seenHow(seen, registry.Level(v.Text("seen_level"))),
		"{list}", list,
		"{observation}", Label(registry.Observation(v.Text("observation"))),
		"{form}", strings.ToLower(Label(registry.Form(v.Text("form")))),
	).Replace(text)
}

// seenHow says "seen hands-on on 2 May 2025".
func seenHow(on calendar.Span, l registry.Level) string {
	how := Level(l)
	if l == registry.Glance {
		how = "at " + how
	}
	return "seen " + how + " " + On(on)
}

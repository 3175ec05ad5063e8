package wording

import (
	"strconv"
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// findings are the sentences of the rules. {seen} is when and how closely it
// was seen, {list} when the list says it was checked, {measured} when it was
// measured, {salts} what brings chlorides, {place} those and what else favours
// cracking there; other names are those of
// values, dates without their "_on". See part.
var findings = map[string]string{
	"imported-spins":                   "The list it came from says that it spins{list}; whether the anchor or its hanger turns is not said.",
	"imported-anchor-turns":            "The list it came from says that the anchor itself turns{list}.",
	"imported-cracked-glue":            "The list it came from says that its glue is cracked{list}.",
	"imported-cracked-glue-not-bonded": "The list it came from says that its glue is cracked{list}, though it is not recorded as bonded.",
	"imported-hanger-bent":             "The list it came from says that its hanger is bent{list}.",
	"imported-loose-nut":               "The list it came from says that its nut is loose{list}.",
	"imported-rust":                    "The list it came from says that it is rusty{list}.",
	"imported-surface-rust":            "The list it came from mentions surface rust{list}.",
	"imported-called-unsafe":           "The list it came from calls it unsafe{list}, in its own words.",
	"imported-state-not-understood":    "The list it came from says something of its state{list} that was not understood; its words are kept.",

	"bond-lost":               "It turns, {seen}: a bonded anchor that turns has lost its bond.",
	"bond-perhaps-lost":       "It turns, {seen}, and how it holds is not recorded: if it is bonded, it has lost its bond.",
	"anchor-turns":            "The anchor itself turns, {seen}.",
	"something-spins":         "Something spins, {seen}; whether the anchor or its hanger is not said.",
	"hanger-turns":            "The hanger turns, {seen}.",
	"loose-nut":               "The nut is loose, {seen}.",
	"hanger-bent":             "The hanger is bent, {seen}.",
	"rust":                    "Rust, {seen}.",
	"surface-rust":            "Surface rust, {seen}.",
	"tea-staining":            "Tea staining, {seen}.",
	"tea-staining-by-the-sea": "Tea staining, {seen}: corrosion has begun, and chlorides are at work ({salts}).",
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

	"first-use-not-allowed": "It is bonded, or how it holds is not recorded, and nobody has allowed first use since it was set. Time alone never does.",
	"metal-not-recorded":    "Its metal is not recorded; dates count it as carbon steel.",
	"set-date-not-recorded": "When it was set is not recorded; dates count it among the oldest.",
	"form-not-recorded":     "Its form is not recorded.",
	"hole-not-recorded":     "The diameter of its hole is not recorded.",
	"batch-not-recorded":    "The batch of its adhesive is not recorded, so that a recall could not rule it out.",

	"stress-corrosion-high":            "High risk of stress-corrosion cracking: {place}. No inspection can rule cracks out in {stainless}.",
	"stress-corrosion-medium":          "Some risk of stress-corrosion cracking: {place}. No inspection can rule cracks out in {stainless}.",
	"stress-corrosion-expert":          "Some risk of stress-corrosion cracking: {place}. Of {stainless} tests do not agree, or none are known: an expert must say.",
	"stress-corrosion-expert-high":     "High risk of stress-corrosion cracking: {place}. Of {stainless} tests do not agree, or none are known: an expert must say.",
	"one-class-short":                  "Its place asks for stainless steel of corrosion resistance class {required_class}; what it is or may be ({stainless}) is one class short.",
	"two-classes-short":                "Its place asks for stainless steel of corrosion resistance class {required_class}; what it is or may be ({stainless}) is two or more classes short: plan its replacement.",
	"plan-replacement":                 "It is or may be {wasting}, which wastes away outdoors and underground: plan its replacement.",
	"plan-replacement-place-not-known": "It is or may be {wasting}, which wastes away outdoors and underground: plan its replacement. How fast that goes here is not known.",
	"coating-used-up":                  "At the fastest rate of its place ({atmosphere}) its zinc was used up by {coating_gone}; in the hole it is taken to be gone from the first day.",
	"section-lost":                     "At the fastest rate of its place ({atmosphere}) the exposed part of its shank of {shank_diameter_mm} mm lost enough by {section_watch} to be watched. What is in the hole cannot be judged so.",
	"section-lost-far":                 "At the fastest rate of its place ({atmosphere}) the exposed part of its shank of {shank_diameter_mm} mm lost so much by {section_suspect} that it is suspect. What is in the hole cannot be judged so.",
	"service-life-passed":              "The service life that the house rules expect of it ended on {service_ends}.",
	"sustained-load":                   "It is bonded, as far as is known, and sits in a roof: load that stays on it can make the resin creep.",
	"sustained-load-hang":              "It is bonded, as far as is known, sits in a roof and is a {role}: load that stays on it can make the resin creep.",
	"hole-too-narrow":                  "Its hole ({hole_diameter_mm} mm) is less than 2 mm wider than its shank ({shank_diameter_mm} mm): there is little room for resin.",
	"hole-too-wide":                    "Its hole ({hole_diameter_mm} mm) is more than 4 mm wider than its shank ({shank_diameter_mm} mm).",
	"hole-not-nominal":                 "Its hole ({hole_diameter_mm} mm) is not as wide as the bolt is thick ({shank_diameter_mm} mm), as it should be for a {form}.",

	"hole-narrower-than-sheet":      "Its hole ({hole_diameter_mm} mm) is narrower than the product's sheet asks for ({maker_hole_mm} mm).",
	"hole-wider-than-sheet":         "Its hole ({hole_diameter_mm} mm) is wider than the product's sheet asks for ({maker_hole_mm} mm).",
	"hole-no-annulus":               "Its hole ({hole_diameter_mm} mm) is no wider than its shank ({shank_diameter_mm} mm): resin has no room around it, and tests found such bonds weak and scattered.",
	"embedded-deeper-than-hole":     "{embedded_length_mm} mm of it are said to sit in a hole that is {hole_depth_mm} mm deep: no more than the depth of the hole counts.",
	"embedded-too-short":            "At most {embedded_at_most_mm} mm of it sit in the rock; a glue-in anchor by EN 959 has at least 70 mm.",
	"embedded-too-short-mechanical": "At most {embedded_at_most_mm} mm of it sit in the rock, in a hole of {hole_diameter_mm} mm; a mechanical anchor by EN 959 has at least five times the diameter of its hole.",
	"embedded-short-of-sheet":       "At most {embedded_at_most_mm} mm of it sit in the rock; the product's sheet asks for {maker_embedded_mm} mm.",
	"soft-rock":                     "The rock is soft, where a longer anchor can be needed; {embedded} sits in it, and the house rules ask for {soft_rock_embedded_mm} mm.",
	"cleaning-short-of-sheet":       "Its hole was blown and brushed {cycles}; the product's sheet asks for {sheet_cycles}.",
	"cleaning-few":                  "Its hole was blown and brushed {cycles}; at least four times is usual, and what its sheet asks for is not recorded.",
	"hole-not-cleaned":              "Its hole was not cleaned: dust keeps resin from bonding.",
	"hole-flooded":                  "Its hole was {moisture} when it was glued, and no sheet on record allows that.",
	"moisture-against-sheet":        "Its hole was {moisture} when it was glued, which is not among what the product's sheet allows.",
	"rock-colder-than-sheet":        "The rock was as cold as {lowest_c} °C before release; the product's sheet begins at {sheet_rock_low_c} °C, and below that it may not cure.",
	"rock-warmer-than-sheet":        "The rock had {rock_c} °C at the setting; the product's sheet ends at {sheet_rock_high_c} °C.",
	"cartridge-temperature":         "The cartridge had {cartridge_c} °C, outside what the product's sheet allows ({cartridge_range}).",
	"adhesive-expired":              "Its adhesive had expired on {expires}, before it was set {installed}.",
	"adhesive-perhaps-expired":      "Its adhesive expired on {expires}; it was set {installed}, perhaps after that.",
	"edge-near":                     "It sits {edge_distance_mm} mm from an edge; the house rules ask for {least_edge_mm} mm.",
	"neighbour-near":                "{near}; the house rules ask for {least_spacing_mm} mm.",
	"edge-nearer-than-sheet":        "It sits {edge_distance_mm} mm from an edge; the product's sheet asks for {sheet_edge_mm} mm.",
	"neighbour-nearer-than-sheet":   "{near}; the product's sheet asks for {sheet_spacing_mm} mm.",
	"torque-off-sheet":              "It was tightened with {torque_nm} N m; the product's sheet asks for {sheet_torque_nm} N m, and this is more than a fifth off.",
	"rock-hollow-when-set":          "The rock sounded hollow, cracked or loose when it was set.",
	"cracks-when-set":               "Cracks were seen in the rock when it was set.",
	"kept-sample-soft":              "The kept sample of its gluing session was found soft on {found}: what is in the hole may not have hardened either.",
	"loaded-before-cure":            "It was loaded, or use was allowed, {loaded}; by what is on record it had cured no sooner than {cured}. That does not pass with time.",
	"loaded-perhaps-before-cure":    "Use was allowed, perhaps as early as {perhaps}; by what is on record it had cured no sooner than {cured}. At what time of the day it was is not recorded.",
	"loaded-without-cure-time":      "It was loaded {load}, and by what is on record no cure time can be given: nothing says that it had cured. That does not pass with time.",
	"used-without-cure-time":        "Its first use was allowed, and by what is on record no cure time can be given: nothing says that it had cured.",
	"setting-gaps":                  "Not recorded of its setting: {gaps}.",

	"worn":                   "The {point} is worn: {left_mm} mm of {new_mm} mm were left, measured {measured}.",
	"worn-far":               "The {point} is worn far: {left_mm} mm of {new_mm} mm were left, measured {measured}.",
	"worn-out":               "The {point} is worn out: {left_mm} mm of {new_mm} mm were left, measured {measured}.",
	"new-size-not-recorded":  "The {point} was measured {measured} ({left_mm} mm), but how thick it was when new is not recorded, so that its wear cannot be judged.",
	"fitting-missing":        "Its {fitting} is missing.",
	"mixed-metals":           "Its {fitting} ({fitting_metal}) touches another metal.",
	"mixed-metals-far-apart": "Its {fitting} ({fitting_metal}) touches a metal so different that one of the two eats the other.",
	"event-outstanding":      "{event} at the site on {happened}: nobody has inspected it hands-on since.",
	"notice-hit-sure":        "The notice “{title}” of {issued} is about it, by what is on record, and nobody has inspected it hands-on since.",
	"notice-hit-possible":    "The notice “{title}” of {issued} may be about it: nothing on record rules that out. Nobody has inspected it hands-on since.",
	"notice-outstanding":     "The notice “{title}” of {issued} names it, and nobody has inspected it hands-on since.",
}

// settles say what would settle a finding, a settlement among it where one is
// accepted.
var settles = map[string]string{
	"hands-on-inspection": "A hands-on inspection recorded here that gives a verdict and does not find it again settles this" + orAPerson,
	"inspection-not-lower": "A later inspection, hands-on or closer and no less close than the one that found it, settles this if it " +
		"gives a verdict and does not find it again" + orAPerson,
	"replacement": "No inspection settles this; only taking it out or replacing it does" + orAPerson,
	"replacement-or-person": "No later inspection settles this, whatever its verdict and whatever form is recorded; taking it out or " +
		"replacing it does" + orAPerson,
	"form-or-replacement": "No inspection settles this: find out how it holds and record its form, or take it out or replace it" + orAPerson,
	"form-confirmed":      "Check the form at the rock and correct whichever is wrong" + orAPerson,
	"other-verdict": "A later inspection, hands-on or closer and no less close than the one that gave it, with another verdict settles " +
		"this" + orAPerson,
	"seen-again": "Any later inspection that finds it settles this, and nothing else.",
	"first-use":  "A named person who allows first use settles this, and nothing else.",
	"record-it":  "Record it if you know it, or find it out at the rock" + orAPerson,
	"measure-it": "Measure it when the hole can be seen, or record it if you know it" + orAPerson,

	"set-anew":                  "No inspection and no passing of time settles this: set it anew as it should be or, if the record is wrong, correct it" + orAPerson,
	"settlement-or-replacement": "No inspection settles this: replace it by what suits the place" + orAPerson,
	"check-the-size":            "Check both sizes and correct whichever is wrong" + orAPerson,
	"measure-again": "Replacing the part settles this; a later measurement that shows less wear does not, for metal does not grow back. If " +
		"this one was wrong, take it back" + orAPerson,
	"part-replaced": "Replace the worn part: a later measurement that shows less wear does not settle this. If this one was wrong, take it " +
		"back" + orAPerson,
	"fitting-back":     "Hang another one and record it, or record that it is left off on purpose" + orAPerson,
	"inspection-after": "An inspection done later, hands-on or closer, settles this" + orAPerson,
}

// orAPerson ends what a settlement answers too.
const orAPerson = "; or a named person settles it with a reason."

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
	word, beside, _ := strings.Cut(f.Settles, "+")
	text, ok := settles[word]
	if !ok {
		return "Ask a steward of your group what would settle this."
	}
	return text + settledBeside(beside)
}

// settledBeside says what the house rules have settle a finding beside the
// usual, words with a "+" between them.
func settledBeside(words string) string {
	var text string
	var work []string
	for word := range strings.SplitSeq(words, "+") {
		switch word {
		case "":
		case "full":
			text += " Your house rules ask for an inspection in full."
		case "no-inspection":
			text += " By your house rules no inspection does."
		default:
			work = append(work, strings.ToLower(Label(registry.Upkeep(word))))
		}
	}
	if len(work) > 0 {
		text += " So does maintenance recorded for the day it was seen or a later one: " + strings.Join(work, ", ") + "."
	}
	return text
}

// fill puts the values into a sentence.
func fill(text string, v registry.Values) string {
	var out strings.Builder
	for {
		before, rest, found := strings.Cut(text, "{")
		out.WriteString(before)
		if !found {
			return capital(out.String())
		}
		name, after, _ := strings.Cut(rest, "}")
		out.WriteString(part(name, v))
		text = after
	}
}

// part says what stands for a name in a sentence.
func part(name string, v registry.Values) string {
	seen := span(v, "seen")
	switch name {
	case "seen":
		return seenHow(seen, registry.Level(v.Text("seen_level")))
	case "list":
		if !seen.Known() {
			return ""
		}
		return " (checked " + On(seen) + ")"
	case "measured":
		return On(seen)
	case "observation", "event":
		return Label(v.Text(name))
	case "form", "role", "fitting":
		return lowerLabel(v.Text(name))
	case "point":
		return point(v)
	case "fitting_metal":
		return metalOf(v.Text(name), func(metal.Entry) bool { return true })
	case "stainless":
		return metalOf(v.Text("metal"), metal.Entry.Stainless)
	case "wasting":
		return metalOf(v.Text("metal"), func(e metal.Entry) bool {
			return e.Family == metal.CarbonSteel || e.Family == metal.AluminiumFamily
		})
	case "place":
		return strings.Join(append(chlorides(v), weather(v)...), ", ")
	case "salts":
		return strings.Join(chlorides(v), ", ")
	case "atmosphere":
		return Category(registry.Category(v.Text(name)))
	case "coating_gone", "section_watch", "section_suspect", "service_ends", "happened", "issued":
		return dayWords(v.Text(name + "_on"))
	}
	if text, ok := settingPart(name, v); ok {
		return text
	}
	if text := v.Text(name); text != "" {
		return text
	}
	return notKnown
}

func lowerLabel(word string) string { return strings.ToLower(Label(word)) }

// point names what was measured.
func point(v registry.Values) string {
	if v.Text("point") == "eye" {
		return "anchor's eye"
	}
	return lowerLabel(v.Text("point"))
}

// metalOf names a metal from those of the grades it can be that matter.
func metalOf(grades string, matters func(metal.Entry) bool) string {
	var set metal.Set
	for _, g := range metal.SetFromStrings(strings.Fields(grades)) {
		if e, ok := metal.Lookup(g); ok && matters(e) {
			set = append(set, g)
		}
	}
	if !set.Known() {
		return "a metal that is " + notKnown
	}
	return Metal(set, "")
}

func dayWords(text string) string {
	d, err := calendar.ParseDate(text)
	if err != nil {
		return "a day " + notKnown
	}
	return d.Words()
}

// kmAway says how far something is, given in kilometres.
func kmAway(what, km string) string {
	if d, err := strconv.ParseFloat(km, 64); err == nil && d == 0 {
		return what + " is right there"
	}
	return what + " is " + km + " km away"
}

// chlorides says what brings chlorides to a place.
func chlorides(v registry.Values) []string {
	var said []string
	say := func(ok bool, text string) {
		if ok {
			said = append(said, text)
		}
	}
	sea, road, salt := v.Text("sea_km"), v.Text("road_km"), v.Text("chloride_mg_per_m2_day")
	say(v.Text("site_kind") == string(registry.SeaCliff), "it sits on a sea cliff")
	say(sea != "", kmAway("the sea", sea))
	say(road != "", kmAway("a salted road", road))
	say(v.Text("mineral_salts") == "true", "mineral salts reach it")
	say(salt != "", salt+" mg of chloride settle on a square metre a day")
	return said
}

// weather says whether rain washes a place, and how hot it gets.
func weather(v registry.Values) []string {
	washed := "whether rain washes it is " + notKnown
	switch v.Text("washed") {
	case "true":
		washed = "rain washes it"
	case "false":
		washed = "rain does not wash it"
	}
	if hot := v.Text("surface_max_c"); hot != "" {
		return []string{washed, "its surface reaches " + hot + " °C"}
	}
	return []string{washed, "how hot it gets is " + notKnown}
}

// seenHow says "seen hands-on on 2 May 2025".
func seenHow(on calendar.Span, l registry.Level) string {
	how := Level(l)
	if l == registry.Glance {
		how = "at " + how
	}
	return "seen " + how + " " + On(on)
}

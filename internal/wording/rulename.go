package wording

import "strings"

// rulesInWords name the kinds of finding whose id does not say what they are.
// None has a comma: they stand in lists.
var rulesInWords = map[string]string{
	"bond-perhaps-lost":                "bond perhaps lost",
	"something-spins":                  "something spins and it is not said what",
	"tea-staining":                     "brown stains on stainless steel",
	"tea-staining-by-the-sea":          "brown stains on stainless steel by the sea",
	"cracked-glue-not-bonded":          "cracked glue at an anchor that is not glued in",
	"form-doubted":                     "what was seen does not fit its form on record",
	"verdict-take-out-of-use":          "an inspector took it out of use",
	"verdict-repair":                   "an inspector asks for repair",
	"verdict-watch":                    "an inspector asks to watch it",
	"first-use-not-allowed":            "nobody has allowed its first use",
	"batch-not-recorded":               "batch of the adhesive not recorded",
	"hole-not-recorded":                "width of the hole not recorded",
	"stress-corrosion-high":            "high risk of stress-corrosion cracking",
	"stress-corrosion-medium":          "some risk of stress-corrosion cracking",
	"stress-corrosion-expert":          "some risk of stress-corrosion cracking that an expert must judge",
	"stress-corrosion-expert-high":     "high risk of stress-corrosion cracking that an expert must judge",
	"one-class-short":                  "steel resists corrosion one class less than its place asks for",
	"two-classes-short":                "steel resists corrosion two or more classes less than its place asks for",
	"plan-replacement":                 "metal that wastes away: plan its replacement",
	"plan-replacement-place-not-known": "metal that wastes away in an environment not known: plan its replacement",
	"coating-used-up":                  "zinc used up",
	"section-lost":                     "part of its section lost to corrosion",
	"section-lost-far":                 "much of its section lost to corrosion",
	"service-life-passed":              "older than the house rules keep one in service",
	"sustained-load":                   "may hang under load all the time",
	"sustained-load-hang":              "hangs under load all the time",
	"worn-far":                         "worn far",
	"new-size-not-recorded":            "wear measured but its size when new not recorded",
	"mixed-metals":                     "metals that touch and do not go together",
	"mixed-metals-far-apart":           "metals that touch and go together badly",
	"event-outstanding":                "not inspected since what befell its site",
	"notice-outstanding":               "named in a notice",
	"notice-hit-sure":                  "hit by a notice for sure",
	"notice-hit-possible":              "possibly hit by a notice",
	"hole-not-nominal":                 "hole not of the bolt's own diameter",
	"hole-narrower-than-sheet":         "hole narrower than the sheet asks for",
	"hole-wider-than-sheet":            "hole wider than the sheet asks for",
	"hole-no-annulus":                  "hole leaves no room for glue",
	"embedded-deeper-than-hole":        "recorded as embedded deeper than its hole",
	"embedded-too-short":               "embedded too short",
	"embedded-too-short-mechanical":    "embedded too short for a mechanical anchor",
	"embedded-short-of-sheet":          "embedded shorter than its sheet asks for",
	"cleaning-short-of-sheet":          "hole cleaned less often than the sheet asks for",
	"cleaning-few":                     "hole cleaned few times",
	"moisture-against-sheet":           "hole wetter than the sheet allows",
	"rock-colder-than-sheet":           "rock colder than the sheet allows",
	"rock-warmer-than-sheet":           "rock warmer than the sheet allows",
	"cartridge-temperature":            "cartridge colder or warmer than the sheet allows",
	"adhesive-expired":                 "adhesive expired when it was set",
	"adhesive-perhaps-expired":         "adhesive perhaps expired when it was set",
	"edge-near":                        "near an edge",
	"edge-nearer-than-sheet":           "nearer to an edge than its sheet allows",
	"neighbour-near":                   "near another anchor or an old hole",
	"neighbour-nearer-than-sheet":      "nearer to another anchor or an old hole than its sheet allows",
	"torque-off-sheet":                 "torque other than its sheet asks for",
	"rock-hollow-when-set":             "rock sounded hollow when it was set",
	"cracks-when-set":                  "cracks in the rock when it was set",
	"loaded-before-cure":               "loaded before it had cured",
	"loaded-perhaps-before-cure":       "perhaps loaded before it had cured",
	"loaded-without-cure-time":         "loaded and no cure time can be given",
	"used-without-cure-time":           "in use and no cure time can be given",
	"kept-sample-soft":                 "kept sample stayed soft",
	"setting-gaps":                     "something of its setting not recorded",
	"state-not-understood":             "state not understood",
	"called-unsafe":                    "called unsafe",
}

// Rule names a kind of finding, for where it stands for several anchors and so
// without its values.
func Rule(id string) string {
	name, listed := strings.CutPrefix(id, "imported-")
	text := strings.ReplaceAll(name, "-", " ")
	if words, ok := rulesInWords[name]; ok {
		text = words
	}
	if listed {
		text += ", by the list it came from"
	}
	return capital(text)
}

package wording

import "strings"

// rowsByFactor say what the rows of the interval tables are about, as the
// subject of "is looked at every 12 months".
var rowsByFactor = map[string]map[string]string{
	"metal": {
		"titanium":             "titanium whose environment is not known",
		"stainless-high-alloy": "high-alloy stainless steel (1.4529, 1.4547 or 1.4565) whose environment is not known",
		"stainless":            "stainless steel whose environment is not known",
		"carbon-steel":         "carbon steel, coated or bare, whose environment is not known",
		"aluminium":            "aluminium whose environment is not known",
		"not-known":            "an anchor of a metal that is not known",
	},
	"metal required-class": {
		"above-class":               "a metal above the corrosion resistance class that its place asks for",
		"of-class":                  "stainless steel of the corrosion resistance class that its place asks for",
		"one-class-short":           "stainless steel one class short of what its place asks for",
		"two-or-more-classes-short": "stainless steel two or more classes short of what its place asks for",
	},
	"metal cracking": {
		"medium": "stainless steel at some risk of stress-corrosion cracking",
		"high":   "stainless steel at high risk of stress-corrosion cracking",
	},
	"metal atmosphere": {
		"coated-c1-c2": "zinc-coated carbon steel in corrosivity C1 or C2",
		"coated-c3":    "zinc-coated carbon steel in corrosivity C3",
		"coated-c4":    "zinc-coated carbon steel in corrosivity C4",
		"coated-c5-cx": "zinc-coated carbon steel in corrosivity C5 or CX",
		"bare":         "bare carbon steel",
		"aluminium":    "aluminium",
	},
	"metal cave-dry":      inCave("in a dry cave"),
	"metal cave-dripping": inCave("in a cave that drips, or of which no more is known"),
	"form": {
		"glue-in-single-shank": "a glue-in with a single shank",
		"twisted-leg":          "a twisted-leg glue-in",
		"staple":               "a glued staple",
		"glue-in":              "a glue-in of a shape that is not known",
		"bonded-stud":          "a bonded stud",
		"through-bolt":         "a through bolt",
		"wedge-anchor":         "a wedge anchor",
		"sleeve-anchor":        "a sleeve anchor",
		"expansion-bolt":       "an expansion bolt",
		"concrete-screw":       "a concrete screw",
		"self-drill-sleeve":    "a self-drill sleeve",
		"drive-in":             "a drive-in",
		"piton":                "a piton",
		"not-known":            "an anchor whose form is not known",
	},
	"rock": {
		"hard":      "an anchor in hard rock",
		"other":     "an anchor in rock neither hard nor soft",
		"soft":      "an anchor in soft rock",
		"not-known": "an anchor in rock whose hardness is not known",
	},
	"rock-sound": {
		"ringing":   "an anchor in rock that rings",
		"dull":      "an anchor in rock that sounds dull",
		"hollow":    "an anchor in rock that sounds hollow, cracked or loose",
		"not-known": "an anchor in rock whose sound is not known",
	},
	"traffic": {
		"seldom":        "an anchor on a route that is seldom used",
		"ordinary":      "an anchor on a route in ordinary use",
		"most-weekends": "an anchor on a route used most weekends",
		"not-known":     "an anchor on a route whose traffic is not known",
	},
	"role": {
		"runner":       "a runner",
		"handline":     "a handline anchor",
		"traverse":     "a traverse anchor",
		"rebelay":      "a rebelay",
		"deviation":    "a deviation",
		"y-hang-leg":   "a leg of a Y-hang",
		"belay":        "a belay anchor",
		"main-hang":    "a main hang",
		"lower-off":    "a lower-off",
		"backup":       "a backup",
		"aid":          "an aid anchor",
		"single-point": "a single point with no back-up",
		"not-known":    "an anchor whose role is not known",
	},
	"age": {
		"under-20-years":   "an anchor under 20 years old",
		"20-to-30-years":   "an anchor 20 to 30 years old",
		"30-to-50-years":   "an anchor 30 to 50 years old",
		"50-years-or-more": "an anchor 50 years old or more",
		"not-known":        "an anchor whose age is not known",
	},
}

// inCave names the rows of a table of caves.
func inCave(where string) map[string]string {
	where += " (caves lie outside the model of ISO 9223)"
	return map[string]string{
		"titanium":          "titanium " + where,
		"stainless-lasting": "stainless steel from 1.4404 upward " + where,
		"stainless-lower":   "stainless steel below 1.4404 " + where,
		"coated":            "zinc-coated carbon steel " + where,
		"bare":              "bare carbon steel " + where,
		"aluminium":         "aluminium " + where,
	}
}

// row says what a row of a table of intervals is about; the environment is that
// of a metal's row, blank for another factor.
func row(factor, environment, name string) string {
	table := factor
	if environment != "" && environment != "environment-not-known" {
		table += " " + environment
	}
	if text, ok := rowsByFactor[table][name]; ok {
		return text
	}
	return "an anchor with " + strings.ReplaceAll(factor+" "+name, "-", " ")
}

package wording

import (
	"fmt"
	"slices"
	"strings"

	"rockledger/internal/metal"
)

// labels name the values of closed lists that do not read well with their
// dashes taken out.
var labels = map[string]string{
	"glue-in-single-shank": "Glue-in, single shank",
	"twisted-leg":          "Glue-in, twisted leg",
	"staple":               "Glue-in, staple",
	"glue-in":              "Glue-in, shape not known",
	"expansion-bolt":       "Expansion bolt, kind not known",
	"self-drill-sleeve":    "Self-drill sleeve",
	"drive-in":             "Drive-in",
	"y-hang-leg":           "Leg of a Y-hang",
	"lower-off":            "Lower-off",
	"lower-off-hook":       "Lower-off hook",
	"hands-on":             "Hands-on",
	"full":                 "In full",
	"spins":                "Something spins",
	"called-unsafe":        "Called unsafe by a list",
	"unclear-words":        "Words of a list, not understood",
	"hollow":               "Hollow, cracked or loose",
	"left-off":             "Left off on purpose",
	"running-in":           "Water running in",
	"water-filled":         "Full of water",
	"none-kept":            "None kept",
	"bring-your-own":       "Bring your own",
	"out-of-use":           "Out of use",
	"no-problem-on-record": "No problem on record",
	"awaiting-first-round": "Awaiting the first round",
	"rock-sound":           "Sound of the rock",
	"age":                  "Age since set",

	"tightened":     "Nut or bolt tightened",
	"fitting-taken": "Fitting taken off on purpose",
	"rock-cleared":  "Loose rock, plants or drip cleared",
	"cored-out":     "Cored out",
	"cut-off":       "Cut off",
	"used-again":    "Used again",
	"left-open":     "Left open",
	"stub-left":     "What is left of the anchor sits in it",
	"tape":          "Tape on it",
	"tag":           "Tag on it",
	"hanger-taken":  "Hanger taken off",
	"eye-blocked":   "Eye blocked",
	"sign":          "Sign put up",
	"replacement":   "Taking it out or replacing it",
	"settlement":    "A named person's answer",
	"expert":        "An expert's answer",
	"record":        "Recording what is missing or wrong",

	"baltic-or-german-north-sea": "Baltic, or German North Sea",
	"rope-access":                "Rope access",
}

// Label names a value of a closed list, "not known" for a blank one.
func Label[T ~string](v T) string {
	if v == "" {
		return notKnown
	}
	if text, ok := labels[string(v)]; ok {
		return text
	}
	return capital(strings.ReplaceAll(string(v), "-", " "))
}

// Metal says what a metal is or can be, with what was written where that says
// something else: "1.4404 (316L)", "stainless steel, grade not known (“A4”)".
func Metal(set metal.Set, words string) string {
	quoted := ""
	if words = strings.TrimSpace(words); words != "" {
		quoted = " (“" + words + "”)"
	}
	if !set.Known() {
		return notKnown + quoted
	}
	if g, ok := set.Single(); ok {
		return grade(g)
	}
	return family(set) + ", grade " + notKnown + quoted
}

// grade names one grade.
func grade(g metal.Grade) string {
	e, ok := metal.Lookup(g)
	if !ok || len(e.CommonNames) == 0 {
		return string(g)
	}
	if e.Stainless() {
		return fmt.Sprintf("stainless steel %s (%s)", g, e.CommonNames[0])
	}
	switch g {
	case metal.SteelBare:
		return "bare carbon steel"
	case metal.SteelElectroplated, metal.SteelHotDipGalvanised, metal.SteelSherardised:
		return "carbon steel, " + coatings[g]
	case metal.Aluminium:
		return "aluminium"
	}
	return e.CommonNames[0]
}

var coatings = map[metal.Grade]string{
	metal.SteelElectroplated:    "zinc electroplated",
	metal.SteelHotDipGalvanised: "hot dip galvanised",
	metal.SteelSherardised:      "sherardised",
}

// family names what all grades of a set have in common.
func family(set metal.Set) string {
	var names []string
	for _, g := range set {
		if name := familyOf(g); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, " or ")
}

func familyOf(g metal.Grade) string {
	e, _ := metal.Lookup(g)
	switch {
	case e.Stainless():
		return "stainless steel"
	case e.Family == metal.TitaniumFamily:
		return "titanium"
	case e.Family == metal.AluminiumFamily:
		return "aluminium"
	}
	return "carbon steel"
}

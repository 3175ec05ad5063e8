package wording

import (
	"strings"

	"rockledger/internal/registry"
)

// CorrosionHelp says what an estimate of corrosion is and is not.
const CorrosionHelp = "Uniform loss of metal in the open, by ISO 9223 and ISO 9224. It says nothing of pits, crevices, " +
	"the shank in the hole, caves or stress-corrosion cracking, and never clears stainless steel."

// climateNames name the values of a climate, and the years, in a sentence.
var climateNames = map[string]string{
	"temperature_c":                 "the temperature",
	"humidity_pct":                  "the relative humidity",
	"sulphur_dioxide_mg_per_m2_day": "the deposition of sulphur dioxide",
	"chloride_mg_per_m2_day":        "the deposition of chloride",
	"years":                         "the number of years",
}

// CorrosionWarning says what makes an estimate less certain. Its values are
// field, value (as given), used, from and to (the range of the model), and
// treatment.
func CorrosionWarning(code string, v registry.Values) string {
	if code == "no-deposition" {
		return "Neither sulphur dioxide nor chloride was given; no air is free of both, so the least amounts of the model were used."
	}
	name, ok := climateNames[v.Text("field")]
	if !ok {
		return capital(strings.ReplaceAll(code, "-", " ")) + "."
	}
	field := v.Text("field")
	text := capital(name) + ", " + withUnit(field, v.Text("value")) + ", lies outside the range of the model (" +
		v.Text("from") + " to " + withUnit(field, v.Text("to")) + "); "
	if v.Text("treatment") == "extrapolated" {
		return text + "it was used as it is, and the estimate is less certain."
	}
	return text + withUnit(field, v.Text("used")) + " was used, and the estimate is less certain."
}

func withUnit(field, number string) string {
	return strings.TrimSpace(number + " " + EnvironmentUnit(field))
}

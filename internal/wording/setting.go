package wording

import (
	"strings"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// cureMissing say why there is no cure time, or no instant, and what to do.
var cureMissing = map[string]string{
	"no-adhesive":                "Which adhesive it was is not recorded, so that there is no cure time. Read the label, and record what it says.",
	"adhesive-not-of-batch":      "The adhesive on record is not the one that its batch is of, so that there is no cure time. Correct whichever is wrong.",
	"no-sheet":                   "There is no sheet of the adhesive for that day, so that there is no cure time. Read the label, and record what it says.",
	"no-table":                   "The sheet of the adhesive has no table of times. Read the label, and record what it says.",
	"colder-than-sheet":          "The rock was colder than the sheet of the adhesive covers: no cure time can be given, and it may not cure at all.",
	"warmer-than-sheet":          "The rock was warmer than the sheet of the adhesive covers: no cure time can be given.",
	"hole-flooded":               "Water stood in the hole or ran in, and the sheet of the adhesive does not name such holes: no cure time can be given.",
	"label-for-warmer-rock":      "The rock became colder than the row that was read off the label. Read the row for the coldest it was, and record that.",
	"label-row-not-recorded":     "Which row of the label was read is not recorded, so that there is no cure time. Read the row for the coldest it was and record it.",
	"rock-temperature-not-known": "How cold the rock became until release is not known, so that no row of sheet or label holds. Record the lowest rock temperature of the night; read the row for the coldest it was and record it.",
	"set-time-not-known":         "When it was set is not recorded, so that the end of its cure is not known. Record the day, and the time if you know it.",
}

// CureMissing says why there is no cure time, or no instant at which it ends.
func CureMissing(word string) string {
	if text, ok := cureMissing[word]; ok {
		return text
	}
	return "No cure time can be given. Read the label, and record what it says."
}

// settingGaps name what nobody recorded of a setting.
var settingGaps = map[string]string{
	"hole_depth":            "the depth of its hole",
	"embedded_length":       "how deep it sits",
	"cleaning_cycles":       "how the hole was cleaned",
	"moisture":              "how wet the hole was",
	"set_at":                "at what time it was set",
	"adhesive":              "which adhesive it was",
	"expires_on":            "when the adhesive expires",
	"rock_temperature":      "how warm the rock was",
	"cartridge_temperature": "how warm the cartridge was",
	"sample_kept":           "whether a sample was kept",
	"set_by":                "who set it",
	"lowest_temperature":    "how cold the rock became until release",
	"cure_time":             "how long it must cure, by a sheet or its label",
}

// SettingGap names one thing that nobody recorded of a setting.
func SettingGap(word string) string {
	if text, ok := settingGaps[word]; ok {
		return text
	}
	return strings.ReplaceAll(word, "_", " ")
}

// settingPart says what stands for a name in a sentence about a setting.
func settingPart(name string, v registry.Values) (string, bool) {
	switch name {
	case "gaps":
		var said []string
		for _, word := range strings.Fields(v.Text(name)) {
			said = append(said, SettingGap(word))
		}
		return strings.Join(said, ", "), true
	case "moisture":
		return lowerLabel(v.Text(name)), true
	case "cycles":
		return howOften(v.Text("cleaning_cycles")), true
	case "sheet_cycles":
		return howOften(v.Text("sheet_cleaning_cycles")), true
	case "expires":
		return dayWords(v.Text("expires_on")), true
	case "installed":
		return On(span(v, "installed")), true
	case "found":
		return dayWords(v.Text("sample_found_on")), true
	case "loaded":
		return momentWords(v.Text("loaded_at")), true
	case "load":
		return momentWords(v.Text("load_recorded_at")), true
	case "perhaps":
		return momentWords(v.Text("loaded_perhaps_at")), true
	case "cured":
		return momentWords(v.Text("not_before")), true
	case "embedded":
		most, mm := v.Text("embedded_at_most_mm"), v.Text("embedded_length_mm")
		switch {
		case mm != "" && most != "" && most != mm:
			return "at most " + most + " mm of it", true
		case mm != "":
			return mm + " mm of it", true
		}
		return "an unknown length of it", true
	case "cartridge_range":
		return rangeOf(v.Text("sheet_cartridge_low_c"), v.Text("sheet_cartridge_high_c"), "°C"), true
	case "near":
		return near(v), true
	}
	return "", false
}

func howOften(n string) string {
	switch n {
	case "":
		return "an unknown number of times"
	case "1":
		return "once"
	}
	return n + " times"
}

// rangeOf says a range that may lack an end.
func rangeOf(low, high, unit string) string {
	switch {
	case low == "":
		return "at most " + high + " " + unit
	case high == "":
		return "at least " + low + " " + unit
	}
	return low + " to " + high + " " + unit
}

// near says what lies near an anchor.
func near(v registry.Values) string {
	var said []string
	if mm := v.Text("neighbour_distance_mm"); mm != "" {
		said = append(said, "another anchor is "+mm+" mm away")
	}
	if mm := v.Text("old_hole_distance_mm"); mm != "" {
		said = append(said, "an old hole is "+mm+" mm away")
	}
	return strings.Join(said, ", ")
}

// momentWords says an instant, in UTC: "on 2 May 2025 at 14:05 UTC".
func momentWords(text string) string {
	at, err := time.Parse(time.RFC3339, text)
	if err != nil {
		return "at a time " + notKnown
	}
	at = at.UTC()
	return "on " + calendar.On(at, time.UTC).Words() + " at " + at.Format("15:04") + " UTC"
}

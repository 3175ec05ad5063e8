package web

import (
	"strconv"
	"strings"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// fieldLabels name the fields of forms, by their names in the API.
var fieldLabels = map[string]string{
	"person_id":    "Who",
	"person_name":  "Or somebody not on the list",
	"done_on":      wording.CardDayLabel,
	"level":        "How closely",
	"found":        "Was it there?",
	"observations": "What was seen",
	"verdict":      "Verdict",
	"inspect_by":   "To be inspected again by",
	"words":        "In your own words",
	"done":         "What was done",
	"fitting_id":   "Which fitting",
	"torque_nm":    "Torque, in newton metres",
	"torque_tool":  "With which tool",
	"how":          "How",
	"lifts":        "Which marking",
	"stub_mm":      "What stands out of the rock, in millimetres",
	"old_hole":     "What became of the hole",
	"metal_kept":   "Was the metal kept?",
	"metal_where":  "Where it lies",
	"reason":       "Reason",
	"retracts_id":  "The record",
	"over":         "Over what",
	"confirmation": "The name",
	"until":        "Until",
	"from":         "From which day",
	"seal":         "A seal on paper",
	"source":       "Where this comes from",
	"landowner":    "Landowner",
	"to":           "To",

	"new_fitting":            "New fitting",
	"new_fitting.kind":       "New fitting",
	"new_fitting.metal_text": "Metal of the new fitting",
	"file":                   "The picture",
	"taken_on":               "Taken on which day",
	"picture_words":          "What is to be seen",
	"at":                     "At what time",
	"sample":                 "The kept sample",
	"lowest_c":               "Coldest rock until release",
	"loaded_at":              "Loaded at",
	"label_c":                "For rock at, °C",

	"label_working_minutes": "Working time, minutes",
	"label_cure_minutes":    "Cure time, minutes",
}

// isField says whether a violation's field is one that a form shows.
func isField(name string) bool {
	_, known := fieldLabels[name]
	_, stocked := stockLabels[name]
	_, recalled := recallLabels[name]
	_, placed := positionLabels[name]
	_, kept := placeLabels[name]
	_, landed := landLabels[name]
	return known || stocked || recalled || placed || kept || landed || isRule(name) || cardName(name) != "" || wording.IsEnvironmentField(name)
}

// fieldLabel names a field.
func fieldLabel(name string) string {
	if label, ok := fieldLabels[name]; ok {
		return label
	}
	if label, ok := stockLabels[name]; ok {
		return label
	}
	if label, ok := recallLabels[name]; ok {
		return label
	}
	if label, ok := positionLabels[name]; ok {
		return label
	}
	if label, ok := placeLabels[name]; ok {
		return label
	}
	if label, ok := landLabels[name]; ok {
		return label
	}
	if isRule(name) {
		return wording.RulePath(name)
	}
	if label := cardName(name); label != "" {
		return label
	}
	return wording.EnvironmentName(name)
}

// cardName names a field of the gluing form; blank: it is none.
func cardName(name string) string {
	if rest, ok := strings.CutPrefix(name, allField("")); ok {
		if label, known := wording.CardLabel(rest, true); known {
			return wording.ForAll(label)
		}
		return ""
	}
	if rest, ok := strings.CutPrefix(name, settingField("")); ok {
		if rest == "person_id" {
			return wording.SetByLabel
		}
		label, _ := wording.CardLabel(rest, true)
		return label
	}
	if m := indexed.FindStringSubmatch(name); m != nil {
		if label, known := wording.CardLabel(m[3], true); known {
			n, _ := strconv.Atoi(m[2])
			return wording.LineOf(strconv.Itoa(n+1), label)
		}
		return ""
	}
	label, _ := wording.CardLabel(name, false)
	return label
}

// describedBy lists the ids of what explains a field.
func describedBy(f *form, name, help string) string {
	var ids []string
	if f.wrong(name) != "" {
		ids = append(ids, name+"-wrong")
	}
	if _, other := f.Stored[name]; other {
		ids = append(ids, name+"-stored")
	}
	if help != "" {
		ids = append(ids, name+"-help")
	}
	return strings.Join(ids, " ")
}

func choiceID(name, value string) string {
	if value == "" {
		value = "none"
	}
	return name + "-" + value
}

// labelled are the values of a closed list as choices, after those given.
func labelled[T ~string](list []T, before ...option) []option {
	for _, v := range list {
		before = append(before, option{Value: string(v), Text: wording.Label(v)})
	}
	return before
}

// levelOptions say what each level of an inspection takes.
func levelOptions() []option {
	var options []option
	for _, l := range registry.Levels() {
		options = append(options, option{Value: string(l), Text: wording.LevelMeaning(l)})
	}
	return options
}

func verdictOptions() []option {
	return labelled(registry.Verdicts(), option{Text: "No verdict"})
}

func foundOptions() []option {
	return []option{{Text: "Yes"}, {Value: "no", Text: "No: looked for and not found"}}
}

// yesNoOptions are the answers to a question that need not be answered.
func yesNoOptions() []option {
	return []option{{Text: "Not known"}, {Value: "yes", Text: "Yes"}, {Value: "no", Text: "No"}}
}

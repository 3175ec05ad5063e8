package web

import (
	"strings"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// fieldLabels name the fields of forms, by their names in the API.
var fieldLabels = map[string]string{
	"person_id":     "Who",
	"person_name":   "Or somebody not on the list",
	"done_on":       "On which day",
	"level":         "How closely",
	"found":         "Was it there?",
	"observations":  "What was seen",
	"verdict":       "Verdict",
	"inspect_by":    "To be inspected again by",
	"words":         "In your own words",
	"file":          "The picture",
	"taken_on":      "Taken on which day",
	"picture_words": "What is to be seen",
	"reason":        "Reason",
	"until":         "Until",
	"from":          "From which day",
	"seal":          "A seal on paper",
	"source":        "Where this comes from",
	"landowner":     "Landowner",
	"to":            "To",
}

// isField says whether a violation's field is one that a form shows.
func isField(name string) bool {
	_, known := fieldLabels[name]
	return known || wording.IsEnvironmentField(name)
}

// fieldLabel names a field.
func fieldLabel(name string) string {
	if label, ok := fieldLabels[name]; ok {
		return label
	}
	return wording.EnvironmentName(name)
}

// describedBy lists the ids of what explains a field.
func describedBy(f *form, name, help string) string {
	var ids []string
	if f.wrong(name) != "" {
		ids = append(ids, name+"-wrong")
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

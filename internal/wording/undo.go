package wording

import (
	"fmt"
	"strings"
)

// inTheWay says what keeps an import from being undone, by its kind.
var inTheWay = map[string]string{
	"installation": "a record of how it was set was made here since ({detail}). Take it back first.",
	"first use":    "its first use was allowed here since ({detail}). Take that record back first.",
	"inspection":   "an inspection was recorded here since ({detail}). Take it back first.",
	"maintenance":  "maintenance was recorded here since ({detail}). Take it back first.",
	"marking":      "a marking was recorded here since ({detail}). Take it back first.",
	"removal":      "its removal was recorded here since ({detail}). Take it back first.",
	"settlement":   "a finding was settled here since ({detail}). Take that record back first.",
	"notice":       "the notice “{detail}” names it. Take it off the notice first.",
	"fitting":      "a fitting was added or changed since ({detail}). The import can no longer be undone; correct the register instead.",
	"changed":      "it was changed in the register since. The import can no longer be undone; correct the register instead.",
	"anchor":       "another anchor was entered at its position since. The import can no longer be undone; correct the register instead.",
	"assembly":     "the assembly “{detail}” names its position. Take the position out of it first.",
	"corrected":    "it came from an earlier list, and this import corrected it. Of the two lists not enough was kept to put its cells back: the import can no longer be undone; correct the register instead.",
	"cell":         "this import corrected its {field}, and the register says {register} by now. Put back what the list before had ({detail}) in the register, then undo the import.",
	"list":         "the list “{detail}”, taken over on {on} (import {import_id}), has corrected what this import entered. Undo that one first.",
}

// undoInUse says what stands in the way of undoing an import, or that something
// else needs what was to go.
func undoInUse(values map[string]string) string {
	if n := values["in_the_way"]; n != "" {
		if _, more := values["at_least"]; more {
			n = "at least " + n
		}
		return "The import cannot be undone, for it is in use (" + n + " in the way). See what is listed."
	}
	if _, open := values["open"]; open {
		return "This list is still being entered. Wait until it is done, then undo it."
	}
	if _, undone := values["undone"]; undone {
		return "This import is undone already. Nothing need be done; the list may be entered again."
	}
	say, ok := inTheWay[values["what"]]
	if !ok {
		return "Something else still needs this. Remove what needs it first."
	}
	return capital(placeInTheWay(values)) + ": " + strings.NewReplacer(
		"{detail}", orNothing(values["detail"]), "{register}", cellText(values["register"]), "{field}", strings.ReplaceAll(values["field"], "_", " "),
		"{on}", day(values["on"]), "{import_id}", values["import_id"],
	).Replace(say)
}

func orNothing(text string) string {
	if text == "" {
		return "nothing"
	}
	return text
}

// placeInTheWay names where something stands in the way.
func placeInTheWay(values map[string]string) string {
	switch {
	case values["what"] == "list":
		return "a later list"
	case values["what"] == "assembly":
		return "a position of the list"
	case values["place"] == "":
		return "anchor " + values["anchor_id"]
	}
	return values["place"]
}

// ImportUndone says that a list was taken back.
func ImportUndone(fileName string, anchors, records, places int) string {
	return fmt.Sprintf("The import of “%s” is undone: anchors taken back %d, records retracted %d, sites, sectors, routes and positions ended %d. "+
		"The list may be entered again.", fileName, anchors, records, places)
}

// CellChange says what a corrected list changes: “spins” instead of “ok”.
func CellChange(from, to string) string {
	return cellText(to) + " instead of " + cellText(from)
}

// CellClash says why a cell of a corrected list was left alone.
func CellClash(from, to, register string) string {
	return "the list before had " + cellText(from) + ", this one has " + cellText(to) + ", and the register says " + cellText(register) +
		" by now. Nothing was changed; make the list or the register say what is right"
}

func cellText(text string) string {
	if strings.TrimSpace(text) == "" {
		return "nothing"
	}
	return "“" + text + "”"
}

package wording

import (
	"fmt"
	"strconv"

	"rockledger/internal/registry"
)

// Sentences about long lists on their way.
const (
	ImportUndoHelp = "Every anchor, record and place that this list brought is taken back, all of it or nothing. " +
		"That can only be done while nothing was recorded on them since. The list may be entered again afterwards."
	ImportUndoLong  = "For a long list it takes minutes; this page says when it is done."
	ImportEnterHelp = "The rows are kept for a day after they were handed in. Then the list has to be chosen again."
	ImportTriedGone = "Its rows are not kept any more. To enter the list, hand it in again."
	ImportUndoWaits = "The import is being undone: all of it or nothing, which takes minutes for a long list. Broken off, it goes on when this command or the service runs next."
)

// ImportProgress says how far a long list is: rows decided on, of all, and those
// entered, or that would be.
func ImportProgress(trial bool, done, rows, entered int) string {
	if trial {
		return fmt.Sprintf("%d of %d rows tried, %d would be entered so far", done, rows, entered)
	}
	return fmt.Sprintf("%d of %d rows read into the register, %d entered so far", done, rows, entered)
}

// ImportStateWords says how a list stands on its way into the register, or out;
// taken is how many of its rows were entered or changed something, or would be.
func ImportStateWords(state registry.JobState, trial bool, taken int) string {
	switch {
	case state == registry.JobDone && taken == 0:
		return ImportNothing
	case state == registry.JobTried && taken == 0:
		return ImportNoNew
	case state == registry.JobFailed && trial:
		return "The list could not be tried to its end. Nothing of it was entered. Hand it in again."
	}
	return importStates[state]
}

var importStates = map[registry.JobState]string{
	registry.JobWaiting: "The list waits to be entered. That begins within a minute or so; this page shows how far it is.",
	registry.JobRunning: "The list is being entered, a thousand rows at a time. What is entered already counts; the rest follows.",
	registry.JobDone:    "The list has been entered. What is doubtful was left as not known; the list's own words are kept.",
	registry.JobFailed:  "The list could not be entered to its end. What was entered stays. Hand in the same file again to go on where it stopped, or undo the import.",
	registry.JobUndoing: "The import is being undone, all of it or nothing. Until that is done its anchors count as before.",
	registry.JobUndone:  "The import was undone: its anchors count as never entered.",
	registry.JobTrying:  "The list is being tried, a thousand rows at a time. Nothing of it is entered.",
	registry.JobTried:   ImportTried,
}

// ImportLine says of a list among others when it was handed in and how it
// stands: "3 May 2026, 10:30: entered, 5 of 5 rows read".
func ImportLine(state registry.JobState, trial bool, at string, done, rows int) string {
	words := importsInShort[state]
	if trial && state == registry.JobFailed {
		words = "not tried to its end"
	}
	return at + ": " + words + ", " + strconv.Itoa(done) + " of " + count(rows, "row", "rows") + " read"
}

var importsInShort = map[registry.JobState]string{
	registry.JobWaiting: "waits to be entered", registry.JobRunning: "being entered", registry.JobDone: "entered",
	registry.JobFailed: "not entered to its end", registry.JobUndoing: "being undone", registry.JobUndone: "undone",
	registry.JobTrying: "being tried", registry.JobTried: "tried, nothing entered",
}

// ImportUndoSince says when an import was asked to be undone.
func ImportUndoSince(at string) string { return "Being undone since " + at + "." }

// ImportNotUndoneSince says that an import that was asked to be undone was not.
func ImportNotUndoneSince(at string) string {
	return "It was asked to be undone on " + at + ", and was not. Nothing of it was taken back. This stood in the way:"
}

// ImportRefreshes says that the page follows the list by itself.
func ImportRefreshes(seconds int) string {
	return fmt.Sprintf("This page loads itself again every %d seconds until that is done.", seconds)
}

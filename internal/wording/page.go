package wording

import (
	"fmt"
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Sentences of the sign-in page.
const (
	SignInWrong   = "The e-mail address or the password is wrong. Check both and try again."
	SignInTooMany = "There were too many failed sign-ins from here. Wait a quarter of an hour, then try again."
	SignInHelp    = "Whoever keeps this register gives out accounts and passwords. If you have none, or lost yours, ask them."
	NoGroups      = "Your account belongs to no group yet. Ask an owner of your group to add you."
)

// Sentences for a list that is empty.
const (
	NoneUnmarked   = "No anchor in the rock is recorded as out of use without a marking."
	NoneMarked     = "No anchor that is out of use is recorded as marked at the rock."
	NoneOutOfUse   = "No anchor in the rock is recorded as out of use."
	NoneSuspect    = "No anchor is suspect on what is recorded."
	NoneOverdue    = "No anchor is past its date."
	NoneFirstRound = "No anchor awaits its first round."
	NoneAnchors    = "No anchor is recorded here."
	NoneOnRoute    = "No anchor stands here under this route. One that it shares may stand under another route's name."
	NoneFound      = "No anchor answers to this. Leave out a word, or choose another standing or date."
	NoneSites      = "No place is recorded yet."
	NoneFindings   = "Nothing is held against this anchor on what is recorded. That is not a clean bill of health."
	NoneRecords    = "Nothing has been recorded about this anchor yet."
	NoneHistory    = "Nothing has been shown about this anchor before."
)

// Menu is the button that opens the navigation on a narrow screen.
const Menu = "Menu"

// Sentences that explain a page.
const (
	Unfold         = "Show it all unfolded, to read through or print"
	AnyDueState    = "Any date"
	AnchorsHelp    = "Of all places, in the order of entry."
	EmptyRegister  = "There is no anchor in the register yet."
	FirstRoundHelp = "These came from a list and nobody has inspected them hands-on since they were entered here. The most urgent come first."
	CandidatesHelp = "Each of these gives a date. The earliest counts, unless it was raised to the end of the first round."
	HistoryHelp    = "Show it, newest first"
	RecordGone     = "This no longer counts: a later record replaces it or takes it back."
	RecomputedHelp = "Worked out anew for this day: records, and anchors set or removed, as of then; inventory and house rules as they stand today."
	ImportHelp     = "Choose the list as a CSV or text file. Nothing is entered until you have seen what was read."
	ImportMapHelp  = "Only needed when headings are misread: a YAML file that says which heading is which field."
	ImportTried    = "Nothing has been entered yet. Read what was understood, correct the list if needed, then enter it."
	ImportDone     = "The list has been entered. What is doubtful was left as not known; the list's own words are kept."
	ImportNothing  = "Nothing was entered: every row is in the register already, blank, repeated or refused."
	ImportNoNew    = "There is nothing new to enter in this list."
	PrintsSome     = "This paper holds no more than these. For all of them, download the report as CSV from its page, and print that."
	FormNotRead    = "Something in the form cannot be right. Correct what is marked, then send it again."
	ImportRefused  = "Nothing was entered."
	FormRefused    = "Nothing was recorded. What was typed still stands below."
)

// StandingCount says how many anchors have a standing: "3 suspect".
func StandingCount(s registry.Standing, n int) string {
	switch s {
	case registry.NoProblem:
		return fmt.Sprintf("%d with no problem on record", n)
	case registry.StandingWatch:
		return fmt.Sprintf("%d to watch", n)
	case registry.StandingSuspect:
		return fmt.Sprintf("%d suspect", n)
	case registry.NotInUseYet:
		return fmt.Sprintf("%d not in use yet", n)
	case registry.StandingOutOfUse:
		return fmt.Sprintf("%d out of use", n)
	case registry.StandingNotLocated:
		return fmt.Sprintf("%d not located", n)
	case registry.StandingRemoved:
		return fmt.Sprintf("%d removed", n)
	}
	return fmt.Sprintf("%d of a standing not known", n)
}

// DueCount says how many anchors are in a due state: "37 overdue".
func DueCount(s registry.DueState, n int) string {
	switch s {
	case registry.Overdue:
		return fmt.Sprintf("%d overdue", n)
	case registry.DueSoon:
		return fmt.Sprintf("%d due soon", n)
	case registry.AwaitingFirstRound:
		return fmt.Sprintf("%d awaiting the first round", n)
	case registry.NotDue:
		return fmt.Sprintf("%d not due", n)
	}
	return fmt.Sprintf("%d in a due state not known", n)
}

// Undated says whether the day computed for an anchor is not to be shown: one
// that is out of use is to be replaced, not waited with, and a day years ahead
// beside it would only reassure. One that has passed is told all the same.
func Undated(s registry.Standing, state registry.DueState) bool {
	return s == registry.StandingOutOfUse && state != registry.Overdue
}

// NoDay stands in place of the day of an anchor out of use.
const NoDay = "No inspection date applies until it is replaced or that is lifted"

// DueDay is the cell of a table for the day by when to look at an anchor.
func DueDay(a registry.Assessment) string {
	if Undated(a.Standing, a.DueState) {
		return "does not apply"
	}
	return a.DueOn.Words()
}

// DueBeside names how the day stands, beside a day that is shown. "Not due" is
// left out beside a suspect anchor, whose doubt waits for no day.
func DueBeside(a registry.Assessment) string {
	if Undated(a.Standing, a.DueState) || a.Standing == registry.StandingSuspect && a.DueState == registry.NotDue {
		return ""
	}
	return DueState(a.DueState)
}

// RuledDay says which day the house rules alone would give an anchor out of use.
func RuledDay(on calendar.Date) string {
	return NoDay + ". By the house rules alone it would be " + on.Words() + "; that day clears nothing."
}

// InspectBy says by when to look at an anchor, and how that day stands: "Inspect
// by 2 May 2026: overdue". It is empty for an anchor that has no date,
// and says that none applies to one that is out of use.
func InspectBy(s registry.Standing, on calendar.Date, state registry.DueState) string {
	if on.IsZero() {
		return ""
	}
	if Undated(s, state) {
		return NoDay
	}
	line := "Inspect by " + on.Words()
	if s == registry.StandingNotLocated {
		line = "Look for it by " + on.Words()
	}
	switch state {
	case registry.Overdue:
		return line + ": overdue"
	case registry.DueSoon:
		return line + ": due soon"
	case registry.AwaitingFirstRound:
		return line + ": awaiting the first round"
	}
	return line
}

// ReasonBehind says why an anchor has its date without repeating the date and
// the source, for a list in which the date stands already.
func ReasonBehind(a registry.Assessment) string {
	reason := Reason(a)
	if a.Reason.Rule == "first-round" {
		if _, rest, ok := strings.Cut(reason, ": "); ok {
			return capital(rest)
		}
	}
	return behindDate(reason, a.DueOn, a.Reason.Source)
}

// CandidateBehind says why a candidate has its date without repeating the date
// and the source, for where those stand already.
func CandidateBehind(c registry.Candidate) string { return behindDate(Candidate(c), c.On, c.Source) }

// behindDate takes date and source out of a sentence.
func behindDate(text string, on calendar.Date, source string) string {
	text = strings.Replace(text, by(source), "", 1)
	for _, start := range []string{"Inspect by ", "Look for it by "} {
		if rest, ok := strings.CutPrefix(text, start+on.Words()+": "); ok {
			return capital(rest)
		}
	}
	return text
}

// NotesBeside counts the findings of an anchor that are folded up beside those
// that weigh.
func NotesBeside(n int) string {
	return count(n, "thing noted or settled", "things noted or settled")
}

// RulesIn counts what a part of the house rules lays down.
func RulesIn(n int) string { return count(n, "rule", "rules") }

// KitLines counts the kinds of thing to bring.
func KitLines(n int) string { return count(n, "kind of thing to bring", "kinds of thing to bring") }

// Headings of parts of Today, and of the reports narrowed to them.
const (
	Unmarked       = "Out of use, no marking at the rock"
	MarkedOutOfUse = "Out of use and marked"
	NewlySeen      = "Suspect, seen within 30 days"
)

// FirstOf says that a list is not whole: "The first 5 of 23."
func FirstOf(n, of int) string { return fmt.Sprintf("The first %d of %d.", n, of) }

// OnlyOf says that a report is narrowed: "Suspect alone: 23 of the 31 anchors of
// this report."
func OnlyOf(name string, n, of int) string {
	return fmt.Sprintf("%s alone: %d of the %s of this report.", name, n, Anchors(of))
}

// MoreRestrictions counts the restrictions about to begin that are folded up.
func MoreRestrictions(n int) string {
	return count(n, "more begins after these", "more begin after these")
}

// TasksOf counts what is to be found out about places.
func TasksOf(n int) string {
	return count(n, "question about a place", "questions about places")
}

// TasksFollow says that not all questions about places are asked at once.
func TasksFollow(n, of int) string {
	return FirstOf(n, of) + " The others follow as these are answered."
}

// ShowAll is the link to the whole of a list of n anchors.
func ShowAll(n int) string { return fmt.Sprintf("Show all %d", n) }

// Anchors counts anchors: "1 anchor", "12 anchors".
func Anchors(n int) string { return count(n, "anchor", "anchors") }

// ShowingRows says which part of a long list is on the page, rows counted
// from 1.
func ShowingRows(from, to, of int) string {
	return fmt.Sprintf("Anchors %d to %d of %d.", from, to, of)
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// OtherAnchor names an earlier or later anchor at a position: "Through bolt,
// set in 2004, removed in 2019".
func OtherAnchor(a registry.Anchor) string {
	text := Label(a.Form)
	if a.Form == "" {
		text = "Form not known"
	}
	text += ", set " + On(a.SetOn)
	if a.Removed {
		text += ", removed " + On(a.RemovedOn)
	}
	return text
}

// NoSuchChoice says that a filter asks for what does not exist.
func NoSuchChoice(label, asked string) string {
	return label + ": there is no “" + asked + "” to choose. Below are anchors of any; choose one from the list."
}

// ImportOutcome says what became of a list of which n rows were, or would be,
// entered.
func ImportOutcome(dryRun bool, n int) string {
	switch {
	case dryRun && n == 0:
		return ImportNoNew
	case dryRun:
		return ImportTried
	case n == 0:
		return ImportNothing
	}
	return ImportDone
}

// ListUnnamed stands for a list without a file name.
const ListUnnamed = "A list without a name"

// ImportBounded says that the report of a long list does not name everything.
func ImportBounded(most, untold int) string {
	return fmt.Sprintf("Of each kind only the first %d are listed; %d more are counted, but not listed.", most, untold)
}

// importCounts are the counts of an import report, one of a thing and several.
var importCounts = map[string][2]string{
	"rows":         {"%d row in the list", "%d rows in the list"},
	"would-enter":  {"%d would be entered", "%d would be entered"},
	"entered":      {"%d entered", "%d entered"},
	"successors":   {"%d successor of a replaced anchor beside them", "%d successors of replaced anchors beside them"},
	"duplicates":   {"%d duplicate", "%d duplicates"},
	"blank":        {"%d blank", "%d blank"},
	"refused":      {"%d refused", "%d refused"},
	"changed":      {"%d changed", "%d changed"},
	"clashes":      {"%d left alone, since the register says something else by now", "%d left alone, since the register says something else by now"},
	"would-change": {"%d would be changed", "%d would be changed"},
	"unchanged":    {"%d in the register already, unchanged", "%d in the register already, unchanged"},
}

// ImportCount says one count of an import report, by its name there;
// "would-enter" is what a dry run would have entered.
func ImportCount(name string, n int) string {
	forms := importCounts[name]
	if n == 1 {
		return fmt.Sprintf(forms[0], n)
	}
	return fmt.Sprintf(forms[1], n)
}

// ListSpot says where on a list something stands: "Line 12, column Fitted".
func ListSpot(d registry.Doubt) string {
	if d.Column == "" {
		return fmt.Sprintf("Line %d", d.Line)
	}
	return fmt.Sprintf("Line %d, column %s", d.Line, d.Column)
}

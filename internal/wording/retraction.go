package wording

import (
	"strings"

	"rockledger/internal/registry"
)

// Sentences of the page by which a record is taken back.
const (
	RetractRecord     = "Take this record back"
	RetractionHelp    = "A record that is taken back counts as never made. Both records stay on the anchor's page. If it only says something wrongly, record it again, rightly, before this one is taken back."
	RetractionReason  = "Why the record counts as never made, and what you base that on."
	RetractionNothing = "Nothing else: standing, date and all that is held against the anchor stay as they are."
	RetractionBetter  = "The anchor would stand better than it does now. Whoever takes the record back answers for that with name and reason."
	RetractionRefused = "This record cannot be taken back."
	RecordedRetract   = "The record has been taken back. Standing and dates below take it into account."
	RetractedBefore   = "This form had been recorded before, and what was changed in it since was not. The record was taken back for the reason that stands below."
)

// WouldStand says how an anchor would stand in place of how it stands now; nil:
// as it does.
func WouldStand(now, then registry.Assessment) []string {
	var lines []string
	if now.Standing != then.Standing {
		lines = append(lines, "It would stand as “"+lower(Standing(then.Standing))+"”; now it stands as “"+lower(Standing(now.Standing))+"”.")
	}
	if now.DueOn != then.DueOn {
		lines = append(lines, dateMoves(now, then))
	}
	if gone := rulesOnlyIn(now, then); len(gone) > 0 {
		lines = append(lines, "No longer held against it: "+strings.Join(gone, ", ")+".")
	}
	if come := rulesOnlyIn(then, now); len(come) > 0 {
		lines = append(lines, "Held against it then: "+strings.Join(come, ", ")+".")
	}
	return lines
}

// dateMoves says how the date of an anchor changes, either of which may be none.
func dateMoves(now, then registry.Assessment) string {
	switch {
	case then.DueOn.IsZero():
		return "It would have no date any more; now it is “inspect by " + now.DueOn.Words() + "”."
	case now.DueOn.IsZero():
		return "Inspect by " + then.DueOn.Words() + "; now it has no date."
	}
	return "Inspect by " + then.DueOn.Words() + " in place of " + now.DueOn.Words() + "."
}

// rulesOnlyIn names the rules of findings that weigh in one assessment and not in
// another, each once.
func rulesOnlyIn(one, other registry.Assessment) []string {
	held := make(map[string]bool)
	for i := range other.Findings {
		held[other.Findings[i].Rule] = held[other.Findings[i].Rule] || other.Findings[i].SettledBy == nil
	}
	var names []string
	for i := range one.Findings {
		if f := &one.Findings[i]; f.SettledBy == nil && !held[f.Rule] {
			held[f.Rule] = true
			names = append(names, lower(Rule(f.Rule)))
		}
	}
	return names
}

// CountsAgain says of another record, as a sentence, that it would count again.
func CountsAgain(record string) string { return "Another record would count again: " + record }

// CountsNoMore says of another record, as a sentence, that it would not count
// any more.
func CountsNoMore(record string) string { return "Another record would count no more: " + record }

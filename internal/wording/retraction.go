package wording

import (
	"strings"

	"rockledger/internal/registry"
	"rockledger/internal/report"
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

// RetractionFollows says what would follow if a record were taken back, but for
// other records; nil: nothing.
func RetractionFollows(r report.Retraction) []string {
	var lines []string
	if r.Now.Standing != r.Then.Standing {
		lines = append(lines, "It would stand as “"+lower(Standing(r.Then.Standing))+"”; now it stands as “"+lower(Standing(r.Now.Standing))+"”.")
	}
	if r.Now.DueOn != r.Then.DueOn {
		lines = append(lines, dateMoves(r.Now, r.Then))
	}
	if gone := rulesOnlyIn(r.Now, r.Then); len(gone) > 0 {
		lines = append(lines, "No longer held against it: "+strings.Join(gone, ", ")+".")
	}
	if come := rulesOnlyIn(r.Then, r.Now); len(come) > 0 {
		lines = append(lines, "Held against it then: "+strings.Join(come, ", ")+".")
	}
	return lines
}

// dateMoves says how the date of an anchor changes, either of which may be none.
func dateMoves(now, then registry.Assessment) string {
	switch {
	case then.DueOn.IsZero():
		return "It would have no date any more; now it is to be inspected by " + now.DueOn.Words() + "."
	case now.DueOn.IsZero():
		return "It would be to be inspected by " + then.DueOn.Words() + "; now it has no date."
	}
	return "It would be to be inspected by " + then.DueOn.Words() + "; now by " + now.DueOn.Words() + "."
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

package wording

import (
	"strings"

	"rockledger/internal/registry"
)

// landRecords say what a record of a kind says was done.
var landRecords = map[string]string{
	"installation": "Set",
	"inspection":   "Inspected",
	"maintenance":  "Maintained",
	"marking":      "Marking at the rock put up or taken away",
	"removal":      "Removed",
	"settlement":   "Finding settled",
	"first-use":    "First use allowed",
	"retraction":   "Record taken back",
}

// LandRecord says what was done at an anchor on somebody's land, and when:
// "Inspected on 3 May 2026; verdict: keep. “Nut tightened.”"
func LandRecord(r registry.LandRecord) string {
	text, ok := landRecords[r.Kind]
	if !ok {
		text = Label(r.Kind)
	}
	text += " " + On(r.DoneOn)
	if r.Verdict != "" {
		text += "; verdict: " + strings.ToLower(Label(r.Verdict))
	}
	text += "."
	if r.Words != "" {
		text += " “" + r.Words + "”"
	}
	return text
}

// Package report holds the models of reports: rows, totals and where they come
// from. It renders nothing.
package report

import (
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Heading says what a report rests on.
type Heading struct {
	Group        string // slug
	AsOf         calendar.Date
	MadeAt       time.Time
	RulesVersion int
	// Recomputed says that the report was computed anew for a day asked for:
	// records and anchors as of that day, inventory and house rules as they
	// stand today.
	Recomputed bool
}

// Overdue lists what is late, by due date and then urgency, and after it what
// awaits its first round, by urgency and then the date before the first round
// raised it.
type Overdue struct {
	Heading    Heading
	Lines      []registry.ReportLine
	Overdue    int
	FirstRound int
}

// Suspect lists what is suspect or out of use, worst first, with every finding.
type Suspect struct {
	Heading  Heading
	Lines    []registry.ReportLine
	OutOfUse int
	Suspect  int
}

// Today is what a member should look at first.
type Today struct {
	Heading    Heading
	Counts     registry.Counts
	OutOfUse   []registry.ReportLine
	Suspect    []registry.ReportLine
	Overdue    []registry.ReportLine
	FirstRound []registry.ReportLine
	Tasks      []Task     // by site
	Upcoming   []Upcoming // within 30 days, the soonest first
}

// Import says what became of each row of a list: rows = entered + duplicates +
// blank + refused + unchanged. Successors are anchors entered beside the row
// that says "replaced", and are counted apart.
type Import struct {
	ID         string           `json:"id,omitempty"` // empty for a dry run, or if nothing was entered
	DryRun     bool             `json:"dry_run"`
	FileName   string           `json:"file_name"`
	Encoding   string           `json:"encoding"`
	Delimiter  string           `json:"delimiter"`
	Columns    []Column         `json:"columns"`
	Rows       int              `json:"rows"`
	Entered    int              `json:"entered"`
	Successors int              `json:"successors"`
	Duplicates int              `json:"duplicates"`
	Blank      int              `json:"blank"`
	Refused    int              `json:"refused"`
	Unchanged  int              `json:"unchanged"`
	Doubts     []registry.Doubt `json:"doubts"`
	Refusals   []registry.Doubt `json:"refusals"`
	// DuplicateRows names each row entered before, with the line it repeats.
	DuplicateRows []Repeat `json:"duplicate_rows"`
}

// Column says which heading was taken for which field.
type Column struct {
	Heading string `json:"heading"`
	Field   string `json:"field"` // empty: kept as written, not read
}

// Repeat names a row that says the same as an earlier one.
type Repeat struct {
	Line int `json:"line"`
	Of   int `json:"of"`
}

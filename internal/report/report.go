// Package report holds the models of reports: rows, totals and where they come
// from. It renders nothing.
package report

import (
	"time"

	"github.com/google/uuid"

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

// Show names the lines of a report that Today shows together.
type Show string

// What Today shows together.
const (
	ShowUnmarked   Show = "unmarked" // out of use without a marking at the rock
	ShowMarked     Show = "marked"   // out of use, with one
	ShowSuspect    Show = "suspect"
	ShowNew        Show = "new" // of those suspect, what was seen lately
	ShowOverdue    Show = "overdue"
	ShowFirstRound Show = "first-round"
)

// Part is a part of a report's lines: of those shown, or of all if Show is blank,
// Rows of them from From on, counted from 0, or as many as there are. Where From
// lies beyond the last it is the first part, and no Rows is all of them.
type Part struct {
	Show       Show
	From, Rows int
}

// Whole says that the part is all of the report.
func (p Part) Whole() bool { return p.Rows <= 0 && p.Show == "" }

// Of returns which of n lines are in the part: from the one, up to before the
// other.
func (p Part) Of(n int) (from, to int) {
	if p.Rows <= 0 || n <= p.Rows {
		return 0, n
	}
	if p.From > 0 && p.From < n {
		from = p.From
	}
	return from, min(from+p.Rows, n)
}

// Stretch is the first lines of a list, and how many it has.
type Stretch struct {
	Lines []registry.ReportLine
	Total int
}

// Overdue lists what is late, by due date and then urgency, and after it what
// awaits its first round, by urgency and then the date before the first round
// raised it.
type Overdue struct {
	Heading    Heading
	Lines      []registry.ReportLine
	Overdue    int
	FirstRound int
	Narrowed   int // how many lines are shown of the whole, on all parts
}

// Suspect lists what is suspect or out of use, worst first, with every finding.
type Suspect struct {
	Heading  Heading
	Lines    []registry.ReportLine
	OutOfUse int
	Suspect  int
	Narrowed int // as in Overdue
}

// Today is what a member should look at first.
type Today struct {
	Heading    Heading
	Counts     registry.Counts
	OutOfUse   Stretch // without a marking at the rock
	Marked     Stretch // out of use, with one
	Suspect    Stretch
	New        Stretch // of those suspect, of which something was seen lately
	Overdue    Stretch
	FirstRound Stretch
	Tasks      []Task     // by site
	Upcoming   []Upcoming // within 30 days, the soonest first
	Proposals  int        // that whoever asks may decide and nobody has
}

// Import says what became of each row of a list: rows = entered + changed +
// clashes + duplicates + blank + refused + unchanged. A row of which some cells
// were taken over counts as changed, even where others clash; clashes counts
// the rows of which nothing else was taken over. Successors are anchors entered
// beside the row that says "replaced", and are counted apart.
type Import struct {
	ID         string           `json:"id,omitempty"` // empty for a dry run, or if nothing was entered
	DryRun     bool             `json:"dry_run"`
	FileName   string           `json:"file_name"`
	Encoding   string           `json:"encoding"`
	Delimiter  string           `json:"delimiter"`
	Columns    []Column         `json:"columns"`
	Rows       int              `json:"rows"`
	Entered    int              `json:"entered"`
	Changed    int              `json:"changed"`
	Clashes    int              `json:"clashes"`
	Successors int              `json:"successors"`
	Duplicates int              `json:"duplicates"`
	Blank      int              `json:"blank"`
	Refused    int              `json:"refused"`
	Unchanged  int              `json:"unchanged"`
	Proposals  int              `json:"proposals"` // made of notes
	Doubts     []registry.Doubt `json:"doubts"`
	Refusals   []registry.Doubt `json:"refusals"`
	// DuplicateRows names each row entered before, with the line it repeats.
	DuplicateRows []Repeat `json:"duplicate_rows"`
	// ChangedCells are the cells that differ from the list before and were taken
	// over; ClashingCells those that were not, because the register says
	// something else by now than either list.
	ChangedCells  []CellChange `json:"changed_cells"`
	ClashingCells []CellClash  `json:"clashing_cells"`
	// Totals are of a long list, which names no more than MostTold of each kind.
	// Nil: the report names everything.
	Totals *Totals `json:"totals,omitempty"`
}

// CellChange is one cell of a corrected list that was taken over.
type CellChange struct {
	Line     int       `json:"line"`
	Column   string    `json:"column"` // the list's own heading
	Field    string    `json:"field"`
	Place    string    `json:"place"` // site, sector, route and position
	AnchorID uuid.UUID `json:"anchor_id"`
	From     string    `json:"from"` // as the list before had it
	To       string    `json:"to"`
}

// CellClash is one cell of a corrected list that was left alone.
type CellClash struct {
	CellChange
	Register string `json:"register"` // what the register says by now
}

// Undone says that a list was taken back.
type Undone struct {
	ImportID uuid.UUID
	FileName string
	registry.UndoneCounts
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

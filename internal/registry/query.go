package registry

import (
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
)

// Page asks for at most Limit rows after the row with id After, in the order
// of ids, which is the order of entry.
type Page struct {
	Limit int
	After uuid.UUID
}

// AnchorFilter narrows a list of anchors; the zero value lists all.
type AnchorFilter struct {
	SiteID    *uuid.UUID
	RouteID   *uuid.UUID
	Standing  Standing
	DueBefore calendar.Date // due on an earlier day
	Metal     metal.Grade   // anchors that can be of this grade
	BatchID   *uuid.UUID
	Text      string // in label, site, route or notes; case folded
}

// AnchorLine is one anchor in a list: where it is and how it stands.
type AnchorLine struct {
	Anchor   Anchor
	Site     string
	Sector   string
	Route    string // the first of its routes, by name
	Label    string
	Role     PositionRole
	Standing Standing
	DueOn    calendar.Date
	DueState DueState // as of the assessment
	Band     Band
}

// AnchorStory is everything on record about one anchor.
type AnchorStory struct {
	Facts      Facts
	Sector     string
	Routes     []Route
	Landowner  string
	Persons    map[uuid.UUID]string
	Products   map[uuid.UUID]Product
	Batches    map[uuid.UUID]Batch
	Assessment Assessment
	History    []HistoryRow // newest first
	Others     []Anchor     // earlier and later anchors at the position
}

// HistoryRow is one change of what the register showed.
type HistoryRow struct {
	At       time.Time
	Standing Standing
	DueOn    calendar.Date
	DueState DueState
	Rules    []string // the ids of the rules with a finding
}

// ReportLine is one anchor in a report, with its place and its assessment.
type ReportLine struct {
	Place      AnchorLine
	Landowner  string
	Assessment Assessment
}

// Counts is how many living anchors stand where, for the day of asking.
type Counts struct {
	ByStanding map[Standing]int
	ByDueState map[DueState]int
}

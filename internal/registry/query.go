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
	SectorID  *uuid.UUID
	RouteID   *uuid.UUID
	Box       *Box // positions inside; those without coordinates are not
	DueState  DueState
	Standing  Standing
	DueBefore calendar.Date // due on an earlier day
	Metal     metal.Grade   // anchors that can be of this grade
	BatchID   *uuid.UUID
	Text      string // in label, site, route or notes; case folded
}

// Box is a stretch of the map in degrees, WGS 84, edges included.
type Box struct{ West, South, East, North float64 }

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
	Settled  []string // of those, each that a person's answer settled then
}

// ReportLine is one anchor in a report, with its place and its assessment.
type ReportLine struct {
	Place      AnchorLine
	Landowner  string
	Assessment Assessment
	// Restrictions are those that bar the due date; LastOpenDay is then the
	// last day before it that none of them bars, zero where there is none.
	Restrictions []Restriction
	LastOpenDay  calendar.Date
}

// LandRecord is one record made at a position on a landowner's land.
type LandRecord struct {
	LandownerID *uuid.UUID // nil: whose land is not known
	AnchorID    uuid.UUID
	RecordID    uuid.UUID
	Kind        string // the name of its table: "installation", "marking"
	DoneOn      calendar.Span
	Verdict     Verdict
	Words       string
}

// EnvironmentField is one field of a place's environment and where it comes
// from.
type EnvironmentField struct {
	Field         string // the JSON name
	Value         string // canonical text
	Place         Place
	EnvironmentID uuid.UUID
	From          calendar.Date
}

// Counts is how many living anchors stand where, for the day of asking.
type Counts struct {
	ByStanding map[Standing]int
	ByDueState map[DueState]int
}

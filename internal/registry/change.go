package registry

import (
	"time"

	"github.com/google/uuid"
)

// Change is everything that one use case writes in one transaction. Nouns with
// version 0 are new, others replace the stored row of that version. Records
// are always new.
type Change struct {
	What string // for the ledger: "import", "inspection", "anchor changed"
	At   time.Time

	Sites     []Site
	Sectors   []Sector
	Routes    []Route
	Positions []Position
	Stops     []Stop
	// StopsOf names positions whose stored stops give way to those in Stops.
	// The stops of other positions in Stops are new.
	StopsOf    []uuid.UUID
	Assemblies []Assembly

	Persons    []Person
	Erasures   []Erasure // of some of Persons and Landowners
	LegalHolds []LegalHold
	// Unheld names those over whom, as this is written, no legal hold may be in
	// force: what they are called changes with it.
	Unheld     []Unheld
	Landowners []Landowner
	Parcels    []Parcel
	Products   []Product
	Batches    []Batch

	Agreements      []Agreement
	Restrictions    []Restriction
	ProductVersions []ProductVersion // always new
	Environments    []Environment
	Events          []Event
	Notices         []Notice

	Anchors []Anchor
	// Vacant names positions at which, as this is written, no anchor may stand
	// and which must not have ended: one comes out before the next is set.
	Vacant   []uuid.UUID
	Fittings []Fitting
	Pictures []Picture

	Sessions      []GluingSession
	Installations []Installation
	Cures         []Cure
	FirstUses     []FirstUse
	Inspections   []Inspection
	Maintenance   []Maintenance
	Removals      []Removal
	Markings      []Marking
	Settlements   []Settlement
	Retractions   []Retraction

	Import     *Import
	ImportRows []ImportRow
	ImportUndo *ImportUndo // a list taken back
	Proposals  []Proposal
	// Job is what a piece leaves of the job it belongs to. Nil: no piece. With
	// one, Import is nil once the import is there.
	Job *ImportJob

	// Rules are new house rules as JSON with their version; nil: unchanged.
	Rules        []byte
	RulesVersion int

	Assessments []Assessment
	// Assess gives more of them. It is asked while the rest is being written, and
	// only of a change that has more content. Nil: there are none.
	Assess func() []Assessment
	// Judge assesses the anchors that the change makes and gives no assessment of,
	// from their facts as the change leaves them. Nil: they are queued.
	Judge func(Facts) Assessment
	// Heeded are the notices by criterion, with their versions, that the
	// assessments of anchors made rest on.
	Heeded map[uuid.UUID]int
}

// Import is one list taken over.
type Import struct {
	ID        uuid.UUID
	FileName  string
	FileHash  string // SHA-256 of the bytes, hex
	Headings  []string
	Encoding  string
	Delimiter string
	Report    []byte // the import report as JSON
	At        time.Time
}

// ImportRow remembers one row of an imported list, so that the same file again
// enters nothing.
type ImportRow struct {
	ImportID uuid.UUID
	Line     int
	Key      string   // ListRow.Key
	Print    string   // ListRow.Print
	Cells    []string // as written, in the order of the headings
	Taken    *ListRow // what was read from the cells. Nil: not kept
	AnchorID uuid.UUID
	Changed  bool // an anchor that an earlier list entered
}

// Known is what an import must know of the register before it decides: nouns
// by their folded names, and rows of earlier imports by key. Of places it holds
// those at the sites that were asked for, and of positions there only those that
// have not ended, by where they are and their labels.
type Known struct {
	Sites      []Site
	Sectors    []Sector
	Routes     []Route
	Positions  []Position
	Stops      []Stop
	Persons    []Person
	Landowners []Landowner
	Parcels    []Parcel
	Products   []Product
	Batches    []Batch
	Rows       map[string]KnownRow // by key, the latest of each
	// Entered are the lists of the same bytes that were entered before.
	Entered []EnteredList
	// Past are the latest rows about anchors that were asked for, Facts what
	// the register holds of those; both by anchor.
	Past  map[uuid.UUID]PastRow
	Facts map[uuid.UUID]Facts
	// Proposals are those about the anchors that were asked for, whatever their
	// state.
	Proposals map[uuid.UUID][]Proposal
	Notices   []Notice           // that go by a criterion
	Sheeted   map[uuid.UUID]bool // products of which there is a sheet
}

package registry

import (
	"slices"
	"time"

	"github.com/google/uuid"
)

// KnownRow is what an import must know of every row of the lists before it.
type KnownRow struct {
	Print    string // ListRow.Print
	AnchorID uuid.UUID
}

// EnteredList is how a list that was entered before was read.
type EnteredList struct {
	Columns map[string]string // field -> heading that was taken for it
}

// PastRow is a row of an earlier list, to compare a corrected one with.
type PastRow struct {
	Key      string // ListRow.Key
	Headings []string
	Columns  map[string]string // field -> heading that was taken for it
	Cells    []string          // as written, in the order of the headings
	Taken    *ListRow          // what was read from the cells. Nil: not kept
}

// Cell returns what was written in the column that was taken for a field.
func (p *PastRow) Cell(field string) string { return CellOf(p.Headings, p.Columns, p.Cells, field) }

// CellOf returns the cell of a row under the heading that was taken for a
// field, "" where there is none.
func CellOf(headings []string, columns map[string]string, cells []string, field string) string {
	heading, ok := columns[field]
	if !ok {
		return ""
	}
	if at := slices.Index(headings, heading); at >= 0 && at < len(cells) {
		return cells[at]
	}
	return ""
}

// ImportUndo says that a list was taken back.
type ImportUndo struct {
	ImportID uuid.UUID
	Counts   UndoneCounts
	At       time.Time
}

// Undoing is what must be known before an import is undone.
type Undoing struct {
	ImportID uuid.UUID
	FileName string
	At       time.Time // of the import
	Undone   bool      // already
	Open     bool      // it is still being entered
	Asked    bool      // it waits to be undone
	// Made are the ids of what the import entered, by table.
	Made map[string][]uuid.UUID
	// Altered says how often it changed a site, those that it made too.
	Altered map[uuid.UUID]int
	// Corrected are the anchors of other lists that it changed, each with the row
	// that did. A row of an earlier version is not known: nil.
	Corrected map[uuid.UUID]*ListRow
	// Before are what the list in force before had of those, by anchor. One that is
	// missing is not known.
	Before map[uuid.UUID]*ListRow
	// Later are, by anchor, the newest lists in force that changed what it entered,
	// or say anything of what it corrected.
	Later map[uuid.UUID]*LaterList
	// Landowners and Parcels are all there are, if it corrected anything.
	Landowners []Landowner
	Parcels    []Parcel
	// Assemblies are those that name the positions that it made.
	Assemblies []Assembly
}

// LaterList is a list that was taken over after another.
type LaterList struct {
	ImportID uuid.UUID
	FileName string
	At       time.Time
}

// UndoPiece is some of the anchors that an import entered or corrected.
type UndoPiece struct {
	Facts     []Facts  // of those entered, in the order of ids
	Corrected []Facts  // of those of other lists, in the order of ids
	Beside    []Anchor // anchors of others at their positions
	// ByLists says, of anchors and fittings that were changed since or entered
	// otherwise, how many of their versions came of lists and of undoing these.
	ByLists map[uuid.UUID]int
	// Proposals are those about the anchors, whatever their state.
	Proposals []Proposal
}

// PlacesLeft is what is at the sites that an import made or placed anchors at,
// once all its anchors are taken back.
type PlacesLeft struct {
	Sites     []Site
	Sectors   []Sector
	Routes    []Route
	Positions []Position // that have not ended, by where they are and their labels
	Stops     []Stop     // of ended positions too

	// Landowners are those that the import made; Parcels those that it made, and
	// those of its landowners.
	Landowners []Landowner
	Parcels    []Parcel
	// LandUsed are those of them that something else stands on: a position that has
	// not ended or a restriction on the parcel, an agreement with the landowner.
	LandUsed map[uuid.UUID]bool
}

// UndoSteps say what to write while an import is undone.
type UndoSteps struct {
	Take func(UndoPiece) Change           // for each piece
	End  func(PlacesLeft) (Change, error) // an error leaves everything as it was
}

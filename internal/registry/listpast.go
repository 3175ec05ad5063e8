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
	Anchors  int // how many anchors were taken back with it
	At       time.Time
}

// Undoing is what must be known before an import is undone.
type Undoing struct {
	ImportID uuid.UUID
	FileName string
	At       time.Time // of the import
	Undone   bool      // already
	// Made are the ids of what the import entered, by table.
	Made map[string][]uuid.UUID
	// Facts are of the anchors it entered, in the order of ids.
	Facts []Facts
	// Proposals are those about the anchors it entered, whatever their state.
	Proposals []Proposal
	// Corrected are the anchors of other lists that it changed.
	Corrected []uuid.UUID
	// Beside are the anchors of others at the positions that it made.
	Beside []Anchor
	// Assemblies are those that name the positions that it made.
	Assemblies []Assembly
	Sites      []Site
	Sectors    []Sector
	Routes     []Route
	Positions  []Position // of the group
	Stops      []Stop
}

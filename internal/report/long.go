package report

import (
	"cmp"
	"slices"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// MostTold is how many doubts, refusals, repeats and cells of each kind the
// report of a long list names; a default of this project.
const MostTold = 1000

// Totals say how many of each kind there are, and of which codes.
type Totals struct {
	Doubts        int            `json:"doubts"`
	Refusals      int            `json:"refusals"`
	DuplicateRows int            `json:"duplicate_rows"`
	ChangedCells  int            `json:"changed_cells"`
	ClashingCells int            `json:"clashing_cells"`
	DoubtCodes    map[string]int `json:"doubt_codes"`
	RefusalCodes  map[string]int `json:"refusal_codes"`
}

// ImportState says how far a list is on its way into the register, or out.
type ImportState struct {
	ID       uuid.UUID
	State    registry.JobState
	Code     string // why it failed, a fault code. Empty: it did not
	FileName string
	Rows     int
	RowsDone int // decided on
	At       time.Time
	Report   Import // what became of the rows so far
	Trial    bool   // nothing of it is entered
	Kept     bool   // of a trial that is done: its rows may still be entered
	Begun    bool   // some of it is entered, or was
	// UndoAt is when it was last asked to be undone. Nil: it was not.
	UndoAt   *time.Time
	InTheWay *registry.Refusal // why it was not. Nil: nothing is known to be in the way
	Undone   *Undone           // what was taken back. Nil: nothing, or it is not known
}

// Long bounds a report to MostTold of each kind, and counts them.
func (r Import) Long() Import {
	out := r
	out.Totals = &Totals{
		Doubts: len(r.Doubts), Refusals: len(r.Refusals), DuplicateRows: len(r.DuplicateRows),
		ChangedCells: len(r.ChangedCells), ClashingCells: len(r.ClashingCells),
		DoubtCodes: codes(r.Doubts), RefusalCodes: codes(r.Refusals),
	}
	return out.bounded()
}

// bounded drops what is beyond MostTold of each kind, and is apart from r.
func (r Import) bounded() Import {
	r.Doubts, r.Refusals = firstOf(r.Doubts), firstOf(r.Refusals)
	r.DuplicateRows, r.ChangedCells, r.ClashingCells = firstOf(r.DuplicateRows), firstOf(r.ChangedCells), firstOf(r.ClashingCells)
	return r
}

func firstOf[T any](list []T) []T { return slices.Clone(list[:min(len(list), MostTold)]) }

func codes(list []registry.Doubt) map[string]int {
	counts := make(map[string]int)
	for i := range list {
		counts[list[i].Code]++
	}
	return counts
}

// With is a long report and that of one more piece of its rows together. Neither
// is modified.
func (r Import) With(piece Import) Import {
	r.Entered += piece.Entered
	r.Changed += piece.Changed
	r.Clashes += piece.Clashes
	r.Successors += piece.Successors
	r.Duplicates += piece.Duplicates
	r.Blank += piece.Blank
	r.Refused += piece.Refused
	r.Unchanged += piece.Unchanged
	r.Proposals += piece.Proposals
	r.Totals = r.Totals.plus(piece.Long().Totals)
	r = r.bounded()
	r.Doubts, r.Refusals = append(r.Doubts, piece.Doubts...), append(r.Refusals, piece.Refusals...)
	r.DuplicateRows = append(r.DuplicateRows, piece.DuplicateRows...)
	r.ChangedCells = append(r.ChangedCells, piece.ChangedCells...)
	r.ClashingCells = append(r.ClashingCells, piece.ClashingCells...)
	byLine := func(a, b registry.Doubt) int { return cmp.Compare(a.Line, b.Line) }
	slices.SortStableFunc(r.Doubts, byLine)
	slices.SortStableFunc(r.Refusals, byLine)
	return r.bounded()
}

func (t *Totals) plus(o *Totals) *Totals {
	return &Totals{
		Doubts: t.Doubts + o.Doubts, Refusals: t.Refusals + o.Refusals, DuplicateRows: t.DuplicateRows + o.DuplicateRows,
		ChangedCells: t.ChangedCells + o.ChangedCells, ClashingCells: t.ClashingCells + o.ClashingCells,
		DoubtCodes: sum(t.DoubtCodes, o.DoubtCodes), RefusalCodes: sum(t.RefusalCodes, o.RefusalCodes),
	}
}

func sum(a, b map[string]int) map[string]int {
	out := make(map[string]int)
	for _, counts := range []map[string]int{a, b} {
		for code, n := range counts {
			out[code] += n
		}
	}
	return out
}

package registry

import (
	"time"

	"github.com/google/uuid"

	"rockledger/internal/fault"
)

// JobState says how far a long list is on its way into the register, or out.
type JobState string

// The states of a job.
const (
	JobWaiting JobState = "waiting"
	JobRunning JobState = "running" // some of it is entered
	JobDone    JobState = "done"
	JobFailed  JobState = "failed"  // what is entered stays; the same file again continues it
	JobUndoing JobState = "undoing" // all of it is still there
	JobUndone  JobState = "undone"  // taken back
	JobTrying  JobState = "trying"  // a trial on its way
	JobTried   JobState = "tried"   // a trial that is done: nothing was entered
)

// JobStates lists the states, in the order they come in.
func JobStates() []JobState {
	return []JobState{JobWaiting, JobRunning, JobDone, JobFailed, JobUndoing, JobUndone, JobTrying, JobTried}
}

// ImportJob is a long list on its way into the register, piece by piece, on trial
// or on its way out again. Its id is that of its import, which is there once
// anything was entered.
type ImportJob struct {
	ID        uuid.UUID
	FileName  string
	FileHash  string // SHA-256 of the bytes, hex
	Headings  []string
	Columns   map[string]string // field -> heading that was taken for it
	Encoding  string
	Delimiter string
	Who       string    // handed it in
	At        time.Time // when
	State     JobState
	Code      string // why it failed, a fault code. Empty: it did not
	Pieces    int
	Taken     int    // pieces entered
	RowsDone  int    // rows decided on
	Begun     bool   // its import is there
	Report    []byte // what became of its rows so far, as JSON

	// Trial says that nothing of it is entered.
	Trial bool
	// Sifted is, of a trial whose rows are kept after it, the report that entering
	// them begins with, as JSON. Nil: they are not kept.
	Sifted []byte

	UndoWho string     // asked last for it to be undone. Empty: nobody
	UndoAt  *time.Time // when. Nil: nobody asked
	// InTheWay is why it could not be undone when that was asked last. Nil: nothing
	// stood in the way, or it is still to be seen.
	InTheWay *Refusal
	Undone   *UndoneCounts // what was taken back. Nil: nothing, or it is not known
}

// Open says whether rows are left to be entered, and nothing is against it.
func (j *ImportJob) Open() bool { return j.State == JobWaiting || j.State == JobRunning }

// InHand says whether somebody works at it, or will.
func (j *ImportJob) InHand() bool { return j.Open() || j.State == JobUndoing || j.State == JobTrying }

// UndoneCounts say how much was taken back with an import.
type UndoneCounts struct {
	Anchors int `json:"anchors"`
	Records int `json:"records"` // retracted
	Places  int `json:"places"`  // sites, sectors, routes and positions ended
}

// Refusal is why something asked for was not done in the end, kept until whoever
// asked comes to see.
type Refusal struct {
	Kind       fault.Kind        `json:"kind"`
	Code       fault.Code        `json:"code"`
	Values     map[string]string `json:"values,omitempty"`
	Violations []fault.Violation `json:"violations,omitempty"`
}

// RefusalOf keeps what of an error may be told.
func RefusalOf(err error) *Refusal {
	e, ok := fault.As(err)
	if !ok {
		e = fault.New(fault.Internal, "")
	}
	return &Refusal{Kind: e.Kind, Code: e.Code, Values: e.Values, Violations: e.Violations}
}

// Err is the refusal as an error again.
func (r *Refusal) Err() error {
	e := fault.New(r.Kind, "it was refused").WithCode(r.Code)
	e.Values, e.Violations = r.Values, r.Violations
	return e
}

// List is the job's list, with the rows and doubts of one piece.
func (j *ImportJob) List(p Piece) List {
	l := List{
		FileName: j.FileName, FileHash: j.FileHash, Encoding: j.Encoding, Delimiter: j.Delimiter,
		Headings: j.Headings, Columns: j.Columns, Rows: make([]ListRow, len(p.Rows)), Doubts: p.Doubts,
	}
	for i, r := range p.Rows {
		l.Rows[i] = r.ListRow
		l.Rows[i].Cells, l.Rows[i].Noted = r.Written, r.OfNotes
	}
	return l
}

// Piece is rows of a long list that are entered together, each about a spot of
// its own, with what was doubted of them.
type Piece struct {
	Rows   []PieceRow
	Doubts []Doubt
}

// PieceRow is a row as it is kept until it is entered.
type PieceRow struct {
	ListRow
	Written []string // its cells
	OfNotes []Noted  // what its notes would become
}

// NewPieceRow returns a row to be kept.
func NewPieceRow(r ListRow) PieceRow { return PieceRow{ListRow: r, Written: r.Cells, OfNotes: r.Noted} }

// Wanted says what an intake must know of the register: the zero value asks for
// nothing but the house rules.
type Wanted struct {
	// Rows are those of the list: of places, what is at the sites that they
	// name is known, of earlier lists, rows of their keys.
	Rows []ListRow
	// Anchors picks, of what is known, the anchors whose facts and latest rows
	// are needed. Nil: none.
	Anchors func(Known) []uuid.UUID
}

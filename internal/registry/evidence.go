package registry

import (
	"time"

	"github.com/google/uuid"
)

// Evidence is what the log of changes tells of one anchor, cut at an instant:
// what was known by then, what is known now, and every entry between.
type Evidence struct {
	// Known says that the anchor was on record by then; Then is empty if not.
	Known bool
	// Then and Now are the anchor's story put together from the log alone. They
	// lack landowners, the names of other anchors at the position, and an
	// assessment; History is what the register showed, newest first. Persons
	// have the names that they have today: the log holds none.
	Then, Now  AnchorStory
	ShownLater []HistoryRow // of Now's history what Then's lacks, newest first
	Lines      []LedgerLine // in the order of entry
	// Actors names whoever an entry refers to, as far as they are members or
	// tokens of the group today.
	Actors map[string]string
	// Lists are those taken over that have the anchor, by the id of their import.
	Lists map[uuid.UUID]ListOrigin
}

// ListOrigin is where on a list taken over an anchor stands.
type ListOrigin struct {
	FileName string
	Lines    []int // of the file, from 1, in order
}

// WordsSealed stands in a row put together from the log where words were that
// are another's now: the log holds none, and the register keeps only the last.
const WordsSealed = "the words of that day were changed since; the register holds only their seal"

// LedgerLine is one entry of the log: who changed which row, when, in the
// course of what.
type LedgerLine struct {
	At     time.Time
	Who    string // a reference, as in Actor.Who
	What   string // the use case
	Noun   string // the table
	RowID  uuid.UUID
	Before string // canonical JSON of the row, its words as by WordsSealed; empty: it is new
	After  string // canonical JSON of the row, its words as by WordsSealed; empty: it is gone
	Known  bool   // entered by the instant that the evidence is cut at
}

// links are the tables whose rows tie others together: several have the same
// RowID, and each is told by its text.
var links = map[string]bool{"route_position": true, "assembly_position": true, "notice_anchor": true}

// IsLink says that the line ties two rows together, or parts them.
func (l *LedgerLine) IsLink() bool { return links[l.Noun] }

// rowKey tells rows apart.
type rowKey struct {
	noun string
	id   uuid.UUID
	text string // of a link
}

func (l *LedgerLine) key() rowKey {
	k := rowKey{noun: l.Noun, id: l.RowID}
	if l.IsLink() {
		k.text = l.Before + l.After // one of them is empty
	}
	return k
}

// State returns the last of the lines about each row, in the order in which the
// rows were first entered, without those that are gone. lines are in the order
// of entry.
func State(lines []LedgerLine) []LedgerLine {
	last := make(map[rowKey]int, len(lines))
	var order []rowKey
	for i := range lines {
		k := lines[i].key()
		if _, seen := last[k]; !seen {
			order = append(order, k)
		}
		last[k] = i
	}
	var out []LedgerLine
	for _, k := range order {
		if l := lines[last[k]]; l.After != "" {
			out = append(out, l)
		}
	}
	return out
}

// KnownLines are the lines entered by the instant of the evidence.
func (e *Evidence) KnownLines() []LedgerLine {
	return keep(e.Lines, func(l LedgerLine) bool { return l.Known })
}

// LaterLines are the lines entered after it.
func (e *Evidence) LaterLines() []LedgerLine {
	return keep(e.Lines, func(l LedgerLine) bool { return !l.Known })
}

// Shown is what the register showed last by the instant of the evidence; nil:
// nothing yet.
func (e *Evidence) Shown() *HistoryRow {
	if len(e.Then.History) == 0 {
		return nil
	}
	return &e.Then.History[0]
}

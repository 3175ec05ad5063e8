package ledger

import (
	"crypto/sha256"
	"time"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/google/uuid"

	"rockledger/internal/fault"
)

// Entry is one line of the log: who changed which row, when, in the course of
// what, and how the row read before and after.
type Entry struct {
	GroupID uuid.UUID
	At      time.Time // whole microseconds count; the zone does not
	Who     string    // a reference, never a person's name
	What    string    // the use case
	Noun    string    // the table
	RowID   uuid.UUID
	Before  string // canonical text of the row; empty: it is new
	After   string // canonical text of the row; empty: it is gone
}

// instant is how an entry's text writes its instant: UTC, six decimals.
const instant = "2006-01-02T15:04:05.000000Z"

// Text returns the entry's canonical text: one JSON object as by Canonical,
// with before and after as texts of their own, null where there is none.
//
// Errors are Invalid: an entry without an instant, or text that is not
// well-formed Unicode.
func (e Entry) Text() (string, error) {
	if e.At.IsZero() {
		return "", fault.New(fault.Invalid, "ledger entry without an instant")
	}
	text := make([]byte, 0, 2*(len(e.Before)+len(e.After))+entrySize)
	for _, m := range [...]struct{ head, value string }{ // in the order of RFC 8785
		{`{"after":`, e.After},
		{`,"at":`, e.At.UTC().Truncate(time.Microsecond).Format(instant)},
		{`,"before":`, e.Before},
		{`,"group_id":`, e.GroupID.String()},
		{`,"noun":`, e.Noun},
		{`,"row_id":`, e.RowID.String()},
		{`,"what":`, e.What},
		{`,"who":`, e.Who},
	} {
		text = append(text, m.head...)
		if m.value == "" && (m.head == `{"after":` || m.head == `,"before":`) {
			text = append(text, "null"...)
			continue
		}
		var err error
		if text, err = jsontext.AppendQuote(text, m.value); err != nil {
			return "", fault.Wrap(fault.Invalid, err, "write ledger entry")
		}
	}
	return string(append(text, '}')), nil
}

// entrySize is about what an entry's text needs beside before and after, bytes.
const entrySize = 400

// Hash returns the SHA-256 of the entry's text; its errors are those of Text.
func (e Entry) Hash() ([sha256.Size]byte, error) {
	text, err := e.Text()
	if err != nil {
		return [sha256.Size]byte{}, err
	}
	return sha256.Sum256([]byte(text)), nil
}

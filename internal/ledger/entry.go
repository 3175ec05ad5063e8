package ledger

import (
	"crypto/sha256"
	"time"

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
	return Canonical(struct {
		GroupID uuid.UUID `json:"group_id"`
		At      string    `json:"at"`
		Who     string    `json:"who"`
		What    string    `json:"what"`
		Noun    string    `json:"noun"`
		RowID   uuid.UUID `json:"row_id"`
		Before  *string   `json:"before"`
		After   *string   `json:"after"`
	}{
		e.GroupID, e.At.UTC().Truncate(time.Microsecond).Format(instant), e.Who, e.What, e.Noun, e.RowID,
		orNull(e.Before), orNull(e.After),
	})
}

// Hash returns the SHA-256 of the entry's text; its errors are those of Text.
func (e Entry) Hash() ([sha256.Size]byte, error) {
	text, err := e.Text()
	if err != nil {
		return [sha256.Size]byte{}, err
	}
	return sha256.Sum256([]byte(text)), nil
}

func orNull(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}

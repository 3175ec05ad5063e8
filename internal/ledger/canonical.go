// Package ledger answers what exactly one entry of the log of changes says:
// its canonical text and the hash over it. It is pure: it neither reads nor
// writes the log, and does not judge a change.
package ledger

import (
	"encoding/json"

	"github.com/go-json-experiment/json/jsontext"

	"rockledger/internal/fault"
)

// Canonical returns v's JSON in the one form that RFC 8785 gives it: members
// in the order of their names' UTF-16 code units, no spaces, numbers as the
// shortest text that reads back as the same IEEE 754 double. The same value
// always gives the same bytes. A json.RawMessage is taken as JSON.
//
// Numbers beyond 2^53 lose digits, so ids and instants are texts.
//
// Errors are Invalid: what JSON cannot hold (NaN, infinity, a channel), a name
// twice in one object, and text that is not well-formed Unicode.
//
// Source: RFC 8785, JSON Canonicalization Scheme.
func Canonical(v any) (string, error) {
	text, err := json.Marshal(v)
	if err != nil {
		return "", fault.Wrap(fault.Invalid, err, "write as JSON")
	}
	canonical := jsontext.Value(text)
	if err := canonical.Canonicalize(); err != nil {
		return "", fault.Wrap(fault.Invalid, err, "write as canonical JSON")
	}
	return string(canonical), nil
}

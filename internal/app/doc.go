// Package app holds the use cases: it asks whether the actor may, loads, lets
// the computing packages decide, and saves. It turns the rows of an anchor list
// into nouns and records, keeps every assessment fresh, and owns the clock.
//
// It computes no date and no standing itself, knows no SQL and no format, and
// renders nothing.
package app

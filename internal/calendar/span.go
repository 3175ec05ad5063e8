package calendar

import (
	"fmt"
	"time"

	"rockledger/internal/fault"
)

// Span is an uncertain date: one day that lies somewhere in From to To, both
// included. Both zero: not known. What was written is kept in Words, also when
// nothing could be read from it.
type Span struct {
	From  Date   `json:"from,omitempty"`
	To    Date   `json:"to,omitempty"`
	Words string `json:"words,omitempty"`
}

// Exactly returns the span of the single day d; "no date" gives "not known".
func Exactly(d Date) Span { return Span{From: d, To: d} }

// Known reports whether anything is known of the date.
func (s Span) Known() bool { return s.From != 0 && s.To != 0 }

// Exact reports whether the date is known to the day.
func (s Span) Exact() bool { return s.Known() && s.From == s.To }

// Validate reports, as fault.Invalid, a span with one end only
// (fault.Required) or with its ends the wrong way round (fault.Order).
func (s Span) Validate() error {
	var c fault.Checks
	c.Require(s.From != 0 || s.To == 0, "from", fault.Required)
	c.Require(s.To != 0 || s.From == 0, "to", fault.Required)
	c.Require(!s.Known() || s.From <= s.To, "to", fault.Order)
	return c.Err()
}

// String returns the span for people: "2 May 2025", "May 2009", "2014",
// "between 1 June and 31 August 2003", "not known".
func (s Span) String() string {
	switch {
	case !s.Known():
		return "not known"
	case s.Exact():
		return s.From.Words()
	case s == (Span{year(s.From), year(s.From).AddYears(1) - 1, s.Words}):
		return s.From.Time().Format("2006")
	case s == (Span{month(s.From), month(s.From).AddMonths(1) - 1, s.Words}):
		return s.From.Time().Format("January 2006")
	}
	return fmt.Sprintf("between %s and %s", s.start(), s.To.Words())
}

// start returns From without what it has in common with To.
func (s Span) start() string {
	switch {
	case month(s.From) == month(s.To):
		return s.From.Time().Format("2")
	case year(s.From) == year(s.To):
		return s.From.Time().Format("2 January")
	}
	return s.From.Words()
}

// year returns the first day of d's year.
func year(d Date) Date {
	y, _, _ := d.Civil()
	return NewDate(y, time.January, 1)
}

// month returns the first day of d's month.
func month(d Date) Date {
	y, m, _ := d.Civil()
	return NewDate(y, m, 1)
}

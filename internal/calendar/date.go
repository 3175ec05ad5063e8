// Package calendar answers questions about civil dates: exact ones, uncertain
// ones as people write them, and windows that come back every year.
//
// It knows neither clock nor time zone: what day it is "today" is passed in.
// Seasons are the meteorological ones of the northern hemisphere.
package calendar

import (
	"time"

	"rockledger/internal/fault"
)

// Date is a civil date of the proleptic Gregorian calendar, as days since
// 0000-12-31. The zero value means "no date". Dates compare with < and ==, and
// differ by a number of days.
type Date int32

// unixEpoch is 1970-01-01.
const unixEpoch = 719163

const secondsPerDay = 24 * 60 * 60

// NewDate returns the date of year y, month m and day d. Values outside their
// usual ranges are carried over as by time.Date: 32 January is 1 February.
func NewDate(y int, m time.Month, d int) Date {
	return fromUTC(time.Date(y, m, d, 0, 0, 0, 0, time.UTC))
}

// fromUTC takes a midnight in UTC, which is a whole number of days.
func fromUTC(t time.Time) Date {
	return Date(t.Unix()/secondsPerDay + unixEpoch) //nolint:gosec // years to five digits fit
}

// On returns the civil date of the instant t in loc, "no date" for the zero
// time.
func On(t time.Time, loc *time.Location) Date {
	if t.IsZero() {
		return 0
	}
	return NewDate(t.In(loc).Date())
}

// IsZero reports whether d is "no date".
func (d Date) IsZero() bool { return d == 0 }

// Civil returns d's year, month and day. For "no date" they mean nothing.
func (d Date) Civil() (int, time.Month, int) { return d.midnight().Date() }

// Time returns midnight of d in UTC. For "no date" it returns the zero time.
func (d Date) Time() time.Time {
	if d == 0 {
		return time.Time{}
	}
	return d.midnight()
}

func (d Date) midnight() time.Time {
	return time.Unix((int64(d)-unixEpoch)*secondsPerDay, 0).UTC()
}

// AddDays returns the date n days after d. "No date" stays so.
func (d Date) AddDays(n int) Date {
	if d == 0 {
		return 0
	}
	return d + Date(n) //nolint:gosec // years to five digits fit
}

// AddMonths returns the same day n months after d, or the last day of that
// month if it has no such day: 2024-02-29 and 12 months is 2025-02-28. "No
// date" stays so.
func (d Date) AddMonths(n int) Date {
	if d == 0 {
		return 0
	}
	y, m, day := d.Civil()
	if day <= 28 { // every month has it
		return NewDate(y, m+time.Month(n), day)
	}
	last := NewDate(y, m+time.Month(n)+1, 0)
	if _, _, end := last.Civil(); day >= end {
		return last
	}
	return NewDate(y, m+time.Month(n), day)
}

// AddYears returns the same day n years after d; 29 February becomes the 28th
// in a year that has none. "No date" stays so.
func (d Date) AddYears(n int) Date { return d.AddMonths(12 * n) }

// String returns d as "2006-01-02", "" for "no date".
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	return d.Time().Format(time.DateOnly)
}

// Words returns d for people: "2 May 2025", "" for "no date".
func (d Date) Words() string {
	if d == 0 {
		return ""
	}
	return d.Time().Format("2 January 2006")
}

// ParseDate reads "2006-01-02" and nothing else, years 0001 to 9999.
//
// Errors are Invalid: fault.Blank for nothing, fault.NoSuchDay for a day the
// calendar does not have, fault.NotADate for anything else.
func ParseDate(s string) (Date, error) {
	if s == "" {
		return 0, fault.Reject(fault.Blank, "no date")
	}
	t, err := time.Parse(time.DateOnly, s)
	switch {
	case err == nil && t.Year() >= 1:
		return fromUTC(t), nil
	case looksISO(s):
		return 0, fault.Reject(fault.NoSuchDay, "date %q: no such day", s).With("text", s)
	}
	return 0, fault.Reject(fault.NotADate, "date %q: want yyyy-mm-dd", s).With("text", s)
}

// looksISO reports whether s has the shape 9999-99-99.
func looksISO(s string) bool {
	if len(s) != len(time.DateOnly) {
		return false
	}
	for i := range len(s) {
		if dash := i == 4 || i == 7; dash != (s[i] == '-') || !dash && (s[i] < '0' || s[i] > '9') {
			return false
		}
	}
	return true
}

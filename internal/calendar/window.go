package calendar

import (
	"time"

	"rockledger/internal/fault"
)

// Window is a stretch of days that comes back every year, both ends included.
// It may run over new year: 1 November to 28 February. A window that ends on 28
// February leaves 29 February out; one that ends on the 29th includes it where
// there is one.
type Window struct {
	FromMonth time.Month `json:"from_month"`
	FromDay   int        `json:"from_day"`
	ToMonth   time.Month `json:"to_month"`
	ToDay     int        `json:"to_day"`
}

// Validate reports, as fault.Invalid with fault.NoSuchDay, an end that is no
// day of any year; so a window always has a day.
func (w Window) Validate() error {
	var c fault.Checks
	checkDay(&c, "from", w.FromMonth, w.FromDay)
	checkDay(&c, "to", w.ToMonth, w.ToDay)
	return c.Err()
}

// checkDay wants a month, and a day that it has in some year.
func checkDay(c *fault.Checks, end string, m time.Month, d int) {
	isMonth := m >= time.January && m <= time.December
	c.Require(isMonth, end+"_month", fault.OutOfRange, "from", "1", "to", "12")
	c.Require(!isMonth || isDay(m, d), end+"_day", fault.NoSuchDay)
}

// isDay reports whether some year has that day.
func isDay(m time.Month, d int) bool {
	const leapYear = 2024
	_, month, day := NewDate(leapYear, m, d).Civil()
	return month == m && day == d
}

// Contains reports whether d lies in the window of its year. "No date" lies in
// none.
func (w Window) Contains(d Date) bool {
	if d == 0 {
		return false
	}
	_, m, day := d.Civil()
	from, to, at := inYear(w.FromMonth, w.FromDay), inYear(w.ToMonth, w.ToDay), inYear(m, day)
	if from <= to {
		return from <= at && at <= to
	}
	return at >= from || at <= to
}

// inYear orders the days of a year.
func inYear(m time.Month, d int) int { return int(m)*100 + d }

// LastDayBefore returns the last day outside the window on or before d: d
// itself if it lies outside. It returns "no date" if there is none in the nine
// years before (the longest gap between two 29 Februaries is eight), that is,
// for a window that takes the whole year.
func (w Window) LastDayBefore(d Date) Date {
	const farthest = 9 * 366
	for day := d; day > 0 && d-day < farthest; day-- {
		if !w.Contains(day) {
			return day
		}
	}
	return 0
}

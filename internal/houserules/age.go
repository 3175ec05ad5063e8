package houserules

import "rockledger/internal/calendar"

// ageBands are the rows of the age table with the age at which each begins,
// which it includes.
var ageBands = []struct {
	years int
	row   string
}{{0, "under-20-years"}, {20, "20-to-30-years"}, {30, "30-to-50-years"}, {50, "50-years-or-more"}}

func bandNames() []string {
	names := make([]string, len(ageBands))
	for i, b := range ageBands {
		names[i] = b.row
	}
	return names
}

// ageBand returns the row for an anchor set at the earliest on set, "no date"
// for not known.
func ageBand(set, asOf calendar.Date) string {
	if set.IsZero() {
		return NotKnown
	}
	row := ageBands[0].row
	for _, b := range ageBands[1:] {
		if set.AddYears(b.years) <= asOf {
			row = b.row
		}
	}
	return row
}

// Birthdays returns the days after asOf on which an anchor set at the earliest
// on set enters another age band, in order: at most three, none if the day is
// not known.
func Birthdays(set, asOf calendar.Date) []calendar.Date {
	if set.IsZero() {
		return nil
	}
	var days []calendar.Date
	for _, b := range ageBands[1:] {
		if day := set.AddYears(b.years); day > asOf {
			days = append(days, day)
		}
	}
	return days
}

package schedule

import (
	"strconv"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// HalfLate returns the last day on which the anchor is late by no more than
// half its interval, in whole days: the interval of what set the date, an
// event's days, a duty's months. What has none of its own, as the end of a first
// round or a wear limit, has the anchor's.
func (p *Plan) HalfLate() calendar.Date {
	due := p.DueOn
	if days, ok := ownDays(&p.Reason); ok {
		return due + days/2
	}
	months, err := strconv.Atoi(p.Reason.Values.Text("months"))
	if err != nil {
		months = p.Interval.Months
	}
	return due + (due.AddMonths(months)-due)/2
}

// ownDays returns the days that a person or the house rules gave for a date;
// false if it was not counted in days.
func ownDays(c *registry.Candidate) (calendar.Date, bool) {
	var since string
	switch c.Rule {
	case RuleEvent:
		since = "happened_on"
	case RuleNotice:
		since = "issued_on"
	case RuleVerdict:
		if c.Values.Text("months") != "" {
			return 0, false
		}
		since = given.on
	default:
		return 0, false
	}
	from, err := calendar.ParseDate(c.Values.Text(since))
	if err != nil || from > c.On {
		return 0, false
	}
	return c.On - from, true
}

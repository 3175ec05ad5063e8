package schedule_test

import (
	"testing"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/schedule"
)

// Half the interval of what set the date, in whole days (house rules, urgency);
// days by hand. The anchor's own interval is 12 months in all of them.
func TestHalfLate(t *testing.T) {
	t.Parallel()
	value := func(pairs ...string) registry.Values {
		var v registry.Values
		for i := 0; i < len(pairs); i += 2 {
			v = append(v, registry.Value{Name: pairs[i], Text: pairs[i+1]})
		}
		return v
	}
	tests := []struct {
		name, rule, on string
		values         registry.Values
		want           string
	}{
		{"interval: 184 of its days", "interval", "2021-05-01", value("months", "6"), "2021-08-01"},
		{"first inspection", "first-inspection", "2021-05-01", value("counted_on", "2020-05-01", "months", "12"), "2021-10-30"},
		{"event: 30 days", "event", "2021-05-31", value("happened_on", "2021-05-01", "days", "30"), "2021-06-15"},
		{"event with a date of its own: 9 days", "event", "2021-05-10", value("happened_on", "2021-05-01"), "2021-05-14"},
		{"notice: 10 days", "notice", "2021-05-11", value("issued_on", "2021-05-01"), "2021-05-16"},
		{"due the day it was issued", "notice", "2021-05-11", value("issued_on", "2021-05-11"), "2021-05-11"},
		{"verdict: 3 months", "verdict", "2021-06-01", value("given_on", "2021-03-01", "months", "3"), "2021-07-17"},
		{"verdict with a date: 20 days", "verdict", "2021-03-21", value("given_on", "2021-03-01"), "2021-03-31"},
		{"duty: 6 months", "duty", "2021-05-01", value("duty", "rope-access", "months", "6"), "2021-08-01"},
		{"first round: the anchor's", "first-round", "2021-05-01", value("entered_on", "2018-05-01"), "2021-10-30"},
		{"wear: the anchor's", "wear", "2021-05-01", value("measured_on", "2021-04-01"), "2021-10-30"},
	}
	for _, test := range tests {
		p := schedule.Plan{
			DueOn: day(test.on), Interval: houserules.Interval{Months: 12},
			Reason: registry.Candidate{Rule: test.rule, On: day(test.on), Values: test.values},
		}
		if got := p.HalfLate().String(); got != test.want {
			t.Errorf("%s: HalfLate = %v, want %v", test.name, got, test.want)
		}
	}
}

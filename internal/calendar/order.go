package calendar

import (
	"regexp"
	"strings"
)

// Order says which of day and month comes first in dates written in figures.
type Order int

// The orders.
const (
	DayFirst Order = iota
	MonthFirst
)

// String returns the order in words.
func (o Order) String() string {
	if o == MonthFirst {
		return "month first"
	}
	return "day first"
}

var figures = regexp.MustCompile(`^(\d{1,2}) ?[/-] ?(\d{1,2}) ?[/-] ?(?:\d{4}|\d{2})(?:$| )`)

// Decidable returns the order of a date in figures with strokes or dashes,
// 13/05/2016, if one of its first two numbers can only be a day. Dates with
// full stops are always day first and decide nothing.
func Decidable(text string) (Order, bool) {
	text = strings.TrimSpace(text)
	if startsWithYear(text) { // as most dates that a program wrote
		return DayFirst, false
	}
	m := figures.FindStringSubmatch(fold(text))
	if m == nil {
		return DayFirst, false
	}
	first, second := number(m[1]), number(m[2])
	switch {
	case first > 12 && first <= 31 && second >= 1 && second <= 12:
		return DayFirst, true
	case second > 12 && second <= 31 && first >= 1 && first <= 12:
		return MonthFirst, true
	}
	return DayFirst, false
}

// startsWithYear says whether a text starts with more figures than a day or month
// has.
func startsWithYear(text string) bool {
	return len(text) >= 3 && isFigure(text[0]) && isFigure(text[1]) && isFigure(text[2])
}

// Decide returns the order of a column of dates: day first unless most of the
// decidable ones are month first.
func Decide(texts []string) Order {
	monthFirst, decidable := 0, 0
	for _, text := range texts {
		order, ok := Decidable(text)
		if !ok {
			continue
		}
		decidable++
		if order == MonthFirst {
			monthFirst++
		}
	}
	if 2*monthFirst > decidable {
		return MonthFirst
	}
	return DayFirst
}

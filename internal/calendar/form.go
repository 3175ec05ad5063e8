package calendar

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"rockledger/internal/fault"
)

// form is one way of writing a date. read takes the groups of the match.
type form struct {
	pattern *regexp.Regexp
	read    func(r reader, m []string) (from, to Date, code fault.Code)
}

// Parts of the patterns.
const (
	monthWord = `(jan|feb|mar|apr|may|jun|jul|aug|sep|sept|oct|nov|dec|january|february|march|april|june|july|august|september|october|november|december)\.?`
	dayWord   = `(\d{1,2})(?:st|nd|rd|th)?`
	yearWord  = `'?(\d{4}|\d{2})`
	early     = `(?:early |mid[ -]|late |the )*`
)

// forms are tried in this order; the first whose pattern fits decides.
var forms = []form{
	{pattern(`(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})`), reader.yearFirst},
	{pattern(`(\d{4})-(\d{1,2})-(\d{1,2})(?: to | ?/ ?)(\d{4})-(\d{1,2})-(\d{1,2})`), reader.dayRange},
	{pattern(`(\d{4})(\d{2})(\d{2})`), reader.yearFirst},
	{pattern(`(\d{1,2}) ?\. ?(\d{1,2}) ?\. ?(\d{4}|\d{2})`), reader.dotted},
	{pattern(`(\d{1,2}) ?[/-] ?(\d{1,2}) ?[/-] ?(\d{4}|\d{2})`), reader.numeric},
	{pattern(dayWord + `(?: of)?[ -/.]?` + monthWord + `,?[ -/.]?` + yearWord), reader.dayMonthYear},
	{pattern(monthWord + ` ?` + dayWord + `(?:, ?| )` + `'?(\d{4})`), reader.monthDayYear},
	{pattern(early + monthWord + `,?(?: of)?[ -/]?` + yearWord), reader.monthYear},
	{pattern(`(\d{1,2})[/.-](\d{4})`), reader.numericMonthYear},
	{pattern(early + `(spring|summer|autumn|fall)(?: of)?,? ` + yearWord), reader.season},
	{pattern(early + `winter(?: of)?,? ` + yearWord), reader.winterEither},
	{pattern(early + `winter(?: of)?,? (\d{4}) ?[-/] ?(\d{4}|\d{2})`), reader.winterBetween},
	{pattern(`(\d{4})-(\d{2})`), reader.yearDash},
	{pattern(`(\d{4}) ?/ ?(\d{4}|\d{2})`), reader.yearSlash},
	{pattern(`(?:between |from )?(\d{4}) ?(?:-| to | or | and ) ?(\d{4}|\d{2})`), reader.yearRange},
	{pattern(early + `'?(\d{3}0|\d0)'?s`), reader.decade},
	{pattern(early + `(\d{4})`), reader.year},
}

func pattern(s string) *regexp.Regexp { return regexp.MustCompile(`^(?:` + s + `)$`) }

// fullYear returns a year written with four digits as it is, one with two as
// the latest not ahead of the year of asOf.
func (r reader) fullYear(s string) int {
	y, _ := strconv.Atoi(s) // digits by the pattern
	if len(s) != 2 {
		return y
	}
	now, _, _ := r.asOf.Civil()
	y += now - now%100
	if y > now {
		y -= 100
	}
	return y
}

// civil returns the day if the calendar has it.
func civil(y, m, d int) (Date, bool) {
	date := NewDate(y, time.Month(m), d)
	gotY, gotM, gotD := date.Civil()
	return date, date != 0 && gotY == y && int(gotM) == m && gotD == d
}

func oneDay(y, m, d int) (Date, Date, fault.Code) {
	date, ok := civil(y, m, d)
	if !ok {
		return 0, 0, fault.NoSuchDay
	}
	return date, date, ""
}

func oneMonth(y, m int) (Date, Date, fault.Code) {
	from, ok := civil(y, m, 1)
	if !ok {
		return 0, 0, fault.NoSuchDay
	}
	return from, from.AddMonths(1) - 1, ""
}

// years returns the range from the first day of y1 to the last of y2.
func years(y1, y2 int) (Date, Date, fault.Code) {
	if y2 < y1 {
		return 0, 0, fault.Order
	}
	return NewDate(y1, time.January, 1), NewDate(y2, time.December, 31), ""
}

// inOrder reads day and month, in either sequence, as order says; if only the
// other sequence is a day of the calendar that is a misfit.
func inOrder(order Order, first, second, y int) (Date, Date, fault.Code) {
	d, m := first, second
	if order == MonthFirst {
		d, m = second, first
	}
	if date, ok := civil(y, m, d); ok {
		return date, date, ""
	}
	if _, ok := civil(y, d, m); ok {
		return 0, 0, fault.DayMonthMisfit
	}
	return 0, 0, fault.NoSuchDay
}

func (r reader) yearFirst(m []string) (Date, Date, fault.Code) {
	return oneDay(number(m[1]), number(m[2]), number(m[3]))
}

// dayRange reads 2001-03-04 to 2002-05-06, and with a stroke between as
// ISO 8601 has it.
func (r reader) dayRange(m []string) (Date, Date, fault.Code) {
	from, _, code := oneDay(number(m[1]), number(m[2]), number(m[3]))
	if code != "" {
		return 0, 0, code
	}
	to, _, code := oneDay(number(m[4]), number(m[5]), number(m[6]))
	switch {
	case code != "":
		return 0, 0, code
	case to < from:
		return 0, 0, fault.Order
	}
	return from, to, ""
}

func (r reader) dotted(m []string) (Date, Date, fault.Code) {
	return inOrder(DayFirst, number(m[1]), number(m[2]), r.fullYear(m[3]))
}

func (r reader) numeric(m []string) (Date, Date, fault.Code) {
	return inOrder(r.order, number(m[1]), number(m[2]), r.fullYear(m[3]))
}

func (r reader) dayMonthYear(m []string) (Date, Date, fault.Code) {
	return oneDay(r.fullYear(m[3]), monthNumber(m[2]), number(m[1]))
}

func (r reader) monthDayYear(m []string) (Date, Date, fault.Code) {
	return oneDay(number(m[3]), monthNumber(m[1]), number(m[2]))
}

func (r reader) monthYear(m []string) (Date, Date, fault.Code) {
	return oneMonth(r.fullYear(m[2]), monthNumber(m[1]))
}

func (r reader) numericMonthYear(m []string) (Date, Date, fault.Code) {
	return oneMonth(number(m[2]), number(m[1]))
}

func (r reader) season(m []string) (Date, Date, fault.Code) {
	first := map[string]time.Month{"spring": time.March, "summer": time.June, "autumn": time.September, "fall": time.September}[m[1]]
	from := NewDate(r.fullYear(m[2]), first, 1)
	return from, from.AddMonths(3) - 1, ""
}

// winterEither takes in the winter that ends in the year and the one that
// begins in it.
func (r reader) winterEither(m []string) (Date, Date, fault.Code) {
	y := r.fullYear(m[1])
	return NewDate(y-1, time.December, 1), NewDate(y+1, time.March, 1) - 1, ""
}

func (r reader) winterBetween(m []string) (Date, Date, fault.Code) {
	y1 := number(m[1])
	if endYear(y1, m[2]) != y1+1 {
		return 0, 0, fault.NotADate
	}
	return NewDate(y1, time.December, 1), NewDate(y1+1, time.March, 1) - 1, ""
}

// yearDash reads 2016-05 as a month (ISO 8601), 1997-99 as years.
func (r reader) yearDash(m []string) (Date, Date, fault.Code) {
	if n := number(m[2]); n >= 1 && n <= 12 {
		return oneMonth(number(m[1]), n)
	}
	return r.yearRange(m)
}

// yearSlash reads 2004/05 as years, which takes in May 2004; but 2016/05, which
// makes no range of years, as a month.
func (r reader) yearSlash(m []string) (Date, Date, fault.Code) {
	y, n := number(m[1]), number(m[2])
	if n >= 1 && n <= 12 && endYear(y, m[2]) > y+longestRange {
		return oneMonth(y, n)
	}
	return r.yearRange(m)
}

// longestRange is how many years a range may span before it is taken for a
// slip of the pen; a default of this project.
const longestRange = 20

func (r reader) yearRange(m []string) (Date, Date, fault.Code) {
	y1 := number(m[1])
	y2 := endYear(y1, m[2])
	if y2 > y1+longestRange {
		return 0, 0, fault.NotADate
	}
	return years(y1, y2)
}

// endYear returns the later year of a range; one of two digits is the first
// such year not before y1.
func endYear(y1 int, s string) int {
	y2 := number(s)
	if len(s) == 2 {
		y2 += y1 - y1%100
		if y2 < y1 {
			y2 += 100
		}
	}
	return y2
}

func (r reader) decade(m []string) (Date, Date, fault.Code) {
	y := r.fullYear(m[1])
	return years(y, y+9)
}

func (r reader) year(m []string) (Date, Date, fault.Code) {
	return years(number(m[1]), number(m[1]))
}

// number reads a few digits, which the pattern has made sure of.
func number(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

// monthNumber returns the month that a month's word begins like.
func monthNumber(word string) int {
	const names = "janfebmaraprmayjunjulaugsepoctnovdec"
	return strings.Index(names, word[:3])/3 + 1
}

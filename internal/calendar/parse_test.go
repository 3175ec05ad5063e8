package calendar_test

import (
	"testing"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

// How lists are to be read is this project's own contract; no published source.
var readings = []struct {
	text     string
	order    calendar.Order
	from, to string
}{
	{"2016-05-12", calendar.DayFirst, "2016-05-12", "2016-05-12"}, // ISO 8601
	{"2016-05-12", calendar.MonthFirst, "2016-05-12", "2016-05-12"},
	{"20160512", calendar.DayFirst, "2016-05-12", "2016-05-12"},
	{"2016/5/2", calendar.DayFirst, "2016-05-02", "2016-05-02"},
	{"2016-05-12 00:00:00", calendar.DayFirst, "2016-05-12", "2016-05-12"},
	{"2016-05-12T23:30:00Z", calendar.DayFirst, "2016-05-12", "2016-05-12"},
	{"12/05/2016 10:15", calendar.DayFirst, "2016-05-12", "2016-05-12"},
	{"2016-05", calendar.DayFirst, "2016-05-01", "2016-05-31"},
	{"2016/05", calendar.DayFirst, "2016-05-01", "2016-05-31"},
	{"05/2016", calendar.DayFirst, "2016-05-01", "2016-05-31"},
	{"2016", calendar.DayFirst, "2016-01-01", "2016-12-31"},
	{"12/05/2016", calendar.DayFirst, "2016-05-12", "2016-05-12"},
	{"12/05/2016", calendar.MonthFirst, "2016-12-05", "2016-12-05"},
	{"12/13/2014", calendar.MonthFirst, "2014-12-13", "2014-12-13"},
	{"12-05-2016", calendar.DayFirst, "2016-05-12", "2016-05-12"},
	{"12.05.2016", calendar.DayFirst, "2016-05-12", "2016-05-12"},
	{"12.05.2016", calendar.MonthFirst, "2016-05-12", "2016-05-12"},
	{"03.04.97", calendar.DayFirst, "1997-04-03", "1997-04-03"},
	{"03.04.26", calendar.DayFirst, "2026-04-03", "2026-04-03"},
	{"03.04.27", calendar.DayFirst, "1927-04-03", "1927-04-03"}, // the latest year not ahead
	{"3/4/97", calendar.MonthFirst, "1997-03-04", "1997-03-04"},
	{"12 May 2009", calendar.DayFirst, "2009-05-12", "2009-05-12"},
	{"12th of May, 2009", calendar.DayFirst, "2009-05-12", "2009-05-12"},
	{"12-MAY-09", calendar.DayFirst, "2009-05-12", "2009-05-12"},
	{"May 12, 2009", calendar.DayFirst, "2009-05-12", "2009-05-12"},
	{"May 1st 2009", calendar.DayFirst, "2009-05-01", "2009-05-01"},
	{"May 2009", calendar.DayFirst, "2009-05-01", "2009-05-31"},
	{"Sept. 2009", calendar.DayFirst, "2009-09-01", "2009-09-30"},
	{"Feb '08", calendar.DayFirst, "2008-02-01", "2008-02-29"},
	{"late May 2009", calendar.DayFirst, "2009-05-01", "2009-05-31"},
	{"c. 1998", calendar.DayFirst, "1996-01-01", "2000-12-31"},
	{"c1998", calendar.DayFirst, "1996-01-01", "2000-12-31"},
	{"ca 1998", calendar.DayFirst, "1996-01-01", "2000-12-31"},
	{"circa 1998", calendar.DayFirst, "1996-01-01", "2000-12-31"},
	{"approx. 1998", calendar.DayFirst, "1996-01-01", "2000-12-31"},
	{"~1998", calendar.DayFirst, "1996-01-01", "2000-12-31"},
	{"about 1998", calendar.DayFirst, "1996-01-01", "2000-12-31"},
	{"1998?", calendar.DayFirst, "1996-01-01", "2000-12-31"},
	{"1998 (?)", calendar.DayFirst, "1996-01-01", "2000-12-31"},
	{"1998ish", calendar.DayFirst, "1996-01-01", "2000-12-31"},
	{"c. May 2009", calendar.DayFirst, "2007-05-01", "2011-05-31"},
	{"c. 2025", calendar.DayFirst, "2023-01-01", "2026-11-25"}, // clipped
	{"c. 2028", calendar.DayFirst, "2026-01-01", "2026-11-25"},
	{"spring 2003", calendar.DayFirst, "2003-03-01", "2003-05-31"},
	{"Summer 2003", calendar.DayFirst, "2003-06-01", "2003-08-31"},
	{"autumn of 2003", calendar.DayFirst, "2003-09-01", "2003-11-30"},
	{"fall '03", calendar.DayFirst, "2003-09-01", "2003-11-30"},
	{"winter 2014", calendar.DayFirst, "2013-12-01", "2015-02-28"},
	{"winter 2015", calendar.DayFirst, "2014-12-01", "2016-02-29"},
	{"winter 2013/14", calendar.DayFirst, "2013-12-01", "2014-02-28"},
	{"winter 2026", calendar.DayFirst, "2025-12-01", "2026-11-25"},
	{"1997-99", calendar.DayFirst, "1997-01-01", "1999-12-31"},
	{"1997 – 1999", calendar.DayFirst, "1997-01-01", "1999-12-31"},
	{"1999-00", calendar.DayFirst, "1999-01-01", "2000-12-31"},
	{"1997 or 1998", calendar.DayFirst, "1997-01-01", "1998-12-31"},
	{"between 1997 and 1999", calendar.DayFirst, "1997-01-01", "1999-12-31"},
	{"2004/05", calendar.DayFirst, "2004-01-01", "2005-12-31"}, // May 2004 is in it
	{"1990s", calendar.DayFirst, "1990-01-01", "1999-12-31"},
	{"late '90s", calendar.DayFirst, "1990-01-01", "1999-12-31"},
	{"early 2020s", calendar.DayFirst, "2020-01-01", "2026-11-25"},
	{"2026", calendar.DayFirst, "2026-01-01", "2026-11-25"},
	{"25/11/2026", calendar.DayFirst, "2026-11-25", "2026-11-25"}, // today is not ahead
	{"1850", calendar.DayFirst, "1850-01-01", "1850-12-31"},
	{"", calendar.DayFirst, "", ""},
	{"?", calendar.DayFirst, "", ""},
	{"Unknown", calendar.DayFirst, "", ""},
	{"n/k", calendar.DayFirst, "", ""},
	{"not known", calendar.DayFirst, "", ""},
	{"–", calendar.DayFirst, "", ""},
}

const readOn = "2026-11-25"

func TestParseSpan(t *testing.T) {
	t.Parallel()
	for _, tc := range readings {
		got, err := calendar.ParseSpan("  "+tc.text+"\t", tc.order, day(t, readOn))
		if err != nil {
			t.Errorf("ParseSpan(%q): %v", tc.text, err)
			continue
		}
		want := calendar.Span{From: day(t, tc.from), To: day(t, tc.to), Words: tc.text}
		if got != want {
			t.Errorf("ParseSpan(%q, %v) = %v to %v (%q), want %v to %v", tc.text, tc.order, got.From, got.To, got.Words, want.From, want.To)
		}
	}
}

func TestParseSpanRejects(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		text  string
		order calendar.Order
		want  fault.Code
	}{
		{"31/02/2012", calendar.DayFirst, fault.NoSuchDay},
		{"31/02/2012", calendar.MonthFirst, fault.NoSuchDay},
		{"29.02.2013", calendar.DayFirst, fault.NoSuchDay},
		{"2012-02-31", calendar.DayFirst, fault.NoSuchDay},
		{"31 April 2012", calendar.DayFirst, fault.NoSuchDay},
		{"00/05/2012", calendar.DayFirst, fault.NoSuchDay},
		{"13/2012", calendar.DayFirst, fault.NoSuchDay},
		{"32/13/2012", calendar.DayFirst, fault.NoSuchDay},
		{"12/13/2014", calendar.DayFirst, fault.DayMonthMisfit},
		{"13/12/2014", calendar.MonthFirst, fault.DayMonthMisfit},
		{"12.13.2014", calendar.MonthFirst, fault.DayMonthMisfit},
		{"26/11/2026", calendar.DayFirst, fault.DateAhead},
		{"07.12.26", calendar.DayFirst, fault.DateAhead}, // this year's, not 1926
		{"Dec 2026", calendar.DayFirst, fault.DateAhead},
		{"2027", calendar.DayFirst, fault.DateAhead},
		{"c. 2029", calendar.DayFirst, fault.DateAhead},
		{"1849", calendar.DayFirst, fault.OutOfRange},
		{"c. 1851", calendar.DayFirst, fault.OutOfRange},
		{"0000", calendar.DayFirst, fault.OutOfRange},
		{"1999-1997", calendar.DayFirst, fault.Order},
		{"1950-1999", calendar.DayFirst, fault.NotADate},
		{"winter 2013/15", calendar.DayFirst, fault.NotADate},
		{"never", calendar.DayFirst, fault.NotADate},
		{"12 May", calendar.DayFirst, fault.NotADate},
		{"before 1990", calendar.DayFirst, fault.NotADate},
		{"42502", calendar.DayFirst, fault.NotADate},
		{"c.", calendar.DayFirst, fault.NotADate},
	} {
		got, err := calendar.ParseSpan(" "+tc.text, tc.order, day(t, readOn))
		e, ok := fault.As(err)
		if !ok || e.Kind != fault.Invalid || e.Code != tc.want || e.Values["text"] != tc.text {
			t.Errorf("ParseSpan(%q, %v): %v (%v), want %v", tc.text, tc.order, err, fault.CodeOf(err), tc.want)
		}
		if want := (calendar.Span{Words: tc.text}); got != want {
			t.Errorf("ParseSpan(%q) = %#v beside its error, want %#v", tc.text, got, want)
		}
	}
}

func TestParseSpanNeedsADay(t *testing.T) {
	t.Parallel()
	if _, err := calendar.ParseSpan("2016", calendar.DayFirst, 0); err == nil || fault.KindOf(err) != fault.Internal {
		t.Errorf("ParseSpan without a day: %v, want an internal error", err)
	}
}

func TestDecide(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		name  string
		texts []string
		want  calendar.Order
	}{
		{"nothing", nil, calendar.DayFirst},
		{"nothing decidable", []string{"2016-05-13", "12/05/2016", "13.05.2016", "05.13.2016"}, calendar.DayFirst},
		{"a lone misfit", []string{"13/05/2016", "25/12/2015", "12/13/2014"}, calendar.DayFirst},
		{"as many of each", []string{"13/05/2016", "12/13/2014"}, calendar.DayFirst},
		{"most month first", []string{"05/13/2016", "12-25-15", "13/12/2014", "01/02/2003"}, calendar.MonthFirst},
		{"neither is a date", []string{"13/25/2016", "05/32/2016"}, calendar.DayFirst},
		{"with a time of day", []string{" 05/13/2016 10:00 "}, calendar.MonthFirst},
	} {
		t.Run(tc.name, func(t *testing.T) {
			t.Parallel()
			if got := calendar.Decide(tc.texts); got != tc.want {
				t.Errorf("Decide(%v) = %v, want %v", tc.texts, got, tc.want)
			}
		})
	}
}

func FuzzParseSpan(f *testing.F) {
	for _, tc := range readings {
		f.Add(tc.text, int(tc.order))
	}
	asOf := calendar.NewDate(2026, 11, 25)
	f.Fuzz(func(t *testing.T, text string, order int) {
		got, err := calendar.ParseSpan(text, calendar.Order(order), asOf)
		if err != nil && got.Known() {
			t.Errorf("ParseSpan(%q) = %v beside error %v", text, got, err)
		}
		if (got.From == 0) != (got.To == 0) || got.From > got.To || got.To > asOf {
			t.Errorf("ParseSpan(%q) = %v to %v", text, got.From, got.To)
		}
	})
}

package calendar_test

import (
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/calendar"
)

func TestSpanText(t *testing.T) {
	t.Parallel()
	asOf := calendar.NewDate(2026, 11, 25)
	day := calendar.NewDate
	for _, tc := range []struct {
		name string
		span calendar.Span
		want string
	}{
		{"a day in figures", calendar.Span{From: day(2019, 4, 3), To: day(2019, 4, 3), Words: "03/04/2019"}, "2019-04-03"},
		{"words that give the span", calendar.Span{From: day(1996, 1, 1), To: day(2000, 12, 31), Words: "c. 1998"}, "c. 1998"},
		{"words corrected since", calendar.Span{From: day(1997, 1, 1), To: day(1997, 12, 31), Words: "c. 1998"}, "1997"},
		{"a month without words", calendar.Span{From: day(2016, 5, 1), To: day(2016, 5, 31)}, "2016-05"},
		{"any two days", calendar.Span{From: day(2001, 3, 4), To: day(2002, 5, 6), Words: "before the flood"}, "2001-03-04 to 2002-05-06"},
		{"words that hang on the order", calendar.Span{From: day(2017, 4, 3), To: day(2021, 4, 3), Words: "c. 03/04/2019"}, "2017-04-03 to 2021-04-03"},
		{"the running year, read later", calendar.Span{From: day(2025, 1, 1), To: day(2025, 11, 20), Words: "2025"}, "2025-01-01 to 2025-11-20"},
		{"not known", calendar.Span{}, ""},
		{"not known, in words", calendar.Span{Words: "when the old one went"}, "when the old one went"},
		{"no such day stays as written", calendar.Span{Words: "31/02/2012"}, "31/02/2012"},
		{"a misfit is not turned into a date", calendar.Span{Words: "05/25/2019"}, "not read: 05/25/2019"},
	} {
		if got := tc.span.Text(asOf); got != tc.want {
			t.Errorf("%s: Text(%v) = %q, want %q", tc.name, tc.span, got, tc.want)
		}
	}
}

// Whatever the days and the words, the days are read back in either order.
func TestSpanTextIsReadBack(t *testing.T) {
	t.Parallel()
	asOf := calendar.NewDate(2026, 11, 25)
	first := calendar.NewDate(1850, 1, 1)
	words := []string{"", "c. 1998", "summer 2003", "1997-99", "2004/05", "03/04/2019", "05/25/2019", "1990s", "2026", "n/k", "long ago"}
	rapid.Check(t, func(t *rapid.T) {
		from := calendar.Date(rapid.Int32Range(int32(first), int32(asOf)).Draw(t, "from"))
		to := calendar.Date(rapid.Int32Range(int32(from), int32(asOf)).Draw(t, "to"))
		s := calendar.Span{From: from, To: to, Words: rapid.SampledFrom(words).Draw(t, "words")}
		if rapid.Bool().Draw(t, "not known") {
			s.From, s.To = 0, 0
		}
		for _, order := range []calendar.Order{calendar.DayFirst, calendar.MonthFirst} {
			got, _ := calendar.ParseSpan(s.Text(asOf), order, asOf)
			if got.From != s.From || got.To != s.To || !s.Known() && got.Words != s.Words {
				t.Fatalf("ParseSpan(%q, %v) = %v, want %v", s.Text(asOf), order, got, s)
			}
		}
	})
}

package calendar_test

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

func TestWindowContains(t *testing.T) {
	t.Parallel()
	nesting := calendar.Window{FromMonth: time.March, FromDay: 1, ToMonth: time.July, ToDay: 31}
	winter := calendar.Window{FromMonth: time.November, FromDay: 1, ToMonth: time.February, ToDay: 28}
	leap := calendar.Window{FromMonth: time.February, FromDay: 29, ToMonth: time.March, ToDay: 2}
	for _, tc := range []struct {
		name string
		w    calendar.Window
		date string
		want bool
	}{
		{"first day", nesting, "2026-03-01", true},
		{"last day", nesting, "2026-07-31", true},
		{"day before", nesting, "2026-02-28", false},
		{"day after", nesting, "2026-08-01", false},
		{"over new year, old year", winter, "2026-12-31", true},
		{"over new year, new year", winter, "2027-01-01", true},
		{"over new year, summer", winter, "2026-06-01", false},
		{"29 February is not the 28th", winter, "2028-02-29", false},
		{"begins on 29 February", leap, "2028-02-29", true},
		{"begins on 29 February in a common year", leap, "2027-02-28", false},
		{"goes on in a common year", leap, "2027-03-01", true},
		{"no date", nesting, "", false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			t.Parallel()
			if got := tc.w.Contains(day(t, tc.date)); got != tc.want {
				t.Errorf("Contains(%v) = %v, want %v", tc.date, got, tc.want)
			}
		})
	}
}

func TestWindowLastDayBefore(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		name     string
		w        calendar.Window
		at, want string
	}{
		{"inside", calendar.Window{FromMonth: 3, FromDay: 1, ToMonth: 7, ToDay: 31}, "2026-05-04", "2026-02-28"},
		{"on its first day in a leap year", calendar.Window{FromMonth: 3, FromDay: 1, ToMonth: 7, ToDay: 31}, "2028-03-01", "2028-02-29"},
		{"outside", calendar.Window{FromMonth: 3, FromDay: 1, ToMonth: 7, ToDay: 31}, "2026-08-01", "2026-08-01"},
		{"over new year", calendar.Window{FromMonth: 11, FromDay: 1, ToMonth: 2, ToDay: 28}, "2027-01-10", "2026-10-31"},
		{"the whole year", calendar.Window{FromMonth: 1, FromDay: 1, ToMonth: 12, ToDay: 31}, "2026-05-04", ""},
		{"all but the leap day", calendar.Window{FromMonth: 3, FromDay: 1, ToMonth: 2, ToDay: 28}, "1904-02-10", "1896-02-29"},
		{"no date", calendar.Window{FromMonth: 3, FromDay: 1, ToMonth: 7, ToDay: 31}, "", ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			t.Parallel()
			if got := tc.w.LastDayBefore(day(t, tc.at)); got.String() != tc.want {
				t.Errorf("LastDayBefore(%v) = %v, want %v", tc.at, got, tc.want)
			}
		})
	}
}

func TestWindowLastDayBeforeIsOpen(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		w := calendar.Window{
			FromMonth: time.Month(rapid.IntRange(1, 12).Draw(t, "from month")), FromDay: rapid.IntRange(1, 28).Draw(t, "from day"),
			ToMonth: time.Month(rapid.IntRange(1, 12).Draw(t, "to month")), ToDay: rapid.IntRange(1, 28).Draw(t, "to day"),
		}
		d := calendar.Date(rapid.Int32Range(700_000, 750_000).Draw(t, "day"))
		open := w.LastDayBefore(d)
		if open == 0 {
			return
		}
		if w.Contains(open) || open > d || open < d && !w.Contains(open+1) {
			t.Errorf("LastDayBefore(%v) of %v = %v", d, w, open)
		}
	})
}

func TestWindowValidate(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		w    calendar.Window
		want int // violations
	}{
		{calendar.Window{}, 2},
		{calendar.Window{FromMonth: 2, FromDay: 29, ToMonth: 2, ToDay: 29}, 0},
		{calendar.Window{FromMonth: 2, FromDay: 30, ToMonth: 4, ToDay: 30}, 1},
		{calendar.Window{FromMonth: 3, FromDay: 1, ToMonth: 4, ToDay: 31}, 1},
		{calendar.Window{FromMonth: 13, FromDay: 1, ToMonth: 4, ToDay: 0}, 2},
	} {
		got := 0
		if e, ok := fault.As(tc.w.Validate()); ok {
			got = len(e.Violations)
		}
		if got != tc.want {
			t.Errorf("Validate(%v): %d violations, want %d", tc.w, got, tc.want)
		}
	}
}

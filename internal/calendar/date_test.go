package calendar_test

import (
	"encoding/json"
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/jackc/pgx/v5/pgtype"
	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

// day reads a date a test is sure of; "" is "no date".
func day(t *testing.T, s string) calendar.Date {
	t.Helper()
	if s == "" {
		return 0
	}
	d, err := calendar.ParseDate(s)
	if err != nil {
		t.Fatalf("ParseDate(%q): %v", s, err)
	}
	return d
}

func TestDateCountsDays(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		date string
		want calendar.Date
	}{
		{"0001-01-01", 1},      // by definition
		{"1970-01-01", 719163}, // Rata Die of the Unix epoch: Reingold & Dershowitz, Calendrical Calculations (from memory)
		{"2000-02-29", 730179}, // 719163 + 30 × 365 + 7 leap days + 59, by hand
	} {
		if got := day(t, tc.date); got != tc.want {
			t.Errorf("ParseDate(%v) = day %d, want %d", tc.date, got, tc.want)
		}
	}
}

func TestDateAgreesWithTime(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := calendar.Date(rapid.Int32Range(1, 3_652_059).Draw(t, "day")) // to 9999-12-31
		y, m, dd := d.Civil()
		if got := calendar.NewDate(y, m, dd); got != d {
			t.Errorf("NewDate(%v, %v, %v) = %d, want %d", y, m, dd, got, d)
		}
		if got, err := calendar.ParseDate(d.String()); err != nil || got != d {
			t.Errorf("ParseDate(%v) = %v, %v", d, got, err)
		}
		if got := d.Time(); !got.Equal(time.Date(y, m, dd, 0, 0, 0, 0, time.UTC)) {
			t.Errorf("Time() = %v, want midnight of %v", got, d)
		}
	})
}

func TestAddMonths(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		name, from string
		months     int
		want       string
	}{
		{"a year on", "2025-06-15", 12, "2026-06-15"},
		{"leap day has no anniversary", "2024-02-29", 12, "2025-02-28"},
		{"leap day comes back", "2024-02-29", 48, "2028-02-29"},
		{"short month clamps", "2025-01-31", 1, "2025-02-28"},
		{"a month's last day does not stick", "2025-02-28", 1, "2025-03-28"},
		{"over new year", "2025-11-30", 3, "2026-02-28"},
		{"back", "2025-03-31", -1, "2025-02-28"},
		{"back over new year", "2025-01-15", -13, "2023-12-15"},
		{"none", "2025-03-31", 0, "2025-03-31"},
		{"no date", "", 12, ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			t.Parallel()
			if got := day(t, tc.from).AddMonths(tc.months); got.String() != tc.want {
				t.Errorf("AddMonths(%v, %v) = %v, want %v", tc.from, tc.months, got, tc.want)
			}
		})
	}
}

func TestAdd(t *testing.T) {
	t.Parallel()
	d := day(t, "2024-02-28")
	for _, tc := range []struct {
		name string
		got  calendar.Date
		want string
	}{
		{"days over a leap day", d.AddDays(2), "2024-03-01"},
		{"days back", d.AddDays(-59), "2023-12-31"},
		{"years", d.AddYears(2), "2026-02-28"},
		{"no date and days", calendar.Date(0).AddDays(5), ""},
		{"no date and years", calendar.Date(0).AddYears(5), ""},
	} {
		if tc.got.String() != tc.want {
			t.Errorf("%s = %v, want %v", tc.name, tc.got, tc.want)
		}
	}
}

func TestParseDateRejects(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		text string
		want fault.Code
	}{
		{"", fault.Blank},
		{"2025-02-29", fault.NoSuchDay},
		{"2025-13-01", fault.NoSuchDay},
		{"2025-00-10", fault.NoSuchDay},
		{"0000-12-31", fault.NoSuchDay},
		{"2025-2-9", fault.NotADate},
		{"02/05/2025", fault.NotADate},
		{"2025-02-09T00:00:00Z", fault.NotADate},
		{" 2025-02-09", fault.NotADate},
		{"soon", fault.NotADate},
	} {
		_, err := calendar.ParseDate(tc.text)
		if got := fault.CodeOf(err); got != tc.want || fault.KindOf(err) != fault.Invalid {
			t.Errorf("ParseDate(%q) = %v, want %v", tc.text, got, tc.want)
		}
	}
}

func TestOnTakesTheZone(t *testing.T) {
	t.Parallel()
	late := time.Date(2026, 5, 2, 23, 30, 0, 0, time.UTC)
	if got := calendar.On(late, time.FixedZone("east", 3600)).String(); got != "2026-05-03" {
		t.Errorf("On(%v, +1 h) = %v, want 2026-05-03", late, got)
	}
	if got := calendar.On(time.Time{}, time.UTC); !got.IsZero() {
		t.Errorf("On(zero) = %v, want no date", got)
	}
}

func TestDateWords(t *testing.T) {
	t.Parallel()
	if got := day(t, "2025-05-02").Words(); got != "2 May 2025" {
		t.Errorf("Words() = %q, want 2 May 2025", got)
	}
	if got := calendar.Date(0).Words(); got != "" {
		t.Errorf("Words() of no date = %q, want nothing", got)
	}
}

func TestDateJSON(t *testing.T) {
	t.Parallel()
	type record struct {
		On    calendar.Date            `json:"on"`
		Maybe calendar.Date            `json:"maybe,omitempty"`
		Per   map[calendar.Date]string `json:"per,omitempty"`
	}
	d := day(t, "2025-05-02")
	for text, want := range map[string]record{
		`{"on":null}`:         {},
		`{"on":"2025-05-02"}`: {On: d},
		`{"on":"2025-05-02","maybe":"2025-05-02","per":{"2025-05-02":"x"}}`: {On: d, Maybe: d, Per: map[calendar.Date]string{d: "x"}},
	} {
		b, err := json.Marshal(want)
		if err != nil || string(b) != text {
			t.Errorf("Marshal(%v) = %s, %v, want %s", want, b, err, text)
		}
		got := record{On: 5}
		if err := json.Unmarshal([]byte(text), &got); err != nil {
			t.Errorf("Unmarshal(%s): %v", text, err)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("Unmarshal(%s) (-want +got):\n%s", text, diff)
		}
	}
}

func TestDateJSONRejects(t *testing.T) {
	t.Parallel()
	var d calendar.Date
	if err := json.Unmarshal([]byte(`"2025-02-30"`), &d); fault.CodeOf(err) != fault.NoSuchDay {
		t.Errorf("30 February: %v, want %v", err, fault.NoSuchDay)
	}
	var wrongType *json.UnmarshalTypeError
	if err := json.Unmarshal([]byte(`20250230`), &d); !errors.As(err, &wrongType) {
		t.Errorf("a number: %v, want a type error", err)
	}
}

func TestDateInSQL(t *testing.T) {
	t.Parallel()
	d := day(t, "2025-05-02")
	if v, err := d.Value(); err != nil || v != d.Time() {
		t.Errorf("Value() = %v, %v, want %v", v, err, d.Time())
	}
	if v, err := calendar.Date(0).Value(); err != nil || v != nil {
		t.Errorf("Value() of no date = %v, %v, want nil", v, err)
	}
	for _, tc := range []struct {
		src  any
		want string
	}{
		{nil, ""},
		{"2025-05-02", "2025-05-02"},
		{time.Date(2025, 5, 2, 0, 0, 0, 0, time.FixedZone("west", -3600)), "2025-05-02"},
	} {
		got := calendar.Date(7)
		if err := got.Scan(tc.src); err != nil || got.String() != tc.want {
			t.Errorf("Scan(%v) = %v, %v, want %v", tc.src, got, err, tc.want)
		}
	}
	if err := new(calendar.Date).Scan(5); err == nil {
		t.Error("Scan(5) = nil, want an error")
	}
}

// The driver must use Value and Scan, not the number underneath.
func TestDateThroughPgx(t *testing.T) {
	t.Parallel()
	m := pgtype.NewMap()
	for _, want := range []calendar.Date{0, day(t, "1998-12-31"), day(t, "2024-02-29")} {
		for _, format := range []int16{pgtype.BinaryFormatCode, pgtype.TextFormatCode} {
			b, err := m.Encode(pgtype.DateOID, format, want, nil)
			if err != nil {
				t.Fatalf("Encode(%v): %v", want, err)
			}
			got := calendar.Date(7)
			if err := m.Scan(pgtype.DateOID, format, b, &got); err != nil || got != want {
				t.Errorf("through DATE, format %d: %v = %v, %v", format, want, got, err)
			}
		}
	}
}

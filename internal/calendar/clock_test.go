package calendar_test

import (
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

func zoneOf(t testing.TB, name string) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

// How people write times is common practice, no source; the offsets of zones
// are those of the tz database.
func TestParseMoment(t *testing.T) {
	t.Parallel()
	london := zoneOf(t, "Europe/London")
	for _, c := range []struct{ text, day, from, to string }{
		{"14:00", "2026-05-03", "2026-05-03T13:00:00Z", "2026-05-03T13:00:00Z"}, // summer time
		{"14:00", "2026-01-03", "2026-01-03T14:00:00Z", "2026-01-03T14:00:00Z"}, // winter
		{" 14.30 ", "2026-01-03", "2026-01-03T14:30:00Z", "2026-01-03T14:30:00Z"},
		{"14h30", "2026-01-03", "2026-01-03T14:30:00Z", "2026-01-03T14:30:00Z"},
		{"1430", "2026-01-03", "2026-01-03T14:30:00Z", "2026-01-03T14:30:00Z"},
		{"14:30:59", "2026-01-03", "2026-01-03T14:30:00Z", "2026-01-03T14:30:00Z"},
		{"14", "2026-01-03", "2026-01-03T14:00:00Z", "2026-01-03T14:00:00Z"},
		{"08:15", "2026-01-03", "2026-01-03T08:15:00Z", "2026-01-03T08:15:00Z"},
		{"2 pm", "2026-01-03", "2026-01-03T14:00:00Z", "2026-01-03T14:00:00Z"},
		{"2.30 p.m.", "2026-01-03", "2026-01-03T14:30:00Z", "2026-01-03T14:30:00Z"},
		{"12 am", "2026-01-03", "2026-01-03T00:00:00Z", "2026-01-03T00:00:00Z"},
		{"12 PM", "2026-01-03", "2026-01-03T12:00:00Z", "2026-01-03T12:00:00Z"},
		{"noon", "2026-01-03", "2026-01-03T12:00:00Z", "2026-01-03T12:00:00Z"},
		{"about 14:00", "2026-01-03", "2026-01-03T13:30:00Z", "2026-01-03T14:30:00Z"},
		{"~14:00", "2026-01-03", "2026-01-03T13:30:00Z", "2026-01-03T14:30:00Z"},
		{"2pm-ish", "2026-01-03", "2026-01-03T13:30:00Z", "2026-01-03T14:30:00Z"},
		{"about 00:10", "2026-01-03", "2026-01-02T23:40:00Z", "2026-01-03T00:40:00Z"},
		{"between 14 and 15", "2026-01-03", "2026-01-03T14:00:00Z", "2026-01-03T15:00:00Z"},
		{"14:00–15:30", "2026-01-03", "2026-01-03T14:00:00Z", "2026-01-03T15:30:00Z"},
		{"14 to 15", "2026-01-03", "2026-01-03T14:00:00Z", "2026-01-03T15:00:00Z"},
		{"between 2 and 3 pm", "2026-01-03", "2026-01-03T14:00:00Z", "2026-01-03T15:00:00Z"},
		{"11 to 1 pm", "2026-01-03", "2026-01-03T11:00:00Z", "2026-01-03T13:00:00Z"},
		{"between 23 and 01", "2026-01-03", "2026-01-03T23:00:00Z", "2026-01-04T01:00:00Z"},
		// On 25 October 2026 01:30 comes twice, on 29 March 2026 not at all.
		{"01:30", "2026-10-25", "2026-10-25T00:30:00Z", "2026-10-25T01:30:00Z"},
		{"01:30", "2026-03-29", "2026-03-29T00:30:00Z", "2026-03-29T01:30:00Z"},
		{"", "2026-01-03", "", ""},
		{"?", "2026-01-03", "", ""},
		{"not recorded", "2026-01-03", "", ""},
	} {
		got, err := calendar.ParseMoment(c.text, dateOf(t, c.day), london)
		if err != nil {
			t.Errorf("ParseMoment(%q, %s) = %v", c.text, c.day, err)
			continue
		}
		if got.Words != strings.TrimSpace(c.text) || stamp(got.From) != c.from || stamp(got.To) != c.to {
			t.Errorf("ParseMoment(%q, %s) = %s to %s %q, want %s to %s", c.text, c.day, stamp(got.From), stamp(got.To), got.Words, c.from, c.to)
		}
	}
}

func stamp(at time.Time) string {
	if at.IsZero() {
		return ""
	}
	return at.Format(time.RFC3339)
}

func dateOf(t testing.TB, text string) calendar.Date {
	t.Helper()
	d, err := calendar.ParseDate(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestParseMomentRejects(t *testing.T) {
	t.Parallel()
	for text, code := range map[string]fault.Code{
		"after lunch": fault.Malformed, "14:0": fault.Malformed, "14:00 am pm": fault.Malformed, "midnight": fault.Malformed,
		"25:00": fault.OutOfRange, "14:60": fault.OutOfRange, "13 pm": fault.OutOfRange, "0 am": fault.OutOfRange,
		"2:30": fault.Ambiguous, "9": fault.Ambiguous, "between 2 and 3": fault.Ambiguous,
		"between 15 and 14": fault.Order,
	} {
		got, err := calendar.ParseMoment(text, dateOf(t, "2026-01-03"), time.UTC)
		f, _ := fault.As(err)
		if f == nil || f.Code != code || f.Kind != fault.Invalid || f.Values["text"] != text {
			t.Errorf("ParseMoment(%q) = %v, want %s", text, err, code)
		}
		if got.Known() || got.Words != text {
			t.Errorf("ParseMoment(%q) = %+v, want the words alone", text, got)
		}
	}
	if _, err := calendar.ParseMoment("14:00", 0, time.UTC); fault.KindOf(err) != fault.Internal {
		t.Errorf("without a day: %v, want Internal", err)
	}
	if _, err := calendar.ParseMoment("14:00", 1, nil); fault.KindOf(err) != fault.Internal {
		t.Errorf("without a zone: %v, want Internal", err)
	}
}

// A moment is in order and within a day and a half of the day it is noted for;
// what says no time, or an error, has no ends.
func FuzzParseMoment(f *testing.F) {
	for _, text := range []string{"14:00", "about 14:00", "2 pm", "14.30", "between 14 and 15", "between 23 and 1 am", "~", "0000", "c. 12h", "-"} {
		f.Add(text, int32(20000))
	}
	zone := zoneOf(f, "Europe/London")
	f.Fuzz(func(t *testing.T, text string, n int32) {
		day := calendar.NewDate(2026, time.January, 1).AddDays(int(n % 1000))
		m, err := calendar.ParseMoment(text, day, zone)
		if m.Words != strings.TrimSpace(text) {
			t.Fatalf("words %q, want %q", m.Words, strings.TrimSpace(text))
		}
		if v := m.Validate(); v != nil {
			t.Fatalf("%q: %v", text, v)
		}
		if err != nil && m.Known() {
			t.Fatalf("%q: known with %v", text, err)
		}
		if !m.Known() {
			return
		}
		midnight := day.Time()
		if m.From.Before(midnight.Add(-2*time.Hour)) || m.To.After(midnight.Add(36*time.Hour)) {
			t.Fatalf("%q on %v: %v to %v", text, day, m.From, m.To)
		}
	})
}

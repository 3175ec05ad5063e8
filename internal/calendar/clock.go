package calendar

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"rockledger/internal/fault"
)

// aboutMinutes is how far "about 14:00" reaches either way, in minutes; a
// default of this project.
const aboutMinutes = 30

// Between these, in minutes of the day, a range may run past midnight: "between
// 23 and 1".
const (
	evening = 18 * 60
	morning = 6 * 60
)

// ParseMoment reads a time of day as people note it at the rock, on a day in a
// zone:
//
//   - 14:00, 14.30, 14h30, 1430, 14, 14:00:00 (seconds are dropped), 08:15;
//   - 2 pm, 2pm, 2.30 p.m., noon, midday;
//   - about 14:00, around, approx., ca, c., ~14:00, 14:00ish: half an hour either
//     way;
//   - between 14 and 15, 14:00-15:00, 14 to 15, between 2 and 3 pm, and past
//     midnight where it begins in the evening and ends in the morning;
//   - nothing, ?, -, n/k, unknown, not known, not recorded: a moment that is not
//     known, without error.
//
// Hours go by the 24-hour clock. One digit without am or pm ("2:30") is refused:
// taken for the night it would be twelve hours early. Where the clocks go back
// and the same time comes twice, both count; where they go forward and it does
// not come at all, what either clock would have shown.
//
// Words keeps the text as written, without space around it, also in the moment
// returned with an error, whose ends are zero.
//
// Errors are Invalid: fault.Malformed when nothing can be read,
// fault.OutOfRange for 25:00, fault.Ambiguous for 2:30, fault.Order for a range
// that ends before it begins. Each carries the value "text". Without a day or a
// zone the error is Internal.
func ParseMoment(text string, day Date, zone *time.Location) (Moment, error) {
	m := Moment{Words: strings.TrimSpace(text)}
	if day == 0 || zone == nil {
		return m, fault.New(fault.Internal, "time %q: read without a day or a zone", m.Words)
	}
	folded := fold(m.Words)
	if slices.Contains(noTimes, folded) {
		return m, nil
	}
	from, to, code := readClock(folded)
	if code != "" {
		return m, fault.Reject(code, "time %q", m.Words).With("text", m.Words)
	}
	m.From, _ = onClock(day, from, zone)
	_, m.To = onClock(day, to, zone)
	return m, nil
}

// noTimes are ways to say that a time is not known.
var noTimes = []string{"", "?", "-", "n/k", "n/a", "unknown", "not known", "not recorded"}

var (
	aboutMark = regexp.MustCompile(`^(?:about|around|approx\.?|approximately|circa|ca\.?|c\.?|~) ?|[ -]?ish$`)
	rangeMark = regexp.MustCompile(`^(?:between (.+) and (.+)|from (.+) to (.+)|(.+?) to (.+)|([^-]+?) ?- ?([^-]+))$`)
	clockTime = regexp.MustCompile(`^(\d{1,2})(?:(?:[:.h] ?(\d{2})?(?::\d{2})?)| ?h)?(?: ?(am|pm|h))?$`)
	fourDigit = regexp.MustCompile(`^(\d{2})(\d{2})$`)
)

// readClock reads minutes of the day, more than a day's for what comes after
// midnight and less than none for what may come before it.
func readClock(text string) (from, to int, code fault.Code) {
	text = strings.NewReplacer("a.m.", "am", "p.m.", "pm").Replace(text)
	exact := aboutMark.ReplaceAllString(text, "")
	if exact != text {
		at, code := readHour(exact)
		return at - aboutMinutes, at + aboutMinutes, code
	}
	if parts := rangeMark.FindStringSubmatch(text); parts != nil {
		ends := slices.DeleteFunc(parts[1:], func(s string) bool { return s == "" })
		return readRange(ends[0], ends[1])
	}
	at, code := readHour(text)
	return at, at, code
}

// readRange reads two times; an am or pm behind the second holds for the first
// too where it has none and can have that.
func readRange(first, second string) (from, to int, code fault.Code) {
	to, code = readHour(second)
	if code != "" {
		return 0, 0, code
	}
	from, code = readHour(first)
	if half := halfOf(second); half != "" && halfOf(first) == "" {
		if near, c := readHour(first + half); c == "" && near <= to {
			from, code = near, c
		} else if far, c := readHour(first + otherHalf[half]); c == "" {
			from, code = far, c
		}
	}
	switch {
	case code != "":
		return 0, 0, code
	case from <= to:
		return from, to, ""
	case from >= evening && to <= morning:
		return from, to + 24*60, ""
	}
	return 0, 0, fault.Order
}

var otherHalf = map[string]string{"am": "pm", "pm": "am"}

func halfOf(text string) string {
	for half := range otherHalf {
		if strings.HasSuffix(text, half) {
			return half
		}
	}
	return ""
}

// readHour reads one time, in minutes of the day.
func readHour(text string) (int, fault.Code) {
	if text == "noon" || text == "midday" {
		return 12 * 60, ""
	}
	parts := clockTime.FindStringSubmatch(text)
	if four := fourDigit.FindStringSubmatch(text); four != nil {
		parts = append(four, "")
	}
	if parts == nil {
		return 0, fault.Malformed
	}
	hour, _ := strconv.Atoi(parts[1]) // digits, by the patterns
	minute, _ := strconv.Atoi("0" + parts[2])
	half := parts[3] == "am" || parts[3] == "pm"
	switch {
	case minute > 59, hour > 23, half && (hour < 1 || hour > 12):
		return 0, fault.OutOfRange
	case !half && len(parts[1]) == 1:
		return 0, fault.Ambiguous
	case parts[3] == "am":
		hour %= 12
	case parts[3] == "pm":
		hour = hour%12 + 12
	}
	return hour*60 + minute, ""
}

// onClock returns the first and the last instant at which clocks in the zone
// can show so many minutes past the day's midnight.
func onClock(day Date, minutes int, zone *time.Location) (first, last time.Time) {
	wall := day.Time().Add(time.Duration(minutes) * time.Minute)
	var shown, meant []time.Time
	for _, near := range []time.Duration{-24 * time.Hour, 24 * time.Hour} {
		_, offset := wall.Add(near).In(zone).Zone()
		at := wall.Add(-time.Duration(offset) * time.Second)
		meant = append(meant, at)
		if _, now := at.In(zone).Zone(); now == offset {
			shown = append(shown, at)
		}
	}
	if len(shown) == 0 {
		shown = meant
	}
	return slices.MinFunc(shown, time.Time.Compare), slices.MaxFunc(shown, time.Time.Compare)
}

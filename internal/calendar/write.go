package calendar

// unread stands before words that say nothing certain but would be read as a
// date.
const unread = "not read: "

// Text writes the span so that ParseSpan reads the same days from it on asOf,
// whatever order of day and month it assumes: a day as 2006-01-02; otherwise
// the span's own words if they do that, else a year, a month as 2006-01, or two
// days with "to" between. Of a span that is not known the words are left; those
// that would be read as a date are marked as not read.
//
// What lies ahead of asOf or before 1850 is written too, but read as a doubt.
func (s Span) Text(asOf Date) string {
	switch {
	case !s.Known():
		if readsAsDate(s.Words, asOf) {
			return unread + s.Words
		}
		return s.Words
	case s.Exact():
		return s.From.String()
	case s.Words != "" && s.readFrom(s.Words, asOf):
		return s.Words
	}
	for _, layout := range []string{"2006", "2006-01"} {
		if text := s.From.Time().Format(layout); s.readFrom(text, asOf) {
			return text
		}
	}
	return s.From.String() + " to " + s.To.String()
}

// readFrom says whether a text is read as the days of s in either order.
func (s Span) readFrom(text string, asOf Date) bool {
	for _, order := range []Order{DayFirst, MonthFirst} {
		got, err := ParseSpan(text, order, asOf)
		if err != nil || got.From != s.From || got.To != s.To {
			return false
		}
	}
	return true
}

// readsAsDate says whether a text is read as a date in either order.
func readsAsDate(text string, asOf Date) bool {
	for _, order := range []Order{DayFirst, MonthFirst} {
		if got, err := ParseSpan(text, order, asOf); err == nil && got.Known() {
			return true
		}
	}
	return false
}

// Package wording is the one catalogue of the sentences that a person reads,
// in British English. It decides nothing: it is given values and says them.
package wording

import (
	"unicode"
	"unicode/utf8"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Caution goes with every page, report, file and answer that gives a standing,
// a date, a load or a cure time.
const Caution = "Rockledger advises; it certifies nothing. Product instructions, local codes and a competent " +
	"person's judgement come first. Inspect every anchor before you trust it."

// notKnown is said of whatever is not known.
const notKnown = "not known"

// span reads back a date that stands in values as name_on and, unless it is
// known to the day, name_until.
func span(v registry.Values, name string) calendar.Span {
	from, err := calendar.ParseDate(v.Text(name + "_on"))
	if err != nil {
		return calendar.Span{}
	}
	to, err := calendar.ParseDate(v.Text(name + "_until"))
	if err != nil {
		to = from
	}
	return calendar.Span{From: from, To: to}
}

// months says a number of months: "12 months", "1 month".
func months(text string) string {
	if text == "1" {
		return "1 month"
	}
	return text + " months"
}

// by names a source at the end of a clause.
func by(source string) string {
	if source == "" {
		return ""
	}
	return " (" + source + ")"
}

// capital begins a sentence.
func capital(s string) string {
	if s == "" {
		return s
	}
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

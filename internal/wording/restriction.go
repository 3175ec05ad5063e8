package wording

import (
	"fmt"
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// barred says what a restriction bars.
var barred = map[registry.RestrictionKind]string{
	registry.NoEntry:    "No entry",
	registry.NoClimbing: "No climbing",
	registry.NoDrilling: "No drilling",
	registry.NoNoise:    "No noise",
}

// behind says what stands behind a restriction.
var behind = map[registry.Weight]string{
	registry.ByLaw:       "by law",
	registry.ByAgreement: "by agreement",
	registry.ByRequest:   "on request",
}

// BarredKind says what a restriction of a kind bars: "No climbing".
func BarredKind(k registry.RestrictionKind) string { return barred[k] }

// WeightBehind says what stands behind a restriction of a weight: "By law".
func WeightBehind(w registry.Weight) string { return capital(behind[w]) }

// Restriction says what is barred, when, why and with what weight: "No climbing
// from 1 February to 30 June every year, by agreement: nesting birds; confirmed
// 3 May 2026."
func Restriction(r registry.Restriction) string {
	what, ok := barred[r.Kind]
	if !ok {
		what = "Restriction " + notKnown
	}
	text := what + " " + when(r)
	if weight, ok := behind[r.Weight]; ok {
		text += ", " + weight
	}
	if r.Why != "" {
		text += ": " + r.Why
	}
	if r.ConfirmedOn.IsZero() {
		return text + "; never confirmed."
	}
	return text + "; confirmed " + r.ConfirmedOn.Words() + "."
}

// when says the days of a restriction.
func when(r registry.Restriction) string {
	if r.Yearly == nil {
		return between(r.From, r.Until)
	}
	w := r.Yearly
	text := fmt.Sprintf("from %d %s to %d %s every year", w.FromDay, w.FromMonth, w.ToDay, w.ToMonth)
	if r.From.IsZero() && r.Until.IsZero() {
		return text
	}
	return text + " (" + between(r.From, r.Until) + ")"
}

// between says a stretch of days, either end of which may be open.
func between(from, until calendar.Date) string {
	switch {
	case from.IsZero() && until.IsZero():
		return "at any time"
	case from.IsZero():
		return "until " + until.Words()
	case until.IsZero():
		return "from " + from.Words()
	}
	return "from " + from.Words() + " to " + until.Words()
}

// Barred says in short what bars a due date, and the last open day before it;
// blank where nothing does, or where the date is past.
func Barred(l registry.ReportLine) string {
	if len(l.Restrictions) == 0 || l.Assessment.DueOn < l.Assessment.AsOf {
		return ""
	}
	var parts []string
	for _, r := range l.Restrictions {
		part := strings.ToLower(barred[r.Kind])
		if r.Why != "" {
			part += " (" + r.Why + ")"
		}
		parts = append(parts, part)
	}
	return "Barred on that day: " + strings.Join(parts, ", ") + ". " + LastOpenDay(l)
}

// LastOpenDay says the last day before a due date on which nothing is barred;
// blank where no restriction bars the due date.
func LastOpenDay(l registry.ReportLine) string {
	switch {
	case len(l.Restrictions) == 0:
		return ""
	case l.LastOpenDay.IsZero():
		return "No day before it is open."
	case l.LastOpenDay < l.Assessment.AsOf:
		return "No day is left before it; the last open day was " + l.LastOpenDay.Words() + "."
	}
	return "Last open day before it: " + l.LastOpenDay.Words() + "."
}

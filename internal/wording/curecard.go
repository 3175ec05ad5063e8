package wording

import (
	"fmt"
	"strings"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Sentences of the cure card.
const (
	CureCardGlued    = "Glued."
	CureCardNoTime   = "Do not load. Read the label."
	CureCardNever    = "Do not load. No time can be given."
	CureCardOverleaf = "Anchor by anchor: see the back."
	CureCardFirstUse = "First use allowed by"
	CureCardPromise  = "Time alone never allows use: a named person looks at the kept sample and at each anchor, then signs here."
)

// beyondSheet are the reasons for which the adhesive may not cure at all, so
// that its label gives no time either.
var beyondSheet = map[string]bool{"colder-than-sheet": true, "warmer-than-sheet": true, "hole-flooded": true}

// NotBefore says until when a glued anchor must not be loaded, to the full
// minute after it, in zone: "Do not load before Sunday 3 May 2026, 14:00 (BST)."
// Without an instant it says to read the label, or where no label would help
// that there is none to give.
func NotBefore(t registry.CureTime, zone *time.Location) string {
	if t.NotBefore.IsZero() {
		if beyondSheet[t.Missing] {
			return CureCardNever
		}
		return CureCardNoTime
	}
	return "Do not load before " + Instant(t.NotBefore, zone) + "."
}

// InDoubt says what is held against a glued anchor, in one line: "In doubt:
// Water stood in the hole or ran in when it was set." Blank if nothing is.
func InDoubt(held []registry.Finding) string {
	if len(held) == 0 {
		return ""
	}
	said := make([]string, len(held))
	for i, f := range held {
		said[i] = Finding(f)
	}
	return "In doubt: " + strings.Join(said, " ")
}

// CureCardInDoubt names the anchors of a cure card that are in doubt, so that
// its time reads as no release of theirs; blank for none.
func CureCardInDoubt(spots []string) string {
	if len(spots) == 0 {
		return ""
	}
	return "In doubt: " + strings.Join(spots, "; ") + ". Look into that before first use, whatever the time."
}

// Instant says an instant in zone, to the full minute that is not before it:
// "Sunday 3 May 2026, 14:00 (BST)".
func Instant(at time.Time, zone *time.Location) string {
	local := at.In(zone)
	if up := local.Truncate(time.Minute); !up.Equal(local) {
		local = up.Add(time.Minute)
	}
	return local.Weekday().String() + " " + calendar.On(local, zone).Words() + local.Format(", 15:04 (MST)")
}

// CureRests says what a cure time rests on, or why there is none.
func CureRests(t registry.CureTime) string {
	if t.Basis != registry.CureBySheet && t.Basis != registry.CureByLabel {
		return CureMissing(t.Missing)
	}
	s := sentences{}
	source := "what a person read off the label"
	if t.Basis == registry.CureBySheet {
		source = "the product's sheet"
		if t.Source != "" {
			source += " (" + t.Source + ")"
		}
	}
	if t.CureMinutes != nil {
		s.add("Cure time " + Minutes(*t.CureMinutes) + ", by " + source + ".")
	} else {
		s.add("By " + source + ".")
	}
	s.add(lowest(t))
	if t.Wet {
		s.add(lengthened(t))
	}
	if t.NotBefore.IsZero() {
		s.add(CureMissing(t.Missing))
	}
	return strings.Join(s, " ")
}

// lengthened says for what a cure time was lengthened, and by whose word.
func lengthened(t registry.CureTime) string {
	text, teller := "Lengthened for a damp or saturated hole", "sheet"
	if t.UsualDoubling {
		if t.Basis == registry.CureByLabel {
			teller = "label"
		}
		text = "Doubled for a damp or saturated hole (common practice: the " + teller + " gives no wet time)"
	}
	if t.MoistureUnknown {
		text += ", since how wet it was is not recorded"
	}
	return text + "."
}

// nightRemedy says what to do where the lowest temperature is not on record.
const nightRemedy = "Record the lowest rock temperature of the night."

// lowest says which rock temperature decided, and whether anybody measured it.
func lowest(t registry.CureTime) string {
	if t.LowestC == nil {
		return "How cold the rock became until release is not recorded. " + nightRemedy
	}
	if t.LowestBy == registry.LowestRow {
		return "How cold the rock became until release is not recorded: the row for " + Celsius(*t.LowestC) +
			" counts, the coldest that the house rules reckon with, or that it was at the setting. " + nightRemedy
	}
	text := "Lowest rock temperature " + Celsius(*t.LowestC)
	switch t.LowestBy {
	case registry.LowestSetting:
		text += ", at the setting"
	case registry.LowestNight:
		text += ", the coldest until release"
	case registry.LowestCave:
		text += ", the house rules' figure for caves"
	}
	if t.Assumed {
		return text + "; assumed, not measured."
	}
	return text + "; measured."
}

// Minutes says a stretch of time in a sentence (SheetMinutes in a table): "45 minutes", "6 hours", "1 hour 30 minutes".
func Minutes(n int) string {
	hours, rest := n/60, n%60
	switch {
	case hours == 0:
		return count(rest, "minute", "minutes")
	case rest == 0:
		return count(hours, "hour", "hours")
	}
	return fmt.Sprintf("%s %s", count(hours, "hour", "hours"), count(rest, "minute", "minutes"))
}

package exchange

import (
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// writtenState says how an anchor was when it was last looked at, in the words
// of the list if they are of this anchor. That it is out of use or not in use
// yet is never left out: an anchor must not look better on a list than in the
// register.
func writtenState(l *registry.Listed, asOf calendar.Date) string {
	if l.Anchor.Removed {
		return writtenRemoval(l, asOf)
	}
	return registry.StateText(l.Standing, seenWords(l.Seen))
}

// writtenRemoval takes the words of the list if they still say what the
// register holds.
func writtenRemoval(l *registry.Listed, asOf calendar.Date) string {
	if l.Out == nil || l.Out.Origin != registry.Imported {
		return string(registry.StateRemoved)
	}
	said, _ := readState(l.Out.Words)
	switch {
	case said.state == registry.StateRemoved:
		return l.Out.Words
	case said.state != registry.StateReplaced:
		return string(registry.StateRemoved)
	case replacedThen(&said, l, asOf):
		return l.Out.Words
	}
	return strings.TrimSuffix("replaced "+calendar.Span{From: l.Anchor.RemovedOn.From, To: l.Anchor.RemovedOn.To}.Text(asOf), " ")
}

// replacedThen says whether the date behind "replaced" is read as the day on
// which the register has the anchor removed, in either order of day and month.
// One before the anchor was set is not taken for that day.
func replacedThen(said *stated, l *registry.Listed, asOf calendar.Date) bool {
	for _, order := range []calendar.Order{calendar.DayFirst, calendar.MonthFirst} {
		on, _ := calendar.ParseSpan(strings.Trim(said.date, " .!()"), order, asOf)
		if on.Known() && l.Anchor.SetOn.From > on.To {
			on = calendar.Span{}
		}
		if on.From != l.Anchor.RemovedOn.From || on.To != l.Anchor.RemovedOn.To {
			return false
		}
	}
	return true
}

// seenWords says what an inspection saw and decided, in the words of the list if
// they are of this anchor. "": none or nothing.
func seenWords(i *registry.Inspection) string {
	if i != nil && i.Origin == registry.Imported && i.Words != "" && !speaksOfRemoval(i.Words) {
		return i.Words
	}
	return registry.SightText(i)
}

// speaksOfRemoval says whether the words of a list are of an earlier anchor too:
// this one stands.
func speaksOfRemoval(words string) bool {
	said, _ := readState(words)
	return said.state == registry.StateReplaced || said.state == registry.StateRemoved
}

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
	said := seenWords(l.Seen)
	for standing, words := range barredWords {
		if l.Standing == standing && !strings.Contains(plain(said), words) {
			return strings.TrimSuffix(words+", "+said, ", ")
		}
	}
	return said
}

var barredWords = map[registry.Standing]string{
	registry.StandingOutOfUse: "out of use",
	registry.NotInUseYet:      "not in use yet",
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

// observationText says of each observation how it is written. What a list has
// no state for is written all the same, and read as words not understood.
var observationText = map[registry.Observation]string{
	registry.Spins:        "spins",
	registry.AnchorTurns:  "anchor turns",
	registry.HangerTurns:  "hanger turns",
	registry.LooseNut:     "loose nut",
	registry.Rust:         "rusty",
	registry.SurfaceRust:  "surface rust",
	registry.TeaStaining:  "tea staining",
	registry.CrackedGlue:  "cracked glue",
	registry.HangerBent:   "hanger bent",
	registry.HollowSound:  "hollow sound",
	registry.CrackedRock:  "cracked rock",
	registry.CrackedMetal: "cracked metal",
	registry.CalledUnsafe: "unsafe",
	registry.UnclearWords: "not understood",
}

var verdictText = map[registry.Verdict]string{
	registry.TakeOutOfUse: "out of use",
	registry.Repair:       "needs repair",
	registry.KeepWatching: "watch",
}

// seenWords says what an inspection saw and decided, "" for none or nothing.
func seenWords(i *registry.Inspection) string {
	if i == nil {
		return ""
	}
	if i.Origin == registry.Imported && i.Words != "" && !speaksOfRemoval(i.Words) {
		return i.Words
	}
	var parts []string
	if i.NotFound() {
		parts = append(parts, "not found")
	}
	if text := verdictText[i.Verdict]; text != "" {
		parts = append(parts, text)
	}
	for _, o := range i.Observations {
		parts = append(parts, observationText[o])
	}
	if len(parts) == 0 && i.Verdict == registry.Keep {
		return string(registry.StateOK)
	}
	return strings.Join(parts, ", ")
}

// speaksOfRemoval says whether the words of a list are of an earlier anchor too:
// this one stands.
func speaksOfRemoval(words string) bool {
	said, _ := readState(words)
	return said.state == registry.StateReplaced || said.state == registry.StateRemoved
}

package wording

import (
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Standing names a standing. None of the names says that an anchor is safe.
func Standing(s registry.Standing) string {
	switch s {
	case registry.NoProblem:
		return "No problem on record"
	case registry.StandingWatch:
		return "Watch"
	case registry.StandingSuspect:
		return "Suspect"
	case registry.NotInUseYet:
		return "Not in use yet"
	case registry.StandingOutOfUse:
		return "Out of use"
	case registry.StandingNotLocated:
		return "Not located"
	case registry.StandingRemoved:
		return "Removed"
	}
	return "Standing " + notKnown
}

// StandingLine says how an anchor stands, as of when and on which inspection
// that rests, and what to do: "No problem recorded as of 3 May 2026; last
// inspection 2 May 2025, hands-on. Inspect before you trust it."
func StandingLine(a registry.Assessment, inspections []registry.Inspection) string {
	if a.Standing == registry.StandingRemoved {
		return "Removed from the rock. What stands here is its history."
	}
	standing := Standing(a.Standing)
	if a.Standing == registry.NoProblem {
		standing = "No problem recorded"
	}
	return standing + " as of " + a.AsOf.Words() + "; " + lastInspection(inspections) + ". " + advice(a.Standing)
}

// advice is what to do with an anchor of that standing.
func advice(s registry.Standing) string {
	switch s {
	case registry.StandingOutOfUse:
		return "Do not use it."
	case registry.NotInUseYet:
		return "Do not use it before a person has allowed first use."
	case registry.StandingSuspect:
		return "Do not rely on it until it has been inspected and the doubt is settled."
	case registry.StandingNotLocated:
		return "Whoever finds it should inspect it before trusting it, and say where it is."
	}
	return "Inspect before you trust it."
}

// lastInspection says when and how closely the anchor was last seen.
func lastInspection(list []registry.Inspection) string {
	var last *registry.Inspection
	for k := range list {
		i := &list[k]
		if !i.NotFound() && i.DoneOn.Known() && (last == nil || i.DoneOn.From > last.DoneOn.From) {
			last = i
		}
	}
	switch {
	case last == nil && missedOn(list).Known():
		return "looked for and not found, " + missedOn(list).String() + ", and no inspection on record"
	case last == nil && len(list) > 0:
		return "no inspection with a date on record"
	case last == nil:
		return "no inspection on record"
	case last.Origin == registry.Imported:
		return "last checked " + last.DoneOn.String() + " by the list it came from, which counts as a glance"
	}
	return "last inspection " + last.DoneOn.String() + ", " + Level(last.Level)
}

// missedOn is the last day on which somebody looked for the anchor and did not
// find it; not known if somebody has found it, on whatever day.
func missedOn(list []registry.Inspection) (on calendar.Span) {
	for k := range list {
		i := &list[k]
		if !i.NotFound() {
			return calendar.Span{}
		}
		if i.DoneOn.Known() && i.DoneOn.From >= on.From {
			on = i.DoneOn
		}
	}
	return on
}

// Level says how closely somebody looked: "hands-on".
func Level(l registry.Level) string {
	switch l {
	case registry.Glance:
		return "a glance"
	case registry.HandsOn:
		return "hands-on"
	case registry.Full:
		return "in full"
	}
	return "level " + notKnown
}

// DueState names a due state.
func DueState(d registry.DueState) string {
	switch d {
	case registry.AwaitingFirstRound:
		return "Awaiting the first round"
	case registry.NotDue:
		return "Not due"
	case registry.DueSoon:
		return "Due soon"
	case registry.Overdue:
		return "Overdue"
	}
	return "No date"
}

// bands are the urgency bands in words.
var bands = map[registry.Band]string{
	registry.BandNow:         "Now",
	registry.BandThisSeason:  "This season",
	registry.BandThisYear:    "This year",
	registry.BandWhenPassing: "When passing",
}

// bandReasons say why an anchor is in its band.
var bandReasons = map[string]string{
	"out-of-use":           "it is out of use, and no marking at the rock is recorded",
	"out-of-use-marked":    "it is out of use, and marked so at the rock",
	"suspect-belay":        "it is suspect, and people hang on this belay",
	"suspect-main-hang":    "it is suspect, and it is a main hang",
	"suspect-single-point": "it is suspect, and nothing backs it up",
	"suspect-elsewhere":    "it is suspect",
	"long-overdue":         "it is overdue by more than half its interval",
	"overdue":              "it is overdue",
	"watch":                "it is to be watched",
	"not-in-use-yet":       "it is not in use yet; first use comes before anything else",
	"nothing-pressing":     "nothing about it is pressing on what is recorded",
	"removed":              "it is no longer in the rock",
}

// Band says how urgent an anchor is, and why: "This season: it is suspect."
func Band(a registry.Assessment) string {
	name, ok := bands[a.Band]
	if !ok {
		name = "Urgency " + notKnown
	}
	reason, ok := bandReasons[a.BandReason]
	if !ok {
		reason = strings.ReplaceAll(a.BandReason, "-", " ")
	}
	return strings.TrimSuffix(name+": "+reason, ": ") + "."
}

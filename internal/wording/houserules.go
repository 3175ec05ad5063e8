package wording

import (
	"fmt"
	"strings"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Sentences of the pages of the house rules.
const (
	HouseRulesHelp     = "These are the group's own numbers, each with its source. Dates and findings follow from them."
	RulesDiffer        = "differs from the default"
	RulesFormHelp      = "Change one number or several, say why, and look at what would change before it is adopted. Every anchor is then assessed anew. Which record settles which finding is changed through the API alone."
	RulesReasonHelp    = "It is kept as the source of every number changed here, and stands in the list of versions."
	RulesNothing       = "Nothing differs from the house rules in force. Change a number, then look at what it does."
	RulesPreviewHelp   = "Nothing has been adopted yet. If you change anything below, look again before you adopt it."
	RulesNoneMove      = "No anchor's standing or date would change today."
	RulesNoReason      = "no reason given yet"
	RecordedRules      = "The house rules are in force. Every anchor is assessed anew, which takes a while in a large register."
	RulesVersionsHelp  = "Newest first. The reason is what stands as the source of the numbers that the version changed."
	RulesFirstVersion  = "The rules that the group began with."
	RulesSaidTheSame   = "No number or word differs from the version before."
	RulesNoLongerThere = "The version that this form was filled in from is not listed any more."
)

// RulesStale says that other house rules came into force while a form was filled
// in.
func RulesStale(read, now int) string {
	return fmt.Sprintf("Nothing was adopted: while you wrote, version %d came into force; you had read version %d. "+
		"What you changed stands below, and beside it what is in force now. Look at what it does, then adopt it.", now, read)
}

// RuleInForce says what is in force where something else was typed.
func RuleInForce(value string) string { return "In force: " + value + "." }

// RuleDefault names the shipped default of a row, with its source.
func RuleDefault(value, source string) string {
	return "Default: " + value + " (" + strings.TrimSuffix(source, ".") + ")."
}

// RuleChanged says what a row would be, or became, in place of what.
func RuleChanged(name, from, to string) string {
	if from == "" {
		return name + ": " + to + ", new."
	}
	if to == "" {
		return name + ": no longer there; it was " + from + "."
	}
	return name + ": " + to + " in place of " + from + "."
}

// RulePath names a row of the house rules with its tables: "Longest interval,
// form, piton".
func RulePath(path string) string {
	parts := strings.Split(path, ".")
	for i, p := range parts {
		if parts[i] = RuleName(p); i > 0 {
			parts[i] = lower(parts[i])
		}
	}
	return strings.Join(parts, ", ")
}

// RulesMade says who put a version of the house rules in force, and when by the
// clock of a zone.
func RulesMade(v registry.RulesVersion, zone *time.Location) string {
	at := calendar.On(v.Since, zone).Words() + v.Since.In(zone).Format(", 15:04")
	if v.Who == "" {
		return "In force since " + at + "."
	}
	names := make(map[string]string)
	if v.Name != "" {
		names[v.Who] = v.Name
	}
	return "In force since " + at + ", by " + Actor(v.Who, names) + "."
}

// RulesMoves is how many anchors other house rules would change today.
type RulesMoves struct{ Anchors, Earlier, Later, Unchanged, OverdueNow, OverdueThen int }

// RulesWouldMove says how many dates other house rules would change today.
func RulesWouldMove(m RulesMoves) []string {
	return []string{
		Anchors(m.Anchors) + " in the rock looked at: " + fmt.Sprintf("%d to be inspected sooner, %d later, %d on the same day.", m.Earlier, m.Later, m.Unchanged),
		fmt.Sprintf("Overdue today: %d, in place of %d.", m.OverdueThen, m.OverdueNow),
	}
}

// StandingMoves says how many anchors would go from one standing to another.
func StandingMoves(from, to registry.Standing, anchors int) string {
	return Anchors(anchors) + ": from “" + lower(Standing(from)) + "” to “" + lower(Standing(to)) + "”."
}

// RulesFirst heads the anchors that a preview names.
func RulesFirst(named, moving int) string {
	if named < moving {
		return fmt.Sprintf("The first %d of %d anchors that would stand or be dated otherwise", named, moving)
	}
	return "The anchors that would stand or be dated otherwise"
}

package houserules

import (
	"slices"
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// Words is a choice of several from a closed list, and where it comes from.
type Words struct {
	Value  []string `json:"value"`
	Source string   `json:"source"`
}

// What settles a finding, besides a level of inspection (it or a closer one,
// later, with a verdict, that does not find it again) and a kind of maintenance
// (on the day it was seen or later).
const (
	ByReplacement = "replacement" // the anchor, or the part that it is about
	BySettlement  = "settlement"  // a named person's answer
	ByExpert      = "expert"      // that of somebody who knows
	ByFirstUse    = "first-use"
	ByRecord      = "record" // what is not recorded, or was recorded wrongly, is
)

// SettlingKinds lists all that may settle a finding, as the table names it.
func SettlingKinds() []string {
	kinds := append(words(registry.Levels()...), words(registry.Upkeeps()...)...)
	return append(kinds, ByReplacement, BySettlement, ByExpert, ByFirstUse, ByRecord)
}

// settling says what the row of a rule must name, which no house rule can edit
// away, and what else it may.
type settling struct{ must, may []string }

// settlingRows are the rows that settlings returns; they must not be changed.
var settlingRows = settlings()

// settlings returns the rows of the table, by rule. A person's "out of use", a
// lost bond and cracks are answered by no maintenance, and cracking that no
// inspection rules out by no inspection.
func settlings() map[string]settling {
	person := []string{ByReplacement, BySettlement}
	closer := words(registry.HandsOn, registry.Full)
	seen := func(work ...registry.Upkeep) settling {
		return settling{person, append(slices.Clone(closer), words(work...)...)}
	}
	all := map[string]settling{
		"not-located":           {must: words(registry.Glance)},
		"first-use-not-allowed": {must: []string{ByFirstUse}},
		"bond-perhaps-lost":     {must: []string{ByRecord, ByReplacement, BySettlement}},
		"fitting-missing":       {must: append(words(registry.FittingRenewed), ByRecord, ByReplacement, BySettlement)},
		"loose-nut":             seen(registry.Tightened, registry.FittingRenewed),
		"imported-loose-nut":    seen(registry.Tightened, registry.FittingRenewed),
		"hanger-turns":          seen(registry.Tightened, registry.FittingRenewed, registry.FittingTaken),
		"hanger-bent":           seen(registry.FittingRenewed, registry.FittingTaken),
		"imported-hanger-bent":  seen(registry.FittingRenewed, registry.FittingTaken),
		"surface-rust":          seen(registry.Cleaned),
		"imported-surface-rust": seen(registry.Cleaned),
		"hollow-sound":          seen(registry.RockCleared),
		"cracked-rock":          seen(registry.RockCleared),
	}
	add := func(s settling, rules ...string) {
		for _, rule := range rules {
			all[rule] = s
		}
	}
	add(settling{must: person}, "bond-lost", "cracked-metal", "anchor-turns", "something-spins",
		"one-class-short", "two-classes-short", "plan-replacement", "plan-replacement-place-not-known", "coating-used-up",
		"section-lost", "section-lost-far", "service-life-passed", "sustained-load", "sustained-load-hang",
		"mixed-metals", "mixed-metals-far-apart")
	add(settling{must: []string{ByReplacement, ByExpert}},
		"stress-corrosion-high", "stress-corrosion-medium", "stress-corrosion-expert", "stress-corrosion-expert-high")
	add(settling{must: []string{ByRecord, ByReplacement, BySettlement}}, "form-doubted", "metal-not-recorded", "set-date-not-recorded",
		"form-not-recorded", "hole-not-recorded", "batch-not-recorded", "new-size-not-recorded")
	// Whether a soft sample speaks for the holes is for somebody who knows.
	add(settling{must: []string{ByRecord, ByReplacement, ByExpert}}, "kept-sample-soft")
	// No inspection sees into the hole.
	add(settling{must: []string{ByRecord, ByReplacement, BySettlement}}, "hole-too-narrow", "hole-too-wide", "hole-not-nominal",
		"hole-narrower-than-sheet", "hole-wider-than-sheet", "hole-no-annulus", "embedded-too-short", "embedded-too-short-mechanical",
		"embedded-short-of-sheet", "soft-rock", "cleaning-short-of-sheet", "cleaning-few", "hole-not-cleaned", "hole-flooded",
		"moisture-against-sheet", "rock-colder-than-sheet", "rock-warmer-than-sheet", "cartridge-temperature", "adhesive-expired",
		"adhesive-perhaps-expired", "edge-near", "neighbour-near", "rock-hollow-when-set", "cracks-when-set", "loaded-before-cure", "loaded-perhaps-before-cure",
		"loaded-without-cure-time", "used-without-cure-time", "embedded-deeper-than-hole",
		"edge-nearer-than-sheet", "neighbour-nearer-than-sheet", "torque-off-sheet",
		"setting-gaps")
	add(settling{must: append(words(registry.FittingRenewed), person...)}, "worn", "worn-far", "worn-out")
	add(seen(), "imported-spins", "imported-anchor-turns", "imported-cracked-glue", "imported-cracked-glue-not-bonded",
		"imported-rust", "imported-called-unsafe", "imported-state-not-understood",
		"rust", "tea-staining", "tea-staining-by-the-sea", "cracked-glue", "cracked-glue-not-bonded",
		ruleWatch, ruleRepair, ruleOutOfUse, ruleEvent, ruleNotice, ruleHitSure, ruleHitPossible)
	return all
}

// The rules of suspicion on which dates rest too.
const (
	ruleWatch    = "verdict-watch"
	ruleRepair   = "verdict-repair"
	ruleOutOfUse = "verdict-take-out-of-use"
	ruleEvent    = "event-outstanding"
	ruleNotice   = "notice-outstanding"

	ruleHitSure     = "notice-hit-sure"
	ruleHitPossible = "notice-hit-possible"
)

// check looks at one row as decoded: {"value": [words], "source": words}.
func (s settling) check(c *fault.Checks, path string, leaf any) {
	value := unwrap(c, path, leaf)
	if value == nil {
		return
	}
	path += ".value"
	list, ok := value.([]any)
	if !ok {
		c.Require(false, path, fault.Unknown, "allowed", strings.Join(SettlingKinds(), ", "))
		return
	}
	named := make(map[string]bool)
	for _, v := range list {
		kind, _ := v.(string)
		known := slices.Contains(SettlingKinds(), kind)
		c.Require(known, path, fault.Unknown, "value", kind, "allowed", strings.Join(SettlingKinds(), ", "))
		allowed := slices.Contains(s.must, kind) || slices.Contains(s.may, kind)
		c.Require(!known || allowed, path, fault.NotAllowed, "settles", kind)
		c.Require(!named[kind], path, fault.Duplicate, "value", kind)
		named[kind] = true
	}
	for _, kind := range s.must {
		c.Require(named[kind], path, fault.Required, "settles", kind)
	}
}

// NoInspection says that a group lets no inspection settle what others let one.
const NoInspection = "no-inspection"

// SettledBeside lists what the table says of a rule that inspections may settle
// beside the usual, which is any hands-on inspection: the level that it asks for
// or NoInspection, then the kinds of maintenance that settle its findings too.
// Nil for nothing.
func (r *Rules) SettledBeside(rule string) []string {
	var out []string
	switch row, ok := settlingRows[rule]; {
	case !ok || !slices.Contains(row.may, string(registry.HandsOn)) || r.closeEnough(rule, registry.HandsOn):
	case r.closeEnough(rule, registry.Full):
		out = append(out, string(registry.Full))
	default:
		out = append(out, NoInspection)
	}
	for _, kind := range r.SettledBy[rule].Value {
		if slices.Contains(registry.Upkeeps(), registry.Upkeep(kind)) {
			out = append(out, kind)
		}
	}
	return out
}

// closeEnough says whether the table lets an inspection at a level settle the
// findings of a rule. A rule without a row leaves it to the clocks.
func (r *Rules) closeEnough(rule string, level registry.Level) bool {
	row, ok := r.SettledBy[rule]
	if !ok {
		return true
	}
	for _, kind := range row.Value {
		if least := registry.Level(kind).Rank(); least > 0 && level.Rank() >= least {
			return true
		}
	}
	return false
}

// maintained says whether maintenance that settles the findings of a rule was
// surely done on the day of an inspection or later.
func (r *Rules) maintained(f *registry.Facts, i *registry.Inspection, rule string) bool {
	row := r.SettledBy[rule].Value
	for k := range f.Maintenance {
		m := &f.Maintenance[k]
		if m.DoneOn.Known() && m.DoneOn.From >= lastDay(f, i) &&
			slices.ContainsFunc(m.Done, func(u registry.Upkeep) bool { return slices.Contains(row, string(u)) }) {
			return true
		}
	}
	return false
}

// lastDay is the last day on which an inspection can have happened. One whose
// day is not known, and every imported one, happened before the anchor was
// entered here at the latest.
func lastDay(f *registry.Facts, i *registry.Inspection) calendar.Date {
	end := i.DoneOn.To
	if end.IsZero() || i.Origin != registry.Recorded && end > f.Anchor.EnteredOn {
		return f.Anchor.EnteredOn
	}
	return end
}

// verdictRule is the rule of suspicion that weighs a verdict; "" for none.
func verdictRule(v registry.Verdict) string {
	switch v {
	case registry.KeepWatching:
		return ruleWatch
	case registry.Repair:
		return ruleRepair
	case registry.TakeOutOfUse:
		return ruleOutOfUse
	}
	return ""
}

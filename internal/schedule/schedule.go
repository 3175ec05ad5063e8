// Package schedule says by when one anchor must be inspected again, and why: it
// gathers candidates, each a date with its rule, values and source. The
// earliest wins; all are kept.
//
// It judges no standing, and a date that lies ahead is no word that the anchor
// lasts until then.
package schedule

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// The rules that give a date.
const (
	RuleInterval        = "interval"
	RuleFirstInspection = "first-inspection"
	RuleVerdict         = "verdict"
	RuleBadState        = "bad-state"
	RuleNotLocated      = "not-located"
	RuleEvent           = "event"
	RuleNotice          = "notice"
	RuleWear            = "wear"
	RuleCoating         = "coating"
	RuleSection         = "section"
	RuleFitting         = "fitting"
	RuleDuty            = "duty"
	// RuleFirstRound is the rule of a reason only: the end of the first round,
	// to which earlier dates of an imported anchor are raised.
	RuleFirstRound = "first-round"
)

// Rules lists the rules that give a date or a reason.
func Rules() []string {
	return []string{
		RuleInterval, RuleFirstInspection, RuleVerdict, RuleBadState, RuleNotLocated, RuleEvent, RuleNotice,
		RuleWear, RuleCoating, RuleSection, RuleFitting, RuleDuty, RuleFirstRound,
	}
}

// What a clock is counted from.
const (
	FromFirstUse   = "first-use"
	FromSet        = "set"
	FromEntry      = "entry"
	FromInspection = "inspection"
	FromHung       = "hung" // a fitting
)

// Plan is when to inspect one anchor.
type Plan struct {
	// Candidates are all dates, earliest first, then by rule and values. There
	// is always one.
	Candidates []registry.Candidate
	// DueOn is the day by which to inspect, Reason the candidate that set it.
	DueOn  calendar.Date
	Reason registry.Candidate
	// SoonestOn is the earliest candidate, before the first round raised it.
	SoonestOn calendar.Date
	// Raised says that DueOn is the end of the first round.
	Raised   bool
	Interval houserules.Interval // for the anchor's age on the day asked for
	AtAnyAge houserules.Interval // without the factor age
}

// Given is what is already known of an anchor besides its facts.
type Given struct {
	Exposure *registry.Exposure
	// Findings are those of package suspicion: an imported bad state has a
	// date of its own while it is not settled.
	Findings []registry.Finding
	// Settled are the events and notices that a settlement answers: they give
	// no date.
	Settled []uuid.UUID
}

// Anchor plans the next inspection of one anchor in the rock. Of an uncertain
// date the earliest day counts. Records that others replace must have been left
// out (Facts.Current); the anchor's EnteredOn must be set.
func Anchor(f *registry.Facts, given Given, r *houserules.Rules, asOf calendar.Date) Plan {
	atAnyAge := r.IntervalAtAnyAge(f, given.Exposure)
	g := gathering{facts: f, given: given, rules: r, asOf: asOf, interval: r.ForAge(atAnyAge, f, asOf)}
	g.list = make([]registry.Candidate, 0, 4)
	g.counted = g.lastCounted(houserules.ClockInterval)
	if g.counted != nil {
		g.fromInterval()
	}
	if g.lastCounted(houserules.ClockFirstInspection) == nil {
		g.firstInspection()
	}
	g.verdicts()
	g.badState()
	g.notLocated()
	g.events()
	g.wear()
	g.corrosion()
	g.fittings()
	g.duty()
	slices.SortFunc(g.list, compare)

	p := Plan{
		Candidates: g.list, SoonestOn: g.list[0].On, Reason: g.list[0], DueOn: g.list[0].On,
		Interval: g.interval, AtAnyAge: atAnyAge,
	}
	if f.Anchor.Origin == registry.Imported && g.counted == nil {
		p.raise(g.firstRound())
	}
	return p
}

// compare orders candidates: the earlier first, then by rule and values.
func compare(a, b registry.Candidate) int {
	return cmp.Or(cmp.Compare(a.On, b.On), strings.Compare(a.Rule, b.Rule), slices.CompareFunc(a.Values, b.Values,
		func(x, y registry.Value) int {
			return cmp.Or(strings.Compare(x.Name, y.Name), strings.Compare(x.Text, y.Text))
		}))
}

// raise moves dates that are not hard to the end of the first round.
func (p *Plan) raise(round registry.Candidate) {
	var soft, hard *registry.Candidate
	for i := range p.Candidates {
		c := &p.Candidates[i]
		if c.Hard && hard == nil {
			hard = c
		}
		if !c.Hard && soft == nil {
			soft = c
		}
	}
	switch {
	case soft == nil || soft.On > round.On:
		return // nothing to raise
	case hard != nil && hard.On <= round.On:
		p.DueOn, p.Reason = hard.On, *hard
	default:
		round.Values = append(round.Values,
			registry.Value{Name: "soonest_on", Text: soft.On.String()},
			registry.Value{Name: "soonest_rule", Text: soft.Rule})
		p.DueOn, p.Reason, p.Raised = round.On, round, true
	}
}

// gathering is one run for one anchor.
type gathering struct {
	facts    *registry.Facts
	given    Given
	rules    *houserules.Rules
	asOf     calendar.Date
	interval houserules.Interval
	counted  *registry.Inspection // the last that resets the interval; nil: none
	list     []registry.Candidate
}

func (g *gathering) add(c registry.Candidate) { g.list = append(g.list, c) }

// firstRound returns the end of the first round of inspections at the
// anchor's site.
func (g *gathering) firstRound() registry.Candidate {
	entered := g.facts.Anchor.EnteredOn
	c := registry.Candidate{Rule: RuleFirstRound, On: g.facts.Site.FirstRoundEnds, Source: "planned for the site"}
	planned := c.On >= entered
	if !planned {
		c.On, c.Source = entered.AddMonths(g.rules.FirstRound.Value), g.rules.FirstRound.Source
	}
	c.Values = registry.Values{
		{Name: "entered_on", Text: entered.String()},
		{Name: "planned", Text: strconv.FormatBool(planned)},
	}
	return c
}

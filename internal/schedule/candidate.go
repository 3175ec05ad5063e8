package schedule

import (
	"strconv"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// lastCounted returns the latest inspection that resets a clock, nil if there
// is none.
func (g *gathering) lastCounted(c houserules.Clock) *registry.Inspection {
	var last *registry.Inspection
	for k := range g.facts.Inspections {
		i := &g.facts.Inspections[k]
		if g.rules.Counts(c, i) && (last == nil || houserules.Newer(i, last)) {
			last = i
		}
	}
	return last
}

// fromInterval adds the date from the last inspection that counts.
func (g *gathering) fromInterval() {
	on := g.counted.DoneOn.From
	values := append(spanned(lastInspected, g.counted.DoneOn), registry.Value{Name: "level", Text: string(g.counted.Level)})
	g.add(registry.Candidate{
		Rule: RuleInterval, Factor: string(g.interval.Factor), On: on.AddMonths(g.interval.Months),
		Values: g.withInterval(values), Source: g.interval.Source,
	})
}

// dated are the names of the two ends of a date.
type dated struct{ on, until string }

// The dates behind candidates.
var (
	lastInspected = dated{"last_inspected_on", "last_inspected_until"}
	counted       = dated{"counted_on", "counted_until"}
	given         = dated{"given_on", "given_until"}
	looked        = dated{"missed_on", "missed_until"}
	measured      = dated{"measured_on", "measured_until"}
	set           = dated{"set_on", "set_until"}
)

// spanned are the values of a date: its earliest day, and its latest if it is
// not known to the day.
func spanned(name dated, s calendar.Span) registry.Values {
	values := make(registry.Values, 1, 6) // room for what is appended
	values[0] = registry.Value{Name: name.on, Text: s.From.String()}
	if s.To > s.From {
		values = append(values, registry.Value{Name: name.until, Text: s.To.String()})
	}
	return values
}

// withInterval appends what stands behind the shortest interval.
func (g *gathering) withInterval(values registry.Values) registry.Values {
	values = append(values, months(g.interval.Months))
	if g.interval.Environment != "" {
		values = append(values, registry.Value{Name: "environment", Text: g.interval.Environment})
	}
	return append(values, registry.Value{Name: "row", Text: g.interval.Row})
}

func months(n int) registry.Value { return registry.Value{Name: "months", Text: strconv.Itoa(n)} }

// firstInspection adds the date of the first inspection, which is never later
// than the interval would give.
func (g *gathering) firstInspection() {
	from, day := g.countedFrom()
	on := day.From
	values := append(registry.Values{{Name: "counted_from", Text: from}}, spanned(counted, day)...)
	first := g.rules.FirstInspection
	c := registry.Candidate{Rule: RuleFirstInspection, On: on.AddMonths(first.Value), Source: first.Source}
	if g.interval.Months < first.Value {
		c.On, c.Source = on.AddMonths(g.interval.Months), g.interval.Source
		c.Factor = string(g.interval.Factor)
		c.Values = g.withInterval(values)
	} else {
		c.Values = append(values, months(first.Value))
	}
	g.add(c)
}

// countedFrom returns the day from which the first inspection counts: first
// use, else the day it was set, else the day of entry.
func (g *gathering) countedFrom() (string, calendar.Span) {
	var used calendar.Span
	for k := range g.facts.FirstUses {
		if on := g.facts.FirstUses[k].DoneOn; on.Known() && (!used.Known() || before(on, used)) {
			used = on
		}
	}
	switch day := g.facts.SetDay(); {
	case used.Known():
		return FromFirstUse, used
	case day.Known():
		return FromSet, day
	default:
		return FromEntry, calendar.Exactly(g.facts.Anchor.EnteredOn)
	}
}

// before orders dates by their earliest, then their latest day.
func before(a, b calendar.Span) bool { return a.From < b.From || a.From == b.From && a.To < b.To }

// verdicts adds the dates that inspectors set with "watch" or "repair", or
// that follow from those words.
func (g *gathering) verdicts() {
	for k := range g.facts.Inspections {
		i := &g.facts.Inspections[k]
		if i.Verdict != registry.KeepWatching && i.Verdict != registry.Repair || !g.rules.VerdictStands(g.facts, i) {
			continue
		}
		values := append(registry.Values{{Name: "verdict", Text: string(i.Verdict)}}, g.happened(given, i)...)
		if !i.InspectBy.IsZero() {
			g.add(registry.Candidate{Rule: RuleVerdict, On: i.InspectBy, Values: values, Source: "set by the inspector", Hard: true})
			continue
		}
		n := g.rules.Verdict[string(i.Verdict)]
		g.add(registry.Candidate{
			Rule: RuleVerdict, On: g.happenedOn(i).AddMonths(n.Value), Source: n.Source, Hard: true,
			Values: append(values, months(n.Value)),
		})
	}
}

// happenedOn is the earliest day of an inspection, the day of entry if not
// known.
func (g *gathering) happenedOn(i *registry.Inspection) calendar.Date {
	if i.DoneOn.From.IsZero() {
		return g.facts.Anchor.EnteredOn
	}
	return i.DoneOn.From
}

// happened are the values of an inspection's day.
func (g *gathering) happened(name dated, i *registry.Inspection) registry.Values {
	if !i.DoneOn.Known() {
		return spanned(name, calendar.Exactly(g.facts.Anchor.EnteredOn))
	}
	return spanned(name, i.DoneOn)
}

// badState adds the date by which an anchor of which the list says something
// bad must be looked at.
func (g *gathering) badState() {
	for k := range g.given.Findings {
		finding := &g.given.Findings[k]
		i := g.source(finding)
		if i == nil || i.Origin != registry.Imported || finding.Weighs().Rank() < registry.Suspect.Rank() ||
			g.rules.InspectedSince(g.facts, i) {
			continue
		}
		n, entered := g.rules.BadState, g.facts.Anchor.EnteredOn
		g.add(registry.Candidate{
			Rule: RuleBadState, On: entered.AddMonths(n.Value), Source: n.Source, Hard: true,
			Values: registry.Values{
				{Name: "finding", Text: finding.Rule},
				{Name: "entered_on", Text: entered.String()},
				months(n.Value),
			},
		})
	}
}

// source returns the inspection behind a finding, nil if there is none.
func (g *gathering) source(finding *registry.Finding) *registry.Inspection {
	if finding.RecordID == nil {
		return nil
	}
	for k := range g.facts.Inspections {
		if g.facts.Inspections[k].ID == *finding.RecordID {
			return &g.facts.Inspections[k]
		}
	}
	return nil
}

// notLocated adds the date by which to look again for an anchor that was not
// found.
func (g *gathering) notLocated() {
	missed := g.rules.Missed(g.facts)
	if missed == nil {
		return
	}
	values := registry.Values{{Name: "origin", Text: string(missed.Origin)}}
	if missed.Origin == registry.Imported {
		round := g.firstRound()
		g.add(registry.Candidate{
			Rule: RuleNotLocated, On: round.On, Values: append(values, round.Values...), Source: round.Source,
		})
		return
	}
	n, on := g.rules.NotLocated, g.happenedOn(missed)
	g.add(registry.Candidate{
		Rule: RuleNotLocated, On: on.AddMonths(n.Value), Source: n.Source,
		Values: append(append(values, g.happened(looked, missed)...),
			months(n.Value)),
	})
}

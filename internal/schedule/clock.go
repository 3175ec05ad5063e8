package schedule

import (
	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// corrosion adds the days by which the zinc is used up and the lost section
// reaches its shares. An inspection that counts and was done on such a day or
// after has seen it: the finding stays, the date does not.
func (g *gathering) corrosion() {
	x := g.given.Exposure
	g.noLater(RuleCoating, "", x.CoatingGoneOn)
	g.noLater(RuleSection, registry.Watch, x.SectionWatchOn)
	g.noLater(RuleSection, registry.Suspect, x.SectionSuspectOn)
}

func (g *gathering) noLater(rule string, share registry.Severity, on calendar.Date) {
	if on.IsZero() || g.counted != nil && g.counted.DoneOn.From >= on {
		return
	}
	values := append(spanned(set, g.facts.SetDay()),
		registry.Value{Name: "atmosphere", Text: string(g.given.Exposure.Atmosphere)})
	if share != "" {
		values = append(values, registry.Value{Name: "share", Text: string(share)})
	}
	g.add(registry.Candidate{Rule: rule, On: on, Values: values, Source: "ISO 9223:2012 and ISO 9224:2012, upper bound"})
}

// fittings adds the dates of what runs on rope, by how much the route is used.
func (g *gathering) fittings() {
	var last *registry.Inspection
	for k := range g.facts.Fittings {
		f := &g.facts.Fittings[k]
		if !f.Hangs(g.asOf) || !g.runsOnRope(f) {
			continue
		}
		if last == nil {
			last = g.lastCounted(houserules.ClockFitting)
		}
		row, n := g.rules.Fitting.Row(string(g.facts.Traffic))
		from, day := g.fittingFrom(f, last)
		values := append(registry.Values{{Name: "fitting", Text: string(f.Kind)}, {Name: "counted_from", Text: from}},
			spanned(counted, day)...)
		g.add(registry.Candidate{
			Rule: RuleFitting, On: day.From.AddMonths(n.Value), Source: n.Source,
			Values: append(values, months(n.Value), registry.Value{Name: "row", Text: row}),
		})
	}
}

// runsOnRope says whether a rope runs over the fitting: a lower-off hook
// anywhere, a ring or maillon at a lower-off or where the role is not known.
func (g *gathering) runsOnRope(f *registry.Fitting) bool {
	if f.Presence != registry.Present {
		return false
	}
	switch f.Kind {
	case registry.Hook:
		return true
	case registry.Ring, registry.Maillon:
		role := g.facts.Position.Role
		return role == registry.LowerOff || role == ""
	}
	return false
}

// fittingFrom returns the day from which a fitting's clock counts: the last
// inspection that counts or, if it was hung later, that day; without either the
// day the anchor was set, else the day of entry.
func (g *gathering) fittingFrom(f *registry.Fitting, last *registry.Inspection) (string, calendar.Span) {
	switch day := g.facts.SetDay(); {
	case last != nil && last.DoneOn.From >= f.SetOn.From:
		return FromInspection, last.DoneOn
	case f.SetOn.Known():
		return FromHung, f.SetOn
	case day.Known():
		return FromSet, day
	default:
		return FromEntry, calendar.Exactly(g.facts.Anchor.EnteredOn)
	}
}

// duty adds the date of the next full inspection where the group's anchors are
// work equipment.
func (g *gathering) duty() {
	n, ok := g.rules.OnDuty()
	if !ok {
		return
	}
	from, day := g.countedFrom()
	if last := g.lastCounted(houserules.ClockDuty); last != nil {
		from, day = FromInspection, last.DoneOn
	}
	values := append(registry.Values{{Name: "duty", Text: g.rules.Duty.Value}, {Name: "counted_from", Text: from}},
		spanned(counted, day)...)
	g.add(registry.Candidate{
		Rule: RuleDuty, On: day.From.AddMonths(n.Value), Values: append(values, months(n.Value)), Source: n.Source,
	})
}

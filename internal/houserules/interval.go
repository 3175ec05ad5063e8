package houserules

import (
	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// Factor is what an interval depends on.
type Factor string

// The factors, in the order in which the first of several equally short
// intervals is named.
const (
	FactorMetal     Factor = "metal"
	FactorForm      Factor = "form"
	FactorRock      Factor = "rock"
	FactorRockSound Factor = "rock-sound"
	FactorTraffic   Factor = "traffic"
	FactorRole      Factor = "role"
	FactorAge       Factor = "age"
)

// Factors lists the factors in that order.
func Factors() []Factor {
	return []Factor{FactorMetal, FactorForm, FactorRock, FactorRockSound, FactorTraffic, FactorRole, FactorAge}
}

// Interval is the shortest of the longest intervals, and the factor and row
// that set it.
type Interval struct {
	Months int
	Factor Factor
	Row    string
	Source string
}

// Interval returns how long the anchor may at most wait from one hands-on
// inspection to the next, for its age on asOf. The shortest over the factors
// counts; of a set of grades the one that fares worst; of two equal ones the
// factor named first. The environment counts as not known.
func (r Rules) Interval(f *registry.Facts, asOf calendar.Date) Interval {
	in := &r.Intervals
	best := shortestMetal(in.Metal[environmentNotKnown], f.Anchor.Metal)
	best = best.or(FactorForm, in.Form, string(f.Anchor.Form))
	best = best.or(FactorRock, in.Rock, string(f.Site.Rock))
	best = best.or(FactorRockSound, in.RockSound, string(rockSound(f.Installations)))
	best = best.or(FactorTraffic, in.Traffic, string(f.Traffic))
	best = best.or(FactorRole, in.Role, string(f.Position.Role))
	if f.Position.BackedUp != nil && !*f.Position.BackedUp {
		best = best.or(FactorRole, in.Role, SinglePoint)
	}
	return best.or(FactorAge, in.Age, ageBand(f.Anchor.SetOn.From, asOf))
}

// or returns the row's interval if it is shorter than i.
func (i Interval) or(factor Factor, table Table, row string) Interval {
	if row == "" {
		row = NotKnown
	}
	n, ok := table[row]
	if !ok {
		row, n = NotKnown, table[NotKnown] // a word the rules do not know
	}
	if n.Value >= i.Months {
		return i
	}
	return Interval{Months: n.Value, Factor: factor, Row: row, Source: n.Source}
}

// shortestMetal returns the interval of the grade that fares worst.
func shortestMetal(table Table, set metal.Set) Interval {
	best := Interval{Months: longest + 1}
	if !set.Known() {
		return best.or(FactorMetal, table, NotKnown)
	}
	for _, g := range set {
		best = best.or(FactorMetal, table, MetalRow(g))
	}
	return best
}

// MetalRow returns the row of the metal table for a grade, NotKnown for one
// that no table lists.
func MetalRow(g metal.Grade) string {
	switch g {
	case "1.4529", "1.4547", "1.4565":
		return StainlessHighAlloy
	}
	e, _ := metal.Lookup(g)
	switch e.Family {
	case metal.TitaniumFamily:
		return Titanium
	case metal.CarbonSteel:
		return CarbonSteel
	case metal.AluminiumFamily:
		return Aluminium
	}
	if e.Stainless() {
		return Stainless
	}
	return NotKnown
}

// rockSound returns what the latest installation that says so heard; of
// several on one day the worst.
func rockSound(list []registry.Installation) registry.Sound {
	var sound registry.Sound
	var on calendar.Date
	for i := range list {
		in := &list[i]
		if in.RockSound == "" {
			continue
		}
		later := in.DoneOn.From > on
		if sound == "" || later || in.DoneOn.From == on && worseSound(in.RockSound, sound) {
			sound, on = in.RockSound, in.DoneOn.From
		}
	}
	return sound
}

func worseSound(a, b registry.Sound) bool {
	for _, s := range registry.Sounds() {
		switch s {
		case a:
			return false
		case b:
			return true
		}
	}
	return false
}

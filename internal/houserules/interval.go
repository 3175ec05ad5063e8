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
	Months      int
	Factor      Factor
	Environment string // of the metal table; blank for another factor
	Row         string
	Source      string
}

// IntervalAtAnyAge returns how long an anchor of that exposure may at most wait
// from one hands-on inspection to the next, its age left aside: see ForAge. The
// shortest over the factors counts; of several rows of the metal the shortest;
// of two equal ones the factor named first.
func (r *Rules) IntervalAtAnyAge(f *registry.Facts, e *registry.Exposure) Interval {
	in := &r.Intervals
	best := Interval{Months: longest + 1}
	for _, row := range e.Rows {
		best = best.orMetal(in.Metal[row.Environment], row)
	}
	best = best.or(FactorForm, in.Form, string(f.Anchor.Form))
	best = best.or(FactorRock, in.Rock, string(f.Site.Rock))
	best = best.or(FactorRockSound, in.RockSound, string(rockSound(f.Installations)))
	best = best.or(FactorTraffic, in.Traffic, string(f.Traffic))
	best = best.or(FactorRole, in.Role, string(f.Position.Role))
	if f.Position.BackedUp != nil && !*f.Position.BackedUp {
		best = best.or(FactorRole, in.Role, SinglePoint)
	}
	return best
}

// ForAge returns i or, where that is shorter, the interval of the anchor's age
// on asOf.
func (r *Rules) ForAge(i Interval, f *registry.Facts, asOf calendar.Date) Interval {
	return i.or(FactorAge, r.Intervals.Age, ageBand(f.SetDay().From, asOf))
}

// Row returns the number of a table's row, the one for not known if the row is
// blank or the table does not have it, and which row it is.
func (t Table) Row(row string) (string, Number) {
	if n, ok := t[row]; ok && row != "" {
		return row, n
	}
	return NotKnown, t[NotKnown]
}

// or returns the row's interval if it is shorter than i.
func (i Interval) or(factor Factor, table Table, row string) Interval {
	row, n := table.Row(row)
	if n.Value >= i.Months {
		return i
	}
	return Interval{Months: n.Value, Factor: factor, Row: row, Source: n.Source}
}

// orMetal returns the interval of a metal's row if it is shorter than i.
func (i Interval) orMetal(table Table, row registry.MetalRow) Interval {
	n, ok := table[row.Row]
	if !ok || n.Value >= i.Months {
		return i
	}
	return Interval{Months: n.Value, Factor: FactorMetal, Environment: row.Environment, Row: row.Row, Source: n.Source}
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

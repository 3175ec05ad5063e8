package houserules

import (
	"maps"
	"slices"
	"strconv"

	"rockledger/internal/fault"
)

// daysPerMonth is the fewest days a civil month has.
const daysPerMonth = 28

// validate reports every number that does not go with another. Shape and
// single numbers are checked before.
func (r Rules) validate() error {
	var c fault.Checks
	c.Require(r.DueSoon.Value < r.ShortestGiven.Value*daysPerMonth, "due_soon_days.value", fault.OutOfRange,
		"below", strconv.Itoa(r.ShortestGiven.Value*daysPerMonth))
	r.checkShortest(&c, "first_inspection_months", r.FirstInspection)
	tables := r.Intervals.tables()
	for _, name := range slices.Sorted(maps.Keys(tables)) {
		path := "longest_interval_months." + name
		for _, row := range slices.Sorted(maps.Keys(tables[name])) {
			r.checkShortest(&c, path+"."+row, tables[name][row])
		}
		checkNotKnown(&c, path, tables[name])
	}
	return c.Err()
}

// tables returns the tables of intervals by path.
func (i *Intervals) tables() map[string]Table {
	return map[string]Table{
		"metal." + environmentNotKnown: i.Metal[environmentNotKnown],
		"form":                         i.Form,
		"rock":                         i.Rock,
		"rock_sound":                   i.RockSound,
		"traffic":                      i.Traffic,
		"role":                         i.Role,
		"age":                          i.Age,
	}
}

func (r Rules) checkShortest(c *fault.Checks, path string, n Number) {
	c.Require(n.Value >= r.ShortestGiven.Value, path+".value", fault.OutOfRange,
		"from", strconv.Itoa(r.ShortestGiven.Value))
}

// checkNotKnown wants the row for what is not known between the shortest and
// the longest row: not knowing may not be better than the best, nor worse than
// the worst that can be known.
func checkNotKnown(c *fault.Checks, path string, t Table) {
	low, high := longest, 0
	for row, n := range t {
		if row != NotKnown {
			low, high = min(low, n.Value), max(high, n.Value)
		}
	}
	n := t[NotKnown].Value
	c.Require(n >= low && n <= high, path+"."+NotKnown+".value", fault.OutOfRange,
		"from", strconv.Itoa(low), "to", strconv.Itoa(high))
}

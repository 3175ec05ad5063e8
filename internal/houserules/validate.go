package houserules

import (
	"maps"
	"slices"
	"strconv"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// daysPerMonth is the fewest days a civil month has.
const daysPerMonth = 28

// validate reports every number that does not go with another. Shape and
// single numbers are checked before.
func (r *Rules) validate() error {
	var c fault.Checks
	c.Require(r.DueSoon.Value < r.ShortestGiven.Value*daysPerMonth, "due_soon_days.value", fault.OutOfRange,
		"below", strconv.Itoa(r.ShortestGiven.Value*daysPerMonth))
	r.checkShortest(&c, "first_inspection_months", r.FirstInspection)
	tables := r.tables()
	for _, path := range slices.Sorted(maps.Keys(tables)) {
		for _, row := range slices.Sorted(maps.Keys(tables[path])) {
			r.checkShortest(&c, path+"."+row, tables[path][row])
		}
		checkNotKnown(&c, path, tables[path])
	}
	checkShares(&c, "wear_lost_percent", r.Wear)
	checkShares(&c, "section_lost_percent", r.Section)
	return c.Err()
}

// tables returns the tables of intervals by path.
func (r *Rules) tables() map[string]Table {
	in := &r.Intervals
	const path = "longest_interval_months."
	tables := map[string]Table{
		path + "form": in.Form, path + "rock": in.Rock, path + "rock_sound": in.RockSound,
		path + "traffic": in.Traffic, path + "role": in.Role, path + "age": in.Age,
		"fitting_months": r.Fitting, "duty_months": r.DutyMonths,
	}
	for environment, t := range in.Metal {
		tables[path+"metal."+environment] = t
	}
	return tables
}

func (r *Rules) checkShortest(c *fault.Checks, path string, n Number) {
	c.Require(n.Value >= r.ShortestGiven.Value, path+".value", fault.OutOfRange,
		"from", strconv.Itoa(r.ShortestGiven.Value))
}

// checkNotKnown wants the row for what is not known, in a table that has one,
// between the shortest and the longest row: not knowing may not be better than
// the best, nor worse than the worst that can be known.
func checkNotKnown(c *fault.Checks, path string, t Table) {
	n, ok := t[NotKnown]
	if !ok {
		return
	}
	low, high := longest, 0
	for row, n := range t {
		if row != NotKnown {
			low, high = min(low, n.Value), max(high, n.Value)
		}
	}
	c.Require(n.Value >= low && n.Value <= high, path+"."+NotKnown+".value", fault.OutOfRange,
		"from", strconv.Itoa(low), "to", strconv.Itoa(high))
}

// checkShares wants percentages that grow with the severity.
func checkShares(c *fault.Checks, path string, t Table) {
	least := 0
	for _, severity := range registry.Severities() {
		n, ok := t[string(severity)]
		if !ok {
			continue
		}
		field := path + "." + string(severity) + ".value"
		c.Require(n.Value > least, field, fault.OutOfRange, "above", strconv.Itoa(least))
		c.Require(n.Value <= 100, field, fault.OutOfRange, "to", "100")
		least = n.Value
	}
}

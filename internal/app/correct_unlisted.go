package app

import (
	"rockledger/internal/registry"
)

// unlisted takes a row about an anchor that came from no list: it can only say
// what the register says. What it does not say, it leaves open.
func (in *intake) unlisted(row *registry.ListRow, facts registry.Facts) {
	c := in.newCorrection(row, &registry.PastRow{Taken: row}, facts)
	field, now, differs := c.disagrees()
	if !differs {
		in.report.Unchanged++
		return
	}
	in.refuse(*c.refusal(field, registry.RefusedNotFromList, registry.Value{Name: "register", Text: now}))
}

// disagrees returns the first field in which the row says something else than
// the register, and what that says.
func (c *correction) disagrees() (field, now string, differs bool) {
	switch site, label := c.site.Name, c.facts.Position.Label; {
	case registry.Fold(c.row.Site) != registry.Fold(site):
		return "site", site, true
	case c.has("position") && registry.Fold(c.row.Label) != registry.Fold(label):
		return "position", label, true
	}
	for _, t := range traits {
		if c.tells(t) && !t.agrees(c) {
			return c.telling(t), t.now(c), true
		}
	}
	if stateTold := c.has("state") || c.has("last_inspected"); stateTold && !c.stateAgrees() {
		field, now = c.stateApart()
		return field, now, true
	}
	return "", "", false
}

// telling returns the field of a trait that the list has a column for.
func (c *correction) telling(t trait) string {
	for _, f := range t.cells {
		if c.has(f) {
			return f
		}
	}
	return t.cells[0]
}

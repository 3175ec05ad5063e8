package app

import (
	"slices"

	"rockledger/internal/registry"
)

// A column that a list does not have says nothing, as little of an anchor as of
// where it stands.

func (c *correction) has(field string) bool {
	_, has := c.in.list.Columns[field]
	return has
}

// tells says whether the list tells of a trait at all.
func (c *correction) tells(t trait) bool {
	if t.told != nil {
		return t.told(c)
	}
	return slices.ContainsFunc(t.cells, c.has)
}

// tellsLength says that a length may stand with the diameter. A list that never
// had a column for it has it nowhere else.
func (c *correction) tellsLength() bool {
	_, sized := c.past.Columns["length"]
	return c.has("length") || c.has("diameter") && (c.row.Length != nil || c.prev.Length != nil && !sized)
}

func (c *correction) tellsPlace() bool {
	return c.has("coordinates") || c.has("lat") && c.has("lon")
}

// placeFields are where a row says its anchor stands.
var placeFields = []struct {
	field string
	of    func(*registry.ListRow) *string
}{
	{"sector", func(r *registry.ListRow) *string { return &r.Sector }},
	{"route", func(r *registry.ListRow) *string { return &r.Route }},
	{"position", func(r *registry.ListRow) *string { return &r.Label }},
}

// fill lets the row say, where the list has no column, what the list before said.
func (c *correction) fill() {
	row := *c.row
	c.row = &row
	for _, t := range allTraits() {
		if !c.tells(t) {
			t.copy(c.row, c.prev)
		}
	}
	for _, p := range placeFields {
		if row.AnchorID != nil && !c.has(p.field) {
			*p.of(c.row) = *p.of(c.prev)
		}
	}
	if c.has("state") && setAfterReplacement(c.row) {
		c.row.ReplacedOn.From, c.row.ReplacedOn.To = 0, 0
	}
}

// stands says whether the anchor stands where the row says: where the list before
// had it, an earlier one, or the register.
func (c *correction) stands() bool {
	key := c.row.Key()
	earlier, listed := c.in.rows[key]
	return c.past.Key == key || listed && earlier.AnchorID == c.facts.Anchor.ID || c.in.book.holds(c.row, c.facts.Position.ID)
}

package app

import (
	"slices"

	"rockledger/internal/registry"
)

// hold leaves a trait to be compared, by the lists to come, with what the list
// before had: this row was not taken over. Where the register says the same, a
// person put it there, and an older list must not undo that.
func (c *correction) hold(t trait) {
	c.kept, c.held = append(c.kept, t.cells...), append(c.held, t)
}

// rewritten says whether any cell that is remembered is written otherwise than
// before, those of columns that are not read too, which are found by their
// headings.
func (c *correction) rewritten() bool {
	l := &c.in.list
	for i, heading := range l.Headings {
		if i >= len(c.row.Cells) {
			break
		}
		if slices.ContainsFunc(c.kept, func(f string) bool { return l.Columns[f] == heading }) {
			continue
		}
		now, was := tidy(c.row.Cells[i]), ""
		if at := slices.Index(c.past.Headings, heading); at >= 0 && at < len(c.past.Cells) {
			was = tidy(c.past.Cells[at])
		} else if f := fieldOf(l, heading); f != "" {
			was = c.before(f)
		}
		if now != was {
			return true
		}
	}
	return false
}

func fieldOf(l *registry.List, heading string) string {
	for f, h := range l.Columns {
		if h == heading {
			return f
		}
	}
	return ""
}

// remember keeps the row to compare the next list with. What was not taken over
// stays as the list before had it: what clashes clashes again until somebody
// decides.
func (in *intake) remember(c *correction, print string) {
	cells, taken := slices.Clone(c.row.Cells), *c.row
	for _, f := range c.kept {
		at := slices.Index(in.list.Headings, in.list.Columns[f])
		if _, has := in.list.Columns[f]; has && at >= 0 && at < len(cells) {
			cells[at] = c.past.Cell(f)
		}
	}
	for _, t := range c.held {
		t.copy(&taken, c.prev)
	}
	if len(c.kept) > 0 {
		r := registry.ListRow{Cells: cells}
		print = r.Print()
	}
	in.written.ImportRows = append(in.written.ImportRows, registry.ImportRow{
		ImportID: in.id, Line: c.row.Line, Key: c.row.Key(), Print: print, Cells: cells, Taken: &taken,
		AnchorID: c.facts.Anchor.ID, Changed: len(c.changes) > 0,
	})
}

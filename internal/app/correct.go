package app

import (
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// wanting asks for what must be known to take the rows of a list, by one import
// or, uuid.Nil, one that is not begun: of the anchors, those of which they may say
// something else than the lists before.
func wanting(list *registry.List, by uuid.UUID) registry.Wanted {
	return registry.Wanted{Rows: list.Rows, FileHash: list.FileHash, Import: by, Anchors: differing(list.Rows)}
}

// differing lists the anchors that rows are about and of which they may say
// something else than the lists before.
func differing(rows []registry.ListRow) func(registry.Known) []uuid.UUID {
	return func(known registry.Known) []uuid.UUID {
		var out []uuid.UUID
		for i := range rows {
			row := &rows[i]
			switch earlier, ok := known.Rows[row.Key()]; {
			case row.Blank:
			case row.AnchorID != nil:
				out = append(out, *row.AnchorID)
			case ok && earlier.Print != row.Print():
				out = append(out, earlier.AnchorID)
			}
		}
		return out
	}
}

// correction compares one row of a list with the row before it about the same
// anchor, and with what the register holds by now.
type correction struct {
	in    *intake
	row   *registry.ListRow // as the list has it now; see fill
	past  *registry.PastRow
	prev  *registry.ListRow // as the list before had it
	facts registry.Facts    // with what is taken over
	site  *registry.Site

	anchor   bool // facts.Anchor differs from the stored one
	position bool // facts.Position does
	setting  bool // installation does
	// installation is the one that counts, or the one that corrects it. Nil: none.
	installation *registry.Installation
	corrects     *uuid.UUID // the stored installation. Nil: none
	setByPerson  bool       // a person recorded the setting since
	replaced     bool       // another anchor came instead

	changes []report.CellChange
	clashes []report.CellClash
	kept    []string // fields whose cells are remembered as the list before had them
	held    []trait  // what is remembered as the list before had it
	written registry.Change
}

// correct takes a row about an anchor that a list entered before.
func (in *intake) correct(row *registry.ListRow, id uuid.UUID, print string) {
	facts, ok := in.facts[id]
	if !ok || facts.Anchor.Mistaken {
		in.refuse(in.doubt(row, "id", id.String(), registry.RefusedNoSuchID))
		return
	}
	past, listed := in.past[id]
	if !listed {
		in.unlisted(row, facts)
		return
	}
	c := in.newCorrection(row, &past, facts)
	if d := c.judge(); d != nil {
		in.refuse(*d)
		return
	}
	in.keep(c, print)
}

func (in *intake) newCorrection(row *registry.ListRow, past *registry.PastRow, facts registry.Facts) *correction {
	c := &correction{in: in, row: row, past: past, prev: past.Taken, facts: facts, site: &facts.Site}
	if now := facts.Setting(); now != nil {
		set, id := *now, now.ID
		c.installation, c.corrects, c.setByPerson = &set, &id, set.Origin == registry.Recorded
	}
	return c
}

// judge compares the row cell by cell with the one before it. It returns why
// the row is refused, nil if it is not; then nothing was taken over.
func (c *correction) judge() *registry.Doubt {
	if c.prev == nil {
		return c.refusal("position", registry.RefusedDiffers)
	}
	c.fill()
	switch {
	case !c.stands():
		return c.refusal("position", registry.RefusedMoved, registry.Value{Name: "place", Text: placeOfRow(c.prev)})
	case c.differs("site_kind") && c.row.SiteKind != c.prev.SiteKind && c.row.SiteKind != c.site.Kind:
		return c.refusal("site_kind", registry.RefusedKindChanged)
	case c.alters():
		return c.refusal("state", registry.RefusedGone)
	}
	for _, t := range traits {
		c.compare(t)
	}
	c.compareState()
	return c.invalid()
}

func (c *correction) refusal(field, code string, values ...registry.Value) *registry.Doubt {
	d := c.in.doubt(c.row, field, c.cell(field), code, values...)
	return &d
}

// invalid says why the anchor cannot become what the row says.
func (c *correction) invalid() *registry.Doubt {
	var checks fault.Checks
	if c.anchor {
		checks.Nest("anchor", c.facts.Anchor.Validate())
	}
	if c.position {
		checks.Nest("position", c.facts.Position.Validate())
	}
	e, ok := fault.As(checks.Err())
	if !ok || len(e.Violations) == 0 {
		return nil
	}
	v := e.Violations[0]
	return c.refusal("position", registry.RefusedInvalid,
		registry.Value{Name: "field", Text: v.Field}, registry.Value{Name: "code", Text: string(v.Code)})
}

// cell returns the row's cell of a field as written, without stray spaces.
func (c *correction) cell(field string) string {
	l := &c.in.list
	return tidy(registry.CellOf(l.Headings, l.Columns, c.row.Cells, field))
}

func (c *correction) before(field string) string { return tidy(c.past.Cell(field)) }

// differs says whether the cells of any of the fields are written otherwise
// than in the list before. A column that is not on the list any more, or was
// not on the one before, makes no difference while it says nothing.
func (c *correction) differs(fields ...string) bool {
	return slices.ContainsFunc(fields, func(f string) bool {
		_, has := c.in.list.Columns[f]
		return has && c.cell(f) != c.before(f)
	})
}

// first returns the first of the fields whose cell is written otherwise.
func (c *correction) first(fields []string) string {
	for _, f := range fields {
		if c.differs(f) {
			return f
		}
	}
	return fields[0]
}

// compare takes over one trait if its cells differ, unless the register says
// something else by now than the list before, or this very file was entered
// before: that is a clash.
func (c *correction) compare(t trait) {
	if !c.differs(t.cells...) {
		return
	}
	from, to := t.read(c, c.prev), t.read(c, c.row)
	switch now := t.now(c); {
	case t.same(from, to):
		return
	case t.agrees(c):
		c.hold(t)
		return
	case !t.same(now, from), t.setting && c.setByPerson, c.in.again:
		c.clash(t, t.beside(c, now))
		return
	}
	t.take(c)
	c.change(t.cells)
}

func (c *correction) change(cells []string) {
	for _, f := range cells {
		if c.differs(f) && !slices.ContainsFunc(c.changes, func(o report.CellChange) bool { return o.Field == f }) {
			c.changes = append(c.changes, c.cellChange(f))
		}
	}
}

func (c *correction) clash(t trait, now string) {
	f := c.first(t.cells)
	c.hold(t)
	c.clashes = append(c.clashes, report.CellClash{CellChange: c.cellChange(f), Register: now})
}

func (c *correction) cellChange(f string) report.CellChange {
	return report.CellChange{
		Line: c.row.Line, Column: c.in.list.Columns[f], Field: f, Place: placeOfRow(c.row),
		AnchorID: c.facts.Anchor.ID, From: c.before(f), To: c.cell(f),
	}
}

// keep counts a corrected row and keeps what it brings.
func (in *intake) keep(c *correction, print string) {
	in.report.ChangedCells = append(in.report.ChangedCells, c.changes...)
	in.report.ClashingCells = append(in.report.ClashingCells, c.clashes...)
	switch {
	case len(c.changes) > 0:
		in.report.Changed++
	case len(c.clashes) > 0:
		in.report.Clashes++
	default:
		in.report.Unchanged++
	}
	if len(c.changes) > 0 {
		c.write()
		in.corrected = append(in.corrected, c.facts)
	}
	if len(c.changes) > 0 || len(c.clashes) == 0 && c.rewritten() {
		in.remember(c, print)
		in.reproposes(c)
	}
}

// write puts what is taken over into the change.
func (c *correction) write() {
	w := &c.in.written
	if c.anchor {
		w.Anchors = append(w.Anchors, c.facts.Anchor)
	}
	if c.position {
		w.Positions = append(w.Positions, c.facts.Position)
	}
	if c.setting {
		c.writeSetting()
	}
	w.Fittings = append(w.Fittings, c.written.Fittings...)
	w.Installations = append(w.Installations, c.written.Installations...)
	w.Inspections = append(w.Inspections, c.written.Inspections...)
	w.Removals = append(w.Removals, c.written.Removals...)
	w.Retractions = append(w.Retractions, c.written.Retractions...)
	if c.replaced {
		c.addSuccessor()
	}
}

// writeSetting makes the corrected installation a record of its own, which
// replaces the one before; one of which nothing is left is taken back.
func (c *correction) writeSetting() {
	i := *c.installation
	nothing := i.HoleDiameter == nil && i.AdhesiveID == nil && i.BatchID == nil && i.PersonID == nil && !i.DoneOn.Known()
	switch {
	case nothing && c.corrects == nil:
		return
	case nothing:
		c.retract(*c.corrects)
		return
	}
	i.ID, i.AnchorID, i.Origin, i.RecordedAt, i.Replaces = newID(), c.facts.Anchor.ID, registry.Imported, c.in.at, c.corrects
	c.written.Installations = append(c.written.Installations, i)
	c.facts.Installations = append(slices.Clone(c.facts.Installations), i)
}

// reasonCorrected is why a record of a list is taken back by a later list.
const reasonCorrected = "the corrected list no longer says so"

// retract takes a record of a list back because the corrected one does not
// have it.
func (c *correction) retract(id uuid.UUID) {
	r := c.in.retraction(c.facts.Anchor.ID, id, reasonCorrected)
	c.written.Retractions = append(c.written.Retractions, r)
	c.facts.Retractions = append(slices.Clone(c.facts.Retractions), r)
}

func (in *intake) retraction(anchor, record uuid.UUID, reason string) registry.Retraction {
	return newRetraction(anchor, record, reason, in.asOf, in.at)
}

// reassess assesses the corrected anchors anew as of the day of entry.
func (in *intake) reassess(rules houserules.Rules) []registry.Assessment {
	out := make([]registry.Assessment, len(in.corrected))
	for i := range in.corrected {
		out[i] = assess.Anchor(in.corrected[i].Current(), rules, in.asOf)
	}
	return out
}

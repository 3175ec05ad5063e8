package app

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// intake decides what becomes of each row of one list. It changes nothing but
// itself.
type intake struct {
	list  registry.List
	rows  map[string]registry.KnownRow   // by key, of earlier lists
	past  map[uuid.UUID]registry.PastRow // by anchor, of those that may differ
	facts map[uuid.UUID]registry.Facts
	// proposals are those of earlier lists, by anchor.
	proposals map[uuid.UUID][]registry.Proposal
	notices   []registry.Notice  // that go by a criterion
	sheeted   map[uuid.UUID]bool // products of which there is a sheet
	names     map[uuid.UUID]string
	adhesives map[uuid.UUID]uuid.UUID // by batch
	asOf      calendar.Date
	at        time.Time
	id        uuid.UUID // of the import

	book      *book
	seen      map[string]*registry.ListRow // by what they are about, the first of each
	said      map[saying]bool
	fit       bool             // the list alone says nothing against any row
	again     bool             // this very file was entered before
	rules     houserules.Rules // the anchors are judged by
	entries   []entry          // the anchors made, in file order
	corrected []registry.Facts // of the anchors that a corrected row changed
	written   registry.Change
	report    report.Import
}

// saying is what a refusal says of a line.
type saying struct {
	line int
	code string
}

// entry is one anchor that is being made, with what its assessment rests on.
type entry struct {
	facts registry.Facts
	site  *registry.Site
	route *registry.Route // nil: on none
}

func newIntake(list registry.List, known registry.Known, asOf calendar.Date, at time.Time) *intake {
	return &intake{
		list: list, rows: known.Rows, past: known.Past, facts: known.Facts, proposals: known.Proposals,
		notices: known.Notices, sheeted: known.Sheeted, names: namesOf(&known), adhesives: adhesivesOf(known.Batches),
		again: enteredBefore(&list, known.Entered), asOf: asOf, at: at, id: newID(),
		book: newBook(known), seen: make(map[string]*registry.ListRow), said: make(map[saying]bool),
		report: report.Import{
			FileName: list.FileName, Encoding: list.Encoding, Delimiter: list.Delimiter,
			Columns: columns(list), Rows: len(list.Rows),
			Doubts:        append([]registry.Doubt{}, list.Doubts...),
			Refusals:      []registry.Doubt{},
			DuplicateRows: []report.Repeat{},
			ChangedCells:  []report.CellChange{},
			ClashingCells: []report.CellClash{},
		},
	}
}

// newID returns a new id; ids made later sort later.
func newID() uuid.UUID { return uuid.Must(uuid.NewV7()) }

// enteredBefore says whether one of the lists of the same bytes was read the same
// way.
func enteredBefore(list *registry.List, entered []registry.EnteredList) bool {
	return slices.ContainsFunc(entered, func(e registry.EnteredList) bool { return maps.Equal(e.Columns, list.Columns) })
}

// takeRows decides on every row, in file order; the rules are those that anchors
// are judged by.
func (in *intake) takeRows(rules houserules.Rules) {
	in.rules = rules
	for i := range in.list.Rows {
		in.take(&in.list.Rows[i])
	}
	in.tell()
}

// tell puts the doubts in the order of lines, without those that a refusal says
// already.
func (in *intake) tell() {
	in.report.Doubts = slices.DeleteFunc(in.report.Doubts, func(d registry.Doubt) bool { return in.said[saying{d.Line, d.Code}] })
	slices.SortStableFunc(in.report.Doubts, func(a, b registry.Doubt) int { return cmp.Compare(a.Line, b.Line) })
}

// take puts one row where it belongs: each row is counted once.
func (in *intake) take(row *registry.ListRow) {
	if !in.fit && in.settled(row) {
		return
	}
	key, print := row.Key(), row.Print()
	earlier, imported := in.rows[key]
	switch {
	case row.AnchorID != nil:
		in.correct(row, *row.AnchorID, print)
	case imported && earlier.Print == print:
		in.report.Unchanged++
	case imported:
		in.correct(row, earlier.AnchorID, print)
	case in.book.taken(row):
		in.refuse(in.doubt(row, "position", row.Label, registry.RefusedPositionTaken))
	default:
		in.report.Entered++
		in.enter(row, key, print)
	}
}

// settled decides on a row of which the list alone says what becomes of it:
// one that is blank, cannot be entered whatever the register holds, or is about
// a spot that an earlier line is about too.
func (in *intake) settled(row *registry.ListRow) bool {
	if row.Blank {
		in.report.Blank++
		return true
	}
	if d := in.unfit(row); d != nil {
		in.refuse(*d)
		return true
	}
	about := subject(row)
	if first := in.seen[about]; first != nil {
		in.repeat(row, first)
		return true
	}
	in.seen[about] = row
	return false
}

// subject is what only one row of a list may be about: an anchor by its id, or a
// position.
func subject(row *registry.ListRow) string {
	if row.AnchorID != nil {
		return row.AnchorID.String()
	}
	return row.Key()
}

// repeat takes a row about a spot that an earlier line is about too.
func (in *intake) repeat(row, first *registry.ListRow) {
	if in.sameRow(row, first) {
		in.report.Duplicates++
		in.report.DuplicateRows = append(in.report.DuplicateRows, report.Repeat{Line: row.Line, Of: first.Line})
		return
	}
	line := registry.Value{Name: "line", Text: strconv.Itoa(first.Line)}
	in.refuse(in.doubt(row, "position", row.Label, registry.RefusedSpotRepeated, line))
}

// sameRow says whether two rows about one spot say the same. Capitals in the
// names of the spot make no difference.
func (in *intake) sameRow(a, b *registry.ListRow) bool {
	return a.Print() == b.Print() || in.foldedPrint(a) == in.foldedPrint(b)
}

// foldedPrint is the print of a row with the words for its place folded.
func (in *intake) foldedPrint(row *registry.ListRow) string {
	r := registry.ListRow{Cells: slices.Clone(row.Cells)}
	for _, f := range []string{"site", "sector", "route", "position"} {
		if at := slices.Index(in.list.Headings, in.list.Columns[f]); in.list.Columns[f] != "" && at >= 0 && at < len(r.Cells) {
			r.Cells[at] = registry.Fold(r.Cells[at])
		}
	}
	return r.Print()
}

// refuse counts a row as refused. What the reading of the list doubted about
// it for the same reason is not said twice.
func (in *intake) refuse(d registry.Doubt) {
	in.report.Refused++
	in.report.Refusals = append(in.report.Refusals, d)
	in.said[saying{d.Line, d.Code}] = true
}

// doubt names a row's field by the list's own heading.
func (in *intake) doubt(row *registry.ListRow, field, text, code string, values ...registry.Value) registry.Doubt {
	return registry.Doubt{Line: row.Line, Column: in.list.Columns[field], Text: text, Code: code, Values: values}
}

// doubted says whether the reading of the list raised code on this line.
func (in *intake) doubted(line int, code string) bool {
	return slices.ContainsFunc(in.list.Doubts, func(d registry.Doubt) bool { return d.Line == line && d.Code == code })
}

// assess assesses, as of the day of entry, every new anchor of which all is at
// hand that bears on it.
func (in *intake) assess(rules houserules.Rules, assemblies []registry.Assembly) []registry.Assessment {
	loaded := make(map[uuid.UUID]bool)
	for _, a := range assemblies {
		for _, id := range a.PositionIDs {
			loaded[id] = true
		}
	}
	out := make([]registry.Assessment, 0, len(in.entries))
	for i := range in.entries {
		e := &in.entries[i]
		if !in.allAtHand(e) {
			continue
		}
		f := e.facts
		f.Site, f.InAssembly, f.Notices = *e.site, loaded[f.Position.ID], in.notices
		if e.route != nil {
			f.Traffic = e.route.Traffic
		}
		out = append(out, assess.Anchor(f, rules, in.asOf))
	}
	return out
}

// allAtHand says that the register knows nothing else that bears on an anchor
// being made: its site is made here, so that nothing was said of it before, and
// of its adhesive there is no sheet. Others are judged by their facts, once they
// are written.
func (in *intake) allAtHand(e *entry) bool {
	if e.site.Version > 0 {
		return false
	}
	for _, i := range e.facts.Installations {
		if i.AdhesiveID != nil && in.sheeted[*i.AdhesiveID] {
			return false
		}
	}
	for _, b := range e.facts.Batches {
		if b.ProductID != nil && in.sheeted[*b.ProductID] {
			return false
		}
	}
	return true
}

// heeded are the notices that the assessments of new anchors rest on; none where
// others are assessed too, which rest on facts from before.
func (in *intake) heeded() map[uuid.UUID]int {
	if len(in.corrected) > 0 {
		return nil
	}
	out := make(map[uuid.UUID]int, len(in.notices))
	for i := range in.notices {
		out[in.notices[i].ID] = in.notices[i].Version
	}
	return out
}

package app_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// The lists in these tests are invented. How corrected lists are taken is this
// project's own rule: see issue 4.

const heads = "Crag;Route;Bolt;Type;Steel;Dia;Hole;Glue;Batch;Fitted;By;Last checked;State;Landowner;Ref;Notes"

// line is one row under heads, with some cells written otherwise.
func line(bolt string, cells ...string) string {
	row := []string{"Tarn Edge", "Plum Line", bolt, "staple", "1.4401", "10", "12", "resin one", "L1", "2012", "Ada X.", "2019", "ok", "Moor Farm", "r1", "dry"}
	for i := 0; i+1 < len(cells); i += 2 {
		row[slices.Index(strings.Split(heads, ";"), cells[i])] = cells[i+1]
	}
	return strings.Join(row, ";")
}

func list(rows ...string) string { return heads + "\n" + strings.Join(rows, "\n") + "\n" }

func (h *house) take(t *testing.T, csv string, dry bool) report.Import {
	t.Helper()
	r, err := h.Import(t.Context(), h.who, parse(t, "small.csv", []byte(csv)), dry)
	if err != nil {
		t.Fatalf("import: %v", err)
	}
	if sum := r.Entered + r.Changed + r.Clashes + r.Duplicates + r.Blank + r.Refused + r.Unchanged; sum != r.Rows {
		t.Errorf("%d rows, counted %d: %+v", r.Rows, sum, r)
	}
	return r
}

func (h *house) story(t *testing.T, bolt string) registry.AnchorStory {
	t.Helper()
	s, err := h.AnchorStory(t.Context(), h.who, h.anchor(t, bolt).ID)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// cells writes changes as "field: from > to".
func cells(list []report.CellChange) []string {
	var out []string
	for _, c := range list {
		out = append(out, fmt.Sprintf("%s: %s > %s", c.Field, c.From, c.To))
	}
	return out
}

func TestCorrectedCells(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		cells []string
		want  []string
		check func(registry.AnchorStory) any
		is    any
	}{
		{
			"the type",
			[]string{"Type", "wedge anchor"},
			[]string{"type: staple > wedge anchor"},
			func(s registry.AnchorStory) any { return s.Facts.Anchor.Form }, registry.WedgeAnchor,
		},
		{
			"a hanger with it",
			[]string{"Type", "wedge anchor with hanger"},
			[]string{"type: staple > wedge anchor with hanger"},
			func(s registry.AnchorStory) any { return len(s.Facts.Fittings) }, 1,
		},
		{
			"the metal",
			[]string{"Steel", "1.4404"},
			[]string{"metal: 1.4401 > 1.4404"},
			func(s registry.AnchorStory) any { return string(s.Facts.Anchor.Metal[0]) }, "1.4404",
		},
		{
			"the metal emptied",
			[]string{"Steel", ""},
			[]string{"metal: 1.4401 > "},
			func(s registry.AnchorStory) any { return s.Facts.Anchor.Metal.Known() }, false,
		},
		{
			"the size",
			[]string{"Dia", "12"},
			[]string{"diameter: 10 > 12"},
			func(s registry.AnchorStory) any { return *s.Facts.Anchor.Shank }, 12 * quantity.Millimetre,
		},
		{
			"the hole",
			[]string{"Hole", "14"},
			[]string{"hole: 12 > 14"},
			func(s registry.AnchorStory) any { return *s.Facts.Current().Installations[0].HoleDiameter }, 14 * quantity.Millimetre,
		},
		{
			"the date it was set",
			[]string{"Fitted", "2014"},
			[]string{"set_on: 2012 > 2014"},
			func(s registry.AnchorStory) any {
				f := s.Facts.Current()
				return []string{f.Anchor.SetOn.Words, f.Installations[0].DoneOn.Words, fmt.Sprint(len(f.Installations), len(s.Facts.Installations))}
			},
			[]string{"2014", "2014", "1 2"},
		},
		{
			"who set it",
			[]string{"By", "Bo Y."},
			[]string{"set_by: Ada X. > Bo Y."},
			func(s registry.AnchorStory) any { return s.Persons[*s.Facts.Current().Installations[0].PersonID] }, "Bo Y.",
		},
		{
			"the glue, and the batch goes with it",
			[]string{"Glue", "resin two"},
			[]string{"glue: resin one > resin two"},
			func(s registry.AnchorStory) any {
				i := s.Facts.Current().Installations[0]
				b := s.Batches[*i.BatchID]
				return []string{s.Products[*i.AdhesiveID].Name, b.Text, fmt.Sprint(*b.ProductID == *i.AdhesiveID)}
			},
			[]string{"resin two", "L1", "true"},
		},
		{
			"the batch",
			[]string{"Batch", "L2"},
			[]string{"batch: L1 > L2"},
			func(s registry.AnchorStory) any { return s.Batches[*s.Facts.Current().Installations[0].BatchID].Text }, "L2",
		},
		{
			"the landowner",
			[]string{"Landowner", "Hill Farm"},
			[]string{"landowner: Moor Farm > Hill Farm"},
			func(s registry.AnchorStory) any { return s.Landowner }, "Hill Farm",
		},
		{
			"the notes",
			[]string{"Notes", "drips"},
			[]string{"notes: dry > drips"},
			func(s registry.AnchorStory) any { return s.Facts.Anchor.Notes }, "drips",
		},
		{
			"the same sight told otherwise replaces it",
			[]string{"State", "spins"},
			[]string{"state: ok > spins"},
			func(s registry.AnchorStory) any {
				now := s.Facts.Current().Inspections
				return fmt.Sprint(len(now), now[0].Observations, len(s.Facts.Inspections), now[0].Level)
			},
			"1 [spins] 2glance",
		},
		{
			"a later sight stands beside it",
			[]string{"State", "spins", "Last checked", "2024"},
			[]string{"state: ok > spins", "last_inspected: 2019 > 2024"},
			func(s registry.AnchorStory) any { return len(s.Facts.Current().Inspections) }, 2,
		},
		{
			"a sight no longer told is taken back",
			[]string{"State", "", "Last checked", ""},
			[]string{"state: ok > ", "last_inspected: 2019 > "},
			func(s registry.AnchorStory) any { return len(s.Facts.Current().Inspections) }, 0,
		},
		{
			"removed",
			[]string{"State", "removed"},
			[]string{"state: ok > removed"},
			func(s registry.AnchorStory) any { return fmt.Sprint(s.Facts.Anchor.Removed, len(s.Facts.Removals)) }, "true 1",
		},
		{
			"the same in other writing",
			[]string{"Dia", "M10", "Type", "STAPLE", "Steel", "1.4401 "},
			nil,
			func(s registry.AnchorStory) any { return s.Facts.Anchor.Version }, 1,
		},
		{
			"a column that is not read",
			[]string{"Ref", "r2"},
			nil,
			func(s registry.AnchorStory) any { return s.Facts.Anchor.Version }, 1,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			h := newHouse(t)
			h.take(t, list(line("B1"), line("B2")), false)
			csv := list(line("B1", c.cells...), line("B2"))
			dry := h.take(t, csv, true)
			got := h.take(t, csv, false)
			dry.ID, dry.DryRun = got.ID, false
			if d := cmp.Diff(got, dry); d != "" {
				t.Errorf("the dry run answered otherwise (-import +dry run):\n%s", d)
			}
			if d := cmp.Diff(c.want, cells(got.ChangedCells)); d != "" {
				t.Errorf("changes (-want +got):\n%s", d)
			}
			changed := min(len(c.want), 1)
			if got.Changed != changed || got.Unchanged != 2-changed || got.Entered+got.Refused+got.Clashes != 0 {
				t.Errorf("report %+v", got)
			}
			if d := cmp.Diff(c.is, c.check(h.story(t, "B1"))); d != "" {
				t.Errorf("(-want +got):\n%s", d)
			}
			again := h.take(t, csv, false)
			if again.Unchanged != 2 || again.ID != "" {
				t.Errorf("the same file again: %+v", again)
			}
		})
	}
}

func TestCorrectedReplaced(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, list(line("B1")), false)
	r := h.take(t, list(line("B1", "State", "replaced 2020, spins")), false)
	if r.Changed != 1 || r.Successors != 1 {
		t.Errorf("report %+v, want one changed and one successor", r)
	}
	living := 0
	for _, l := range h.anchors(t, registry.AnchorFilter{}) {
		if l.Anchor.Removed {
			continue
		}
		living++
		if l.Standing != registry.StandingSuspect {
			t.Errorf("the new anchor, which spins, is %q", l.Standing)
		}
	}
	if living != 1 {
		t.Errorf("%d living anchors, want the new one", living)
	}
	for _, state := range []string{"ok", "replaced 2021", "removed"} {
		back := h.take(t, list(line("B1", "State", state, "Notes", "else")), false)
		if state == "removed" {
			continue // the register agrees
		}
		if back.Refused != 1 || back.Refusals[0].Code != registry.RefusedGone {
			t.Errorf("%q after replaced: %+v, want refused", state, back)
		}
	}
}

func TestCorrectedClash(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, list(line("B1")), false)
	a := h.anchor(t, "B1")
	mm := 11 * quantity.Millimetre
	if _, err := h.ChangeAnchor(t.Context(), h.who, a.ID, a.Version, func(a *registry.Anchor) error { a.Shank = &mm; return nil }); err != nil {
		t.Fatal(err)
	}
	csv := list(line("B1", "Dia", "12"))
	for range 2 { // until somebody decides
		r := h.take(t, csv, false)
		if r.Clashes != 1 || r.Changed != 0 || r.ID != "" || len(r.ClashingCells) != 1 {
			t.Fatalf("report %+v, want one clash", r)
		}
		if c := r.ClashingCells[0]; c.From != "10" || c.To != "12" || c.Register != "11 mm" || c.Field != "diameter" {
			t.Errorf("clash %+v", c)
		}
	}
	both := list(line("B1", "Dia", "12", "Notes", "drips"))
	if r := h.take(t, both, false); r.Changed != 1 || len(r.ClashingCells) != 1 {
		t.Errorf("report %+v, want the note taken over and the size left alone", r)
	}
	if r := h.take(t, both, false); r.Clashes != 1 || r.Changed != 0 {
		t.Errorf("again: %+v, want the clash told again", r)
	}
	if got := h.anchor(t, "B1"); *got.Shank != mm || got.Notes != "drips" {
		t.Errorf("anchor %+v, want the register's size and the list's note", got)
	}
	if r := h.take(t, list(line("B1", "Dia", "11", "Notes", "drips")), false); r.Clashes+r.Changed != 0 || r.Unchanged != 1 {
		t.Errorf("once the list agrees: %+v, want unchanged", r)
	}
}

// A person's record of the setting is not replaced by a list's.
func TestCorrectedClashWithRecord(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, list(line("B1")), false)
	story := h.story(t, "B1")
	mm := 12 * quantity.Millimetre
	old := story.Facts.Installations[0].ID
	_, _, err := h.RecordInstallation(t.Context(), h.who, registry.Installation{
		Record: registry.Record{
			ID: uuid.Must(uuid.NewV7()), AnchorID: story.Facts.Anchor.ID, Replaces: &old,
			DoneOn: calendar.Exactly(calendar.NewDate(2012, 5, 1)),
		},
		HoleDiameter: &mm,
	})
	if err != nil {
		t.Fatal(err)
	}
	if r := h.take(t, list(line("B1", "Hole", "14")), false); r.Clashes != 1 {
		t.Errorf("report %+v, want a clash", r)
	}
	retract(t, h, story.Facts.Anchor.ID, story.Facts.Inspections[0].ID)
	if r := h.take(t, list(line("B1", "State", "spins")), false); r.Clashes != 1 {
		t.Errorf("the sight was taken back: %+v, want a clash", r)
	}
}

func retract(t *testing.T, h *house, anchor, record uuid.UUID) {
	t.Helper()
	p, _, err := h.AddPerson(t.Context(), h.who, registry.Person{Name: "Cy Z. " + record.String()})
	if err != nil {
		t.Fatal(err)
	}
	_, _, err = h.RecordRetraction(t.Context(), h.who, registry.Retraction{
		Record:     registry.Record{ID: uuid.Must(uuid.NewV7()), AnchorID: anchor, PersonID: &p.ID, DoneOn: calendar.Exactly(firstDay)},
		RetractsID: record, Reason: "of another anchor",
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Rows with an id are about its anchor, wherever the list has it.
func TestCorrectedByID(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, list(line("B1"), line("B2")), false)
	b1, nobody := h.anchor(t, "B1").ID, uuid.Must(uuid.NewV7())
	for _, c := range []struct {
		name string
		id   uuid.UUID
		row  string
		want string // refused for; empty: not
	}{
		{"as it was", b1, line("B1"), ""},
		{"another label", b1, line("B9"), registry.RefusedMoved},
		{"no such anchor", nobody, line("B1"), registry.RefusedNoSuchID},
	} {
		l := parse(t, "small.csv", []byte(list(c.row)))
		l.Rows[0].AnchorID = &c.id
		r, err := h.Import(t.Context(), h.who, l, false)
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Refused == 1 && r.Refusals[0].Code == c.want; got != (c.want != "") || c.want == "" && r.Unchanged != 1 {
			t.Errorf("%s: %+v, want %q", c.name, r, c.want)
		}
	}
}

// Neither the order of the columns nor that of the rows matters.
func TestCorrectedShuffled(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	rows := []string{line("B1"), line("B2", "State", "spins", "Fitted", "c. 1998"), line("B3", "Type", "", "Steel", "?", "Notes", "a; b"), line("B4", "State", "replaced 2019")}
	rows[2] = strings.Replace(rows[2], "a; b", `"a; b"`, 1)
	h.take(t, list(rows...), false)
	before, ctx, outer := h.anchors(t, registry.AnchorFilter{}), t.Context(), t
	rapid.Check(t, func(t *rapid.T) {
		l := parse(outer, "small.csv", []byte(list(rapid.Permutation(rows).Draw(t, "rows")...)))
		order := rapid.Permutation(upTo(len(l.Headings))).Draw(t, "columns")
		l.Headings = pick(l.Headings, order)
		for i := range l.Rows {
			l.Rows[i].Cells = pick(l.Rows[i].Cells, order)
		}
		r, err := h.Import(ctx, h.who, l, false)
		if err != nil || r.Unchanged != len(rows) || r.ID != "" {
			t.Fatalf("shuffled: %+v, %v", r, err)
		}
	})
	if d := cmp.Diff(before, h.anchors(t, registry.AnchorFilter{})); d != "" {
		t.Errorf("the shuffled list changed anchors:\n%s", d)
	}
}

func upTo(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

func pick(list []string, order []int) []string {
	out := make([]string, len(order))
	for i, at := range order {
		out[i] = list[at]
	}
	return out
}

func TestUndoImport(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	sample := h.read(t, "anchor-list.csv")
	first, err := h.Import(t.Context(), h.who, sample, false)
	if err != nil {
		t.Fatal(err)
	}
	done, err := h.UndoImport(t.Context(), h.who, uuid.MustParse(first.ID))
	if err != nil {
		t.Fatal(err)
	}
	if done.Anchors != first.Entered+first.Successors || done.Records == 0 || done.Places <= first.Entered || done.FileName != "anchor-list.csv" {
		t.Errorf("undone %+v after %d entered and %d successors", done, first.Entered, first.Successors)
	}
	if n := len(h.anchors(t, registry.AnchorFilter{})); n != 0 {
		t.Errorf("%d anchors are still listed", n)
	}
	for _, asOf := range []calendar.Date{0, firstDay - 30} {
		late, err := h.Overdue(t.Context(), h.who, asOf)
		if err != nil || len(late.Lines) != 0 {
			t.Errorf("overdue on %v: %d lines, %v", asOf, len(late.Lines), err)
		}
	}
	if _, err := h.UndoImport(t.Context(), h.who, uuid.MustParse(first.ID)); fault.KindOf(err) != fault.Conflict {
		t.Errorf("undone again: %v, want conflict", err)
	}
	again, err := h.Import(t.Context(), h.who, sample, false)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(sampleFirst, countsOf(again)); d != "" {
		t.Errorf("counts once entered again (-want +got):\n%s", d)
	}
	notWallOfRed(t, h)
}

func TestUndoImportRejects(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	first := h.take(t, list(line("B1"), line("B2")), false)
	id := uuid.MustParse(first.ID)
	if _, err := h.UndoImport(t.Context(), h.as(registry.RoleRecorder), id); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("by a recorder: %v, want forbidden", err)
	}
	if _, err := h.UndoImport(t.Context(), h.who, uuid.New()); fault.KindOf(err) != fault.NotFound {
		t.Errorf("of no import: %v, want not found", err)
	}
	other := h.addGroup(t, "other-anchors")
	if _, err := h.UndoImport(t.Context(), other, id); fault.KindOf(err) != fault.NotFound {
		t.Errorf("by another group: %v, want not found", err)
	}
	b1 := h.anchor(t, "B1").ID
	seen := inspected(b1, firstDay, nil)
	if _, _, err := h.RecordInspection(t.Context(), h.who, seen); err != nil {
		t.Fatal(err)
	}
	refuses(t, h, id, "inspection")
	worked := registry.Maintenance{Record: seen.Record, Done: []registry.Upkeep{registry.Cleaned}}
	marked := registry.Marking{Record: seen.Record, How: []registry.MarkingHow{registry.MarkedTape}}
	worked.ID, marked.ID = uuid.Must(uuid.NewV7()), uuid.Must(uuid.NewV7())
	if _, _, err := h.RecordMaintenance(t.Context(), h.who, worked, nil); err != nil {
		t.Fatal(err)
	}
	if _, _, err := h.RecordMarking(t.Context(), h.who, marked); err != nil {
		t.Fatal(err)
	}
	refuses(t, h, id, "inspection", "maintenance", "marking")
	second := h.take(t, list(line("B2", "Notes", "drips"), line("B3")), false)
	refuses(t, h, id, "inspection", "list", "maintenance", "marking")
	h.undo(t, second)
	refuses(t, h, id, "inspection", "maintenance", "marking")
}

func refuses(t *testing.T, h *house, id uuid.UUID, want ...string) {
	t.Helper()
	_, err := h.UndoImport(t.Context(), h.who, id)
	e, ok := fault.As(err)
	if !ok || e.Kind != fault.Conflict || e.Code != fault.InUse {
		t.Fatalf("undo: %v, want conflict, in use", err)
	}
	var got []string
	for _, v := range e.Violations {
		got = append(got, v.Values["what"])
		if what := v.Values["what"]; what != "assembly" && what != "list" && v.Values["place"] == "" {
			t.Errorf("in the way %+v, want its place named", v.Values)
		}
	}
	slices.Sort(got)
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("in the way (-want +got):\n%s", d)
	}
}

// A record that was taken back stands no longer in the way, and what others
// use stays.
func TestUndoImportLeavesOthers(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, list(line("B1")), false)
	second := h.take(t, list(line("B2"), line("B3", "Crag", "Fell End")), false)
	b2 := h.anchor(t, "B2").ID
	seen := inspected(b2, firstDay, nil)
	if _, _, err := h.RecordInspection(t.Context(), h.who, seen); err != nil {
		t.Fatal(err)
	}
	retract(t, h, b2, seen.ID)
	if _, err := h.UndoImport(t.Context(), h.who, uuid.MustParse(second.ID)); err != nil {
		t.Fatal(err)
	}
	sites, err := h.Sites(t.Context(), h.who, registry.Page{Limit: 10})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sites {
		if ended := !s.EndedOn.IsZero(); ended != (s.Name == "Fell End") {
			t.Errorf("site %q ended: %v", s.Name, ended)
		}
	}
	if got := h.anchors(t, registry.AnchorFilter{}); len(got) != 1 || got[0].Label != "B1" {
		t.Errorf("anchors %+v, want B1 alone", got)
	}
}

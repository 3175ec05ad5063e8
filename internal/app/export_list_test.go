package app_test

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// export writes the group's list.
func (h *house) export(t testing.TB, who registry.Actor, ask registry.ListAsk) string {
	t.Helper()
	var b bytes.Buffer
	if err := h.ExportAnchorList(context.Background(), who, ask, exchange.NewListWriter(&b, h.AsOf(who))); err != nil {
		t.Fatalf("export %+v: %v", ask, err)
	}
	return b.String()
}

// told is what two lists must say alike: typed values, and words where nothing
// was read from them.
var told = cmp.Options{
	cmpopts.IgnoreFields(registry.ListRow{}, "Line", "Cells", "AnchorID"),
	cmp.Transformer("days", func(s calendar.Span) [3]string {
		if s.Known() {
			return [3]string{s.From.String(), s.To.String()}
		}
		return [3]string{2: s.Words}
	}),
}

// normal folds what the register keeps once for many rows, and drops the words
// of what was read.
func normal(r registry.ListRow) registry.ListRow {
	r.Site, r.Sector, r.Route, r.Label = registry.Fold(r.Site), registry.Fold(r.Sector), registry.Fold(r.Route), registry.Fold(r.Label)
	r.Glue, r.SetBy, r.Landowner = registry.Fold(r.Glue), registry.Fold(r.SetBy), registry.Fold(r.Landowner)
	r.Batch = registry.FoldBatch(r.Batch)
	r.CoordinateWords = ""
	if r.State == "" {
		r.StateWords = ""
	}
	r.ReplacedOn.Words = ""
	return r
}

// TestExportIsReadBack takes over the invented lists, gives them back under
// either headings, and wants every row to say what it said before.
func TestExportIsReadBack(t *testing.T) {
	t.Parallel()
	// Rows that are not given back as written: coordinates that were put right
	// (seven), positions without a name (two).
	for name, rewritten := range map[string]int{"anchor-list.csv": 7, "cave-list.tsv": 2, "american-list.csv": 0} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			h := newHouse(t)
			list := h.read(t, name)
			done, err := h.Import(t.Context(), h.who, list, false)
			if err != nil {
				t.Fatal(err)
			}
			for _, own := range []bool{false, true} {
				text := h.export(t, h.who, registry.ListAsk{Own: own})
				back := parse(t, name, []byte(text))
				if want := done.Entered + done.Successors; len(back.Rows) != want {
					t.Errorf("own %v: %d rows, want %d", own, len(back.Rows), want)
				}
				sameRows(t, list, back)
				if own {
					sameColumns(t, list, back)
					if got := rewrittenRows(list, back); got != rewritten {
						t.Errorf("%d rows are not as written, want %d", got, rewritten)
					}
				}
			}
		})
	}
}

// sameRows compares each row that was entered with the one that came back.
func sameRows(t *testing.T, list, back registry.List) {
	t.Helper()
	came := make(map[string]registry.ListRow)
	for _, r := range back.Rows {
		if r.AnchorID == nil {
			t.Fatalf("line %d has no id", r.Line)
		}
		if old, ok := came[r.Key()]; !ok || old.State != registry.StateReplaced {
			came[r.Key()] = r
		}
	}
	seen := make(map[string]bool)
	for _, r := range list.Rows {
		if r.Blank || seen[r.Key()] {
			continue
		}
		seen[r.Key()] = true
		if diff := cmp.Diff(normal(r), normal(came[r.Key()]), told); diff != "" {
			t.Errorf("%s, line %d (-before +back):\n%s\n%q\n%q", list.FileName, r.Line, diff, r.Cells, came[r.Key()].Cells)
		}
	}
}

// rewrittenRows counts the rows of a list that did not come back cell by cell.
func rewrittenRows(list, back registry.List) int {
	cells := func(r registry.ListRow) string { return strings.Join(r.Cells[:len(list.Headings)], "\x1f") }
	came := make(map[string]bool)
	for _, r := range back.Rows {
		came[cells(r)] = true
	}
	n := 0
	for _, r := range list.Rows {
		if !r.Blank && !came[cells(r)] {
			n++
		}
	}
	return n
}

// sameColumns wants a list's own headings with the id behind them.
func sameColumns(t *testing.T, list, back registry.List) {
	t.Helper()
	if diff := cmp.Diff(append(list.Headings[:len(list.Headings):len(list.Headings)], "id"), back.Headings); diff != "" {
		t.Errorf("headings (-before +back):\n%s", diff)
	}
	if list.Delimiter != back.Delimiter {
		t.Errorf("delimiter %q, want %q", back.Delimiter, list.Delimiter)
	}
	back.Columns["id"] = ""
	for f, h := range list.Columns {
		if back.Columns[f] != h {
			t.Errorf("%s is under %q, want %q", f, back.Columns[f], h)
		}
	}
}

// TestExportShowsCorrections changes what the register holds; the own list then
// has the new values in place of those cells alone.
func TestExportShowsCorrections(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, "Crag;Route;Bolt no;Type;Dia;Fitted;Last checked;Condition;Lat;Lon;Colour\n"+
		"Tarn Edge;Plum Line;B1;glue in eye;12;03/04/2014;05/06/2024;Good;54.21334;-2.33805;=red\n"+
		"Tarn Edge;Plum Line;B2;through bolt;3/8 x 3;c. 1998;;rusty;54.21335;-2.33806;-blue\n"+
		"Tarn Edge;Plum Line;B3;through bolt;10cm;25/12/2019;;replaced 2021;54.21335;-2.33806;\n")
	b1, b2 := h.anchor(t, "B1"), h.anchor(t, "B2")
	_, err := h.ChangeAnchor(t.Context(), h.who, b2.ID, b2.Version, func(a *registry.Anchor) error {
		long := quantity.Length(80)
		a.Length, a.SetOn = &long, calendar.Span{From: calendar.NewDate(1999, 5, 1), To: calendar.NewDate(1999, 5, 31)}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	_, _, err = h.RecordInspection(t.Context(), h.who, inspected(b1.ID, firstDay, func(i *registry.Inspection) {
		i.Observations, i.Verdict = []registry.Observation{registry.AnchorTurns, registry.CrackedGlue}, registry.TakeOutOfUse
	}))
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(h.export(t, h.who, registry.ListAsk{Own: true}), "\n")
	for i, want := range []string{
		"Crag;Route;Bolt no;Type;Dia;Fitted;Last checked;Condition;Lat;Lon;Colour;id;caution",
		"Tarn Edge;Plum Line;B1;glue in eye;12;03/04/2014;2026-11-20;out of use, anchor turns, cracked glue;54.21334;-2.33805;'=red;" + b1.ID.String() + ";",
		"Tarn Edge;Plum Line;B2;through bolt;9.525 mm x 80 mm;1999-05;;rusty;54.21335;-2.33806;'-blue;" + b2.ID.String() + ";",
		"Tarn Edge;Plum Line;B3;;;2021;;;54.21335;-2.33806;;",
		"Tarn Edge;Plum Line;B3;through bolt;10cm;25/12/2019;;replaced 2021;54.21335;-2.33806;;",
	} {
		if !strings.HasPrefix(lines[i], want) {
			t.Errorf("line %d = %q, want %q", i+1, lines[i], want)
		}
	}
	back := parse(t, "back.csv", []byte(strings.Join(lines, "\n")))
	if got := back.Rows[0].Cells[10]; got != "=red" {
		t.Errorf("the guarded cell came back as %q, want =red", got)
	}
}

// TestExportKeepsCavesFromReaders holds that coordinates of caves, and columns
// that may hold them, are for stewards.
func TestExportKeepsCavesFromReaders(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, "Cave,Pitch,Bolt no,Type,Lat,Lon,Grid,Notes\nMarrow Cave,Second Pitch,P1,staple,54.2001,-2.3002,SD 801 662,dry\n")
	for _, ask := range []registry.ListAsk{{}, {Own: true}} {
		for role, shown := range map[registry.Role]bool{registry.RoleReader: false, registry.RoleRecorder: false, registry.RoleSteward: true} {
			text := h.export(t, h.as(role), ask)
			if got := strings.Contains(text, "54.2001") && strings.Contains(text, "-2.3002"); got != shown {
				t.Errorf("%+v as %s: coordinates %v, want %v\n%s", ask, role, got, shown, text)
			}
			if got := strings.Contains(text, "SD 801 662"); got != (shown && ask.Own) {
				t.Errorf("%+v as %s: the column that was not read %v\n%s", ask, role, got, text)
			}
			if !strings.Contains(text, "staple") || !strings.Contains(text, "dry") {
				t.Errorf("%+v as %s: type and notes are missing\n%s", ask, role, text)
			}
		}
	}
}

func TestExportOfWhichList(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	nowhere := exchange.NewListWriter(new(bytes.Buffer), firstDay)
	if err := h.ExportAnchorList(t.Context(), h.who, registry.ListAsk{Own: true}, nowhere); fault.KindOf(err) != fault.NotFound {
		t.Errorf("own headings without a list = %v, want not found", err)
	}
	empty := parseEmpty(t, h.export(t, h.who, registry.ListAsk{}))
	if len(empty.Rows) != 1 || !empty.Rows[0].Blank {
		t.Errorf("an empty register gave %+v, want one blank row", empty.Rows)
	}
	first, err := h.Import(t.Context(), h.who, parse(t, "a.csv", []byte("Crag,Bolt no\nTarn Edge,B1\n")), false)
	if err != nil {
		t.Fatal(err)
	}
	h.enter(t, "Venue;Bolt label\nTarn Edge;B2\n")
	id := uuid.MustParse(first.ID)
	for want, ask := range map[string]registry.ListAsk{
		"Venue;Bolt label;id;caution": {Own: true},
		"Crag,Bolt no,id,caution":     {Own: true, ImportID: &id},
	} {
		text := h.export(t, h.who, ask)
		if got, _, _ := strings.Cut(text, "\n"); got != want || strings.Count(text, "\n") != 3 {
			t.Errorf("%+v = %q, want %q and two anchors", ask, text, want)
		}
	}
	other := uuid.Must(uuid.NewV7())
	for kind, ask := range map[fault.Kind]registry.ListAsk{
		fault.NotFound: {Own: true, ImportID: &other},
		fault.Invalid:  {ImportID: &id},
	} {
		if err := h.ExportAnchorList(t.Context(), h.who, ask, nowhere); fault.KindOf(err) != kind {
			t.Errorf("%+v = %v, want %v", ask, err, kind)
		}
	}
	next := h.addGroup(t, "other-group")
	if err := h.ExportAnchorList(t.Context(), next, registry.ListAsk{Own: true, ImportID: &id}, nowhere); fault.KindOf(err) != fault.NotFound {
		t.Errorf("another group's list = %v, want not found", err)
	}
}

func parseEmpty(t *testing.T, text string) registry.List {
	t.Helper()
	list, err := exchange.ReadAnchorList("empty.csv", []byte(text), exchange.Mapping{}, firstDay)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

package app_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/demo"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// A list that is entered in pieces, broken off anywhere and run again, leaves
// what it leaves when it is entered at once; the promise of this project.
func TestKilledImportGoesOn(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(12)
	list := parse(t, "sample.csv", sampleOf(t, 70))
	once, err := h.Import(t.Context(), h.who, list, false)
	if err != nil {
		t.Fatal(err)
	}
	want := h.holdings(t, h.who)
	pieces := 0
	for killedAt := 1; ; killedAt++ {
		for _, when := range []moment{before, within, after} {
			who := h.addGroup(t, fmt.Sprintf("killed-%d-%d", killedAt, when))
			state := h.handIn(t, who, list)
			ctx, kill := context.WithCancel(t.Context())
			k := &killing{Store: h.store, at: killedAt, when: when, kill: kill}
			_, err := app.New(k, h.now).RunImport(ctx, who, state.ID, func(report.ImportState) {})
			kill()
			if !k.killed {
				pieces = killedAt - 1
				break
			}
			if !errors.Is(err, context.Canceled) {
				t.Fatalf("killed at piece %d, moment %d: %v, want cancelled", killedAt, when, err)
			}
			done := h.runThrough(t, who, state.ID)
			if d := cmp.Diff(want, h.holdings(t, who)); d != "" {
				t.Errorf("killed at piece %d, moment %d (-at once +in pieces):\n%s", killedAt, when, d)
			}
			if d := cmp.Diff(countsOf(once), countsOf(done.Report)); d != "" || done.RowsDone != done.Rows || done.State != registry.JobDone {
				t.Errorf("killed at piece %d, moment %d: %s, %d of %d rows, counts (-at once +in pieces):\n%s",
					killedAt, when, done.State, done.RowsDone, done.Rows, d)
			}
		}
		if pieces > 0 {
			break
		}
	}
	if pieces < 4 {
		t.Errorf("%d pieces, want several: the test shows little", pieces)
	}
}

// The report of a list in pieces is that of the list at once, but for its
// totals.
func TestLongReportIsThatOfTheListAtOnce(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(25)
	list := h.read(t, "anchor-list.csv")
	other := h.addGroup(t, "other-anchors")
	once, err := h.Import(t.Context(), h.who, list, false)
	if err != nil {
		t.Fatal(err)
	}
	done := h.runThrough(t, other, h.handIn(t, other, list).ID).Report
	totals := done.Totals
	if totals == nil || totals.Doubts != len(once.Doubts) || totals.DuplicateRows != len(once.DuplicateRows) || totals.DoubtCodes[once.Doubts[0].Code] == 0 {
		t.Errorf("totals %+v of %d doubts and %d repeats", totals, len(once.Doubts), len(once.DuplicateRows))
	}
	done.ID, done.Totals = once.ID, nil
	if d := cmp.Diff(once, done); d != "" {
		t.Errorf("report (-at once +in pieces):\n%s", d)
	}
	if d := cmp.Diff(h.holdings(t, h.who), h.holdings(t, other)); d != "" {
		t.Errorf("anchors (-at once +in pieces):\n%s", d)
	}
	if d := cmp.Diff(h.noted(t, h.who), h.noted(t, other)); d != "" {
		t.Errorf("proposals (-at once +in pieces):\n%s", d)
	}
}

// noted lists what the notes of lists propose, in no promised order of rows.
func (h *house) noted(t *testing.T, who registry.Actor) []string {
	t.Helper()
	groups, err := h.ProposalGroups(t.Context(), who, registry.ProposalFilter{State: registry.ProposalOpen})
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, g := range groups {
		for _, p := range g.Proposals {
			out = append(out, fmt.Sprintf("%d %s", p.Line, p.Key()))
		}
	}
	slices.Sort(out)
	return out
}

func TestSameLongFileAgain(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(10)
	list := parse(t, "long.csv", demo.SyntheticList(60, 3))
	first := h.handIn(t, h.who, list)
	if again := h.handIn(t, h.who, list); again.ID != first.ID {
		t.Errorf("the file that waits was kept again, as %v after %v", again.ID, first.ID)
	}
	done := h.runThrough(t, h.who, first.ID)
	if done.Report.ID != first.ID.String() || done.Report.Entered == 0 {
		t.Fatalf("report %+v, want the id %v and rows entered", done.Report, first.ID)
	}
	before := h.holdings(t, h.who)
	second := h.handIn(t, h.who, list)
	if second.ID == first.ID {
		t.Fatal("the file that is done was not kept again")
	}
	again := h.runThrough(t, h.who, second.ID).Report
	if again.Entered != 0 || again.Unchanged != done.Report.Entered || again.ID != "" {
		t.Errorf("the same file again: %+v, import %q", countsOf(again), again.ID)
	}
	if d := cmp.Diff(before, h.holdings(t, h.who)); d != "" {
		t.Errorf("the same file again changed the anchors:\n%s", d)
	}
}

// Two workers at once enter a list once, and what each is told never goes back.
func TestTwoWorkersEnterALongListOnce(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(10)
	list := parse(t, "long.csv", demo.SyntheticList(120, 4))
	id := h.handIn(t, h.who, list).ID
	var wg sync.WaitGroup
	var errs [2]error
	for i := range errs {
		wg.Go(func() {
			told := 0
			_, errs[i] = h.RunImport(t.Context(), h.who, id, func(s report.ImportState) {
				if s.RowsDone < told {
					t.Errorf("worker %d: %d rows done after %d", i, s.RowsDone, told)
				}
				told = s.RowsDone
			})
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			t.Fatal(err)
		}
	}
	state, err := h.ImportState(t.Context(), h.who, id)
	if err != nil || state.State != registry.JobDone || state.RowsDone != 120 {
		t.Errorf("state %+v, %v, want done with 120 rows", state.State, err)
	}
	if n := len(h.anchors(t, registry.AnchorFilter{})); n != state.Report.Entered || n == 0 {
		t.Errorf("%d anchors after %d entered", n, state.Report.Entered)
	}
}

func TestLongListIsCorrected(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(7)
	lines := make([][2]string, 0, 20)
	for n := range 20 {
		lines = append(lines, [2]string{fmt.Sprintf("B%d", n), "A4"})
	}
	text := func() []byte {
		out := "Crag,Route,Bolt,Steel\n"
		for _, l := range lines {
			out += "Tarn Edge,Plum Line," + l[0] + "," + l[1] + "\n"
		}
		return []byte(out)
	}
	first := h.handIn(t, h.who, parse(t, "long.csv", text()))
	h.runThrough(t, h.who, first.ID)
	lines[2][1], lines[18][1] = "A2", "A2"
	corrected := parse(t, "corrected.csv", text())
	second := h.runThrough(t, h.who, h.handIn(t, h.who, corrected).ID)
	if r := second.Report; r.Changed != 2 || r.Unchanged != 18 || len(r.ChangedCells) != 2 {
		t.Errorf("corrected: %+v, %d changed, %d cells", countsOf(r), r.Changed, len(r.ChangedCells))
	}
	kept := h.undoLong(t, first.ID)
	if why := kept.InTheWay; kept.State != registry.JobDone || why == nil || len(why.Violations) != 1 || why.Violations[0].Values["what"] != "list" {
		t.Errorf("the first list, while a later one corrects it: %s, %+v; want that one in the way", kept.State, why)
	}
	for _, id := range []uuid.UUID{second.ID, first.ID} {
		if gone := h.undoLong(t, id); gone.State != registry.JobUndone {
			t.Errorf("undone in turn: %s, %+v", gone.State, gone.InTheWay)
		}
	}
}

// undoLong has a long list undone, as far as that may be.
func (h *house) undoLong(t *testing.T, id uuid.UUID) report.ImportState {
	t.Helper()
	if _, waits, err := h.UndoImport(t.Context(), h.who, id); err != nil || waits == nil {
		t.Fatalf("ask to undo: %+v, %v; want that it waits", waits, err)
	}
	return h.runThrough(t, h.who, id)
}

// A list that is being entered cannot be undone meanwhile; one that failed can,
// and goes on when it is handed in again.
func TestLongImportFails(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(10)
	list := parse(t, "long.csv", demo.SyntheticList(60, 3))
	id := h.handIn(t, h.who, list).ID
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	if _, err := h.RunImport(ctx, h.who, id, func(report.ImportState) { stop() }); !errors.Is(err, context.Canceled) {
		t.Fatalf("stopped after the first piece: %v, want cancelled", err)
	}
	if s, err := h.ImportState(t.Context(), h.who, id); err != nil || s.State != registry.JobRunning || s.RowsDone >= s.Rows || s.Report.Entered == 0 {
		t.Errorf("state %q with %d of %d rows, %v, want running", s.State, s.RowsDone, s.Rows, err)
	}
	if _, _, err := h.UndoImport(t.Context(), h.who, id); fault.KindOf(err) != fault.Conflict {
		t.Errorf("undo of a list that is being entered: %v, want conflict", err)
	}
	if err := h.store.SetJob(t.Context(), h.who.GroupID, id, registry.JobFailed, "conflict"); err != nil {
		t.Fatal(err)
	}
	if err := h.RunImports(t.Context()); err != nil {
		t.Fatal(err)
	}
	if s, err := h.ImportState(t.Context(), h.who, id); err != nil || s.State != registry.JobFailed || s.Code != "conflict" {
		t.Errorf("state %q, %q, %v, want failed and left alone", s.State, s.Code, err)
	}
	if again := h.handIn(t, h.who, list); again.ID != id || again.State != registry.JobWaiting {
		t.Errorf("the same file again: %v, %s, want %v to go on", again.ID, again.State, id)
	}
	if err := h.RunImports(t.Context()); err != nil {
		t.Fatal(err)
	}
	if s, err := h.ImportState(t.Context(), h.who, id); err != nil || s.State != registry.JobDone || s.Code != "" {
		t.Errorf("state %q, %v, want done", s.State, err)
	}
}

func TestHandInRejects(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	if _, err := h.HandIn(t.Context(), h.as(registry.RoleRecorder), registry.List{}); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("by a recorder: %v, want forbidden", err)
	}
	long := registry.List{Rows: make([]registry.ListRow, app.MostRows+1)}
	if _, err := h.HandIn(t.Context(), h.who, long); fault.KindOf(err) != fault.TooLarge {
		t.Errorf("of too many rows: %v, want too large", err)
	}
	id := h.handIn(t, h.who, parse(t, "long.csv", demo.SyntheticList(5, 1))).ID
	other := h.addGroup(t, "other-anchors")
	for name, who := range map[string]registry.Actor{"a reader": h.as(registry.RoleReader), "another group": other} {
		want := fault.Forbidden
		if name == "another group" {
			want = fault.NotFound
		}
		if _, err := h.ImportState(t.Context(), who, id); fault.KindOf(err) != want {
			t.Errorf("%s asks for the state: %v, want %v", name, err, want)
		}
	}
	if _, err := h.RunImport(t.Context(), other, id, func(report.ImportState) {}); fault.KindOf(err) != fault.NotFound {
		t.Errorf("run by another group: %v, want not found", err)
	}
	if _, err := h.ImportState(t.Context(), h.who, uuid.New()); fault.KindOf(err) != fault.NotFound {
		t.Errorf("state of no import: %v, want not found", err)
	}
}

func TestImportsAreListed(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	long := h.handIn(t, h.who, parse(t, "long.csv", demo.SyntheticList(5, 1)))
	h.runThrough(t, h.who, long.ID)
	all, err := h.Imports(t.Context(), h.who)
	if err != nil || len(all) != 2 || all[0].ID != long.ID || all[0].RowsDone != 5 || all[1].FileName != "small.csv" || all[1].RowsDone != all[1].Rows {
		t.Errorf("imports %+v, %v, want the long list, then the small one", all, err)
	}
	small, err := h.ImportState(t.Context(), h.who, all[1].ID)
	if err != nil || small.State != registry.JobDone || small.Report.Entered == 0 {
		t.Errorf("state of the small list %+v, %v", small, err)
	}
}

// While a list is entered, PostgreSQL learns of each table that it makes grow,
// though no piece alone brings many rows: plans made while they were nearly empty
// must not last.
func TestLongListIsAnalysedOnTheWay(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(25)
	h.runThrough(t, h.who, h.handIn(t, h.who, h.read(t, "anchor-list.csv")).ID)
	for _, table := range []string{"position", "anchor", "installation", "import_row", "assessment", "ledger"} {
		var known, rows int
		err := h.db.Owner().QueryRow(t.Context(), `
SELECT (SELECT c.reltuples::int FROM pg_class AS c WHERE c.oid = '`+table+`'::regclass), (SELECT count(*) FROM `+table+`)`).Scan(&known, &rows)
		if err != nil {
			t.Fatal(err)
		}
		if known < rows/2 {
			t.Errorf("%s: PostgreSQL knows of %d rows where there are %d", table, known, rows)
		}
	}
}

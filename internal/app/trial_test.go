package app_test

import (
	"context"
	"errors"
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

// try keeps a list to be tried.
func (h *house) try(t *testing.T, who registry.Actor, list registry.List, keep bool) report.ImportState {
	t.Helper()
	state, err := h.HandInTrial(t.Context(), who, list, keep)
	if err != nil || state.State != registry.JobTrying || !state.Trial || !state.Report.DryRun {
		t.Fatalf("handed in to be tried: %s, %v, want trying", state.State, err)
	}
	return state
}

// keptRows is how many pieces have their rows still.
func (h *house) keptRows(t *testing.T) int {
	t.Helper()
	var n int
	if err := h.db.Owner().QueryRow(t.Context(), `SELECT count(*) FROM import_piece WHERE rows IS NOT NULL`).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

func TestTryLongList(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(12)
	list := parse(t, "sample.csv", sampleOf(t, 70))
	want, err := h.Import(t.Context(), h.who, list, true)
	if err != nil {
		t.Fatal(err)
	}
	state := h.try(t, h.who, list, false)
	if again := h.try(t, h.who, list, false); again.ID != state.ID {
		t.Errorf("the list that is being tried was kept again, as %v after %v", again.ID, state.ID)
	}
	if err := h.RunImports(t.Context()); err != nil {
		t.Fatal(err)
	}
	done := h.state(t, state.ID)
	if done.State != registry.JobTried || done.RowsDone != done.Rows || done.Kept {
		t.Errorf("tried: %s, %d of %d rows, kept %v", done.State, done.RowsDone, done.Rows, done.Kept)
	}
	got := done.Report
	got.Totals = nil
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("report (-at once +in pieces):\n%s", d)
	}
	if n := len(h.anchors(t, registry.AnchorFilter{})); n != 0 {
		t.Errorf("a trial wrote %d anchors", n)
	}
	if n := h.keptRows(t); n != 0 {
		t.Errorf("%d pieces keep their rows once they are tried", n)
	}
	if _, err := h.EnterTrial(t.Context(), h.who, state.ID); fault.KindOf(err) != fault.Invalid {
		t.Errorf("entering what was not kept: %v, want invalid", err)
	}
	if _, _, err := h.UndoImport(t.Context(), h.who, state.ID); fault.KindOf(err) != fault.NotFound {
		t.Errorf("undoing a trial: %v, want not found", err)
	}
}

// trialKilled is a store that ends the context of a trial at its at-th piece.
type trialKilled struct {
	app.Store
	at     int
	when   moment
	kill   func()
	killed bool
}

func (k *trialKilled) TryPiece(ctx context.Context, who registry.Actor, id uuid.UUID, wanted func(registry.List) registry.Wanted,
	decide func(registry.ImportJob, registry.List, registry.Known) (registry.ImportJob, error),
) (registry.ImportJob, error) {
	if k.at--; k.at != 0 {
		return k.Store.TryPiece(ctx, who, id, wanted, decide)
	}
	k.killed = true
	switch k.when {
	case before:
		k.kill()
	case within:
		kept := decide
		decide = func(j registry.ImportJob, l registry.List, n registry.Known) (registry.ImportJob, error) {
			k.kill()
			return kept(j, l, n)
		}
	case after:
		defer k.kill()
	}
	return k.Store.TryPiece(ctx, who, id, wanted, decide)
}

func TestKilledTrialGoesOn(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(12)
	list := parse(t, "sample.csv", sampleOf(t, 70))
	want := h.runThrough(t, h.who, h.try(t, h.who, list, false).ID).Report
	for killedAt := 1; ; killedAt++ {
		for _, when := range []moment{before, within, after} {
			state := h.try(t, h.who, list, false)
			ctx, kill := context.WithCancel(t.Context())
			k := &trialKilled{Store: h.store, at: killedAt, when: when, kill: kill}
			_, err := app.New(k, h.now).RunImport(ctx, h.who, state.ID, nil)
			kill()
			if !k.killed {
				if killedAt < 5 {
					t.Errorf("%d pieces, want several: the test shows little", killedAt-1)
				}
				return
			}
			if !errors.Is(err, context.Canceled) {
				t.Fatalf("killed at piece %d, moment %d: %v, want cancelled", killedAt, when, err)
			}
			if d := cmp.Diff(want, h.runThrough(t, h.who, state.ID).Report); d != "" {
				t.Errorf("killed at piece %d, moment %d (-at once +after):\n%s", killedAt, when, d)
			}
		}
	}
}

func TestTwoWorkersTryALongListOnce(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(10)
	id := h.try(t, h.who, parse(t, "long.csv", demo.SyntheticList(120, 4)), false).ID
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
	if err := errors.Join(errs[:]...); err != nil {
		t.Fatal(err)
	}
	s := h.state(t, id)
	r := s.Report
	if n := r.Entered + r.Changed + r.Clashes + r.Duplicates + r.Blank + r.Refused + r.Unchanged; s.State != registry.JobTried || s.RowsDone != 120 || n != 120 {
		t.Errorf("%s, %d rows done, %d told of, want tried and 120 of both", s.State, s.RowsDone, n)
	}
}

// What was tried and kept is entered as if it had been handed in for that.
func TestEnterTrial(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(12)
	list := parse(t, "sample.csv", sampleOf(t, 70))
	other := h.addGroup(t, "other-anchors")
	want := h.runThrough(t, other, h.handIn(t, other, list).ID).Report
	state := h.try(t, h.who, list, true)
	if _, err := h.EnterTrial(t.Context(), h.who, state.ID); fault.KindOf(err) != fault.Invalid {
		t.Errorf("entering what is still being tried: %v, want invalid", err)
	}
	if tried := h.runThrough(t, h.who, state.ID); !tried.Kept || tried.Report.Entered != want.Entered || h.keptRows(t) == 0 {
		t.Errorf("tried: kept %v, %+v", tried.Kept, countsOf(tried.Report))
	}
	for name, who := range map[string]registry.Actor{"another group": other, "a recorder": h.as(registry.RoleRecorder)} {
		if _, err := h.EnterTrial(t.Context(), who, state.ID); fault.KindOf(err) != fault.NotFound && fault.KindOf(err) != fault.Forbidden {
			t.Errorf("entered by %s: %v, want it refused", name, err)
		}
	}
	for range 2 {
		if s, err := h.EnterTrial(t.Context(), h.who, state.ID); err != nil || s.State != registry.JobWaiting || s.Trial || s.Report.DryRun || s.Report.Entered != 0 {
			t.Fatalf("entered: %s, %+v, %v, want that it waits", s.State, countsOf(s.Report), err)
		}
	}
	got := h.runThrough(t, h.who, state.ID).Report
	got.ID = want.ID
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("report (-handed in +tried first):\n%s", d)
	}
	if d := cmp.Diff(h.holdings(t, other), h.holdings(t, h.who)); d != "" {
		t.Errorf("anchors (-handed in +tried first):\n%s", d)
	}
	if n := h.keptRows(t); n != 0 {
		t.Errorf("%d pieces keep their rows once they are entered", n)
	}
}

// Rows that nobody enters go after a day.
func TestTrialIsKeptForADay(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(12)
	id := h.try(t, h.who, parse(t, "sample.csv", sampleOf(t, 40)), true).ID
	for day, kept := range []bool{true, false} {
		h.turnTo(firstDay.AddDays(day))
		for range 2 {
			if err := h.RunImports(t.Context()); err != nil {
				t.Fatal(err)
			}
		}
		if s := h.state(t, id); s.State != registry.JobTried || s.Kept != kept || (h.keptRows(t) > 0) != kept {
			t.Errorf("after %d days: %s, kept %v, %d pieces with rows", day, s.State, s.Kept, h.keptRows(t))
		}
	}
}

// The same file is entered beside its trial.
func TestTrialAndImportOfTheSameFile(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(12)
	list := parse(t, "sample.csv", sampleOf(t, 40))
	trial := h.try(t, h.who, list, false)
	real := h.handIn(t, h.who, list)
	if real.ID == trial.ID || real.State != registry.JobWaiting {
		t.Fatalf("handed in beside its trial: %v, %s", real.ID, real.State)
	}
	done := h.runThrough(t, h.who, real.ID)
	tried := h.runThrough(t, h.who, trial.ID)
	if done.State != registry.JobDone || tried.State != registry.JobTried || tried.Report.Entered != 0 || tried.Report.Unchanged != done.Report.Entered {
		t.Errorf("entered %s %+v, then tried %s %+v", done.State, countsOf(done.Report), tried.State, countsOf(tried.Report))
	}
	if err := h.store.SetJob(t.Context(), h.who.GroupID, trial.ID, registry.JobWaiting, ""); err != nil {
		t.Fatal(err)
	}
	if s := h.state(t, trial.ID); s.State != registry.JobTried {
		t.Errorf("a trial became %s", s.State)
	}
}

// brokenTrial is a store that cannot read pieces.
type brokenTrial struct{ app.Store }

func (brokenTrial) TryPiece(context.Context, registry.Actor, uuid.UUID, func(registry.List) registry.Wanted,
	func(registry.ImportJob, registry.List, registry.Known) (registry.ImportJob, error),
) (registry.ImportJob, error) {
	return registry.ImportJob{}, fault.New(fault.Busy, "not now")
}

func TestTrialFails(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(12)
	list := parse(t, "sample.csv", sampleOf(t, 40))
	id := h.try(t, h.who, list, true).ID
	if _, err := app.New(brokenTrial{h.store}, h.now).RunImport(t.Context(), h.who, id, nil); fault.KindOf(err) != fault.Busy {
		t.Errorf("a trial that cannot be: %v, want busy", err)
	}
	if s := h.state(t, id); s.State != registry.JobFailed || s.Code != string(fault.BusyCode) || !s.Trial || h.keptRows(t) != 0 {
		t.Errorf("failed: %s, %q, %d pieces with rows", s.State, s.Code, h.keptRows(t))
	}
	if err := h.RunImports(t.Context()); err != nil {
		t.Fatal(err)
	}
	if again := h.try(t, h.who, list, true); again.ID == id {
		t.Error("a trial that failed goes on without rows")
	}
	if real := h.handIn(t, h.who, list); real.ID == id || real.Trial {
		t.Error("a trial that failed is entered")
	}
}

func TestHandInTrialRejects(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	if _, err := h.HandInTrial(t.Context(), h.as(registry.RoleRecorder), registry.List{}, false); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("by a recorder: %v, want forbidden", err)
	}
	long := registry.List{Rows: make([]registry.ListRow, app.MostRows+1)}
	if _, err := h.HandInTrial(t.Context(), h.who, long, false); fault.KindOf(err) != fault.TooLarge {
		t.Errorf("of too many rows: %v, want too large", err)
	}
	long.Rows = long.Rows[:app.MostAtOnce+1]
	if _, err := h.Import(t.Context(), h.who, long, true); fault.KindOf(err) != fault.TooLarge {
		t.Errorf("at once: %v, want too large", err)
	}
	id := h.try(t, h.who, parse(t, "long.csv", demo.SyntheticList(5, 1)), false).ID
	other := h.addGroup(t, "other-anchors")
	if _, err := h.RunImport(t.Context(), other, id, nil); fault.KindOf(err) != fault.NotFound {
		t.Errorf("run by another group: %v, want not found", err)
	}
	if _, err := h.ImportState(t.Context(), other, id); fault.KindOf(err) != fault.NotFound {
		t.Errorf("seen by another group: %v, want not found", err)
	}
}

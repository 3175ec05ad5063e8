package app_test

import (
	"context"
	"errors"
	"slices"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/demo"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// entered is the sample in pieces, entered.
func (h *house) entered(t *testing.T) report.ImportState {
	t.Helper()
	h.CutPieces(12)
	return h.runThrough(t, h.who, h.handIn(t, h.who, parse(t, "sample.csv", sampleOf(t, 70))).ID)
}

// askUndo has a long list wait to be undone.
func (h *house) askUndo(t *testing.T, id uuid.UUID) report.ImportState {
	t.Helper()
	done, waits, err := h.UndoImport(t.Context(), h.who, id)
	if err != nil || waits == nil || waits.State != registry.JobUndoing || done != (report.Undone{}) {
		t.Fatalf("undo of a long list: %+v, %+v, %v, want that it waits", done, waits, err)
	}
	return *waits
}

// state is a list's state.
func (h *house) state(t *testing.T, id uuid.UUID) report.ImportState {
	t.Helper()
	s, err := h.ImportState(t.Context(), h.who, id)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestUndoLongImport(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(12)
	list := parse(t, "sample.csv", sampleOf(t, 70))
	state := h.handIn(t, h.who, list)
	if _, _, err := h.UndoImport(t.Context(), h.who, state.ID); fault.KindOf(err) != fault.NotFound {
		t.Errorf("undo before anything was entered: %v, want not found", err)
	}
	first := h.runThrough(t, h.who, state.ID)
	want := h.holdings(t, h.who)
	asked := h.askUndo(t, state.ID)
	if d := cmp.Diff(want, h.holdings(t, h.who)); d != "" {
		t.Errorf("a list that waits to be undone (-entered +waits):\n%s", d)
	}
	if again := h.askUndo(t, state.ID); asked.UndoAt == nil || !again.UndoAt.Equal(*asked.UndoAt) {
		t.Errorf("asked again at %v, want it left at %v", again.UndoAt, asked.UndoAt)
	}
	if err := h.RunImports(t.Context()); err != nil {
		t.Fatal(err)
	}
	done := h.state(t, state.ID)
	if done.State != registry.JobUndone || done.Undone == nil || done.Undone.Records == 0 ||
		done.Undone.Anchors != first.Report.Entered+first.Report.Successors {
		t.Errorf("undone: %s, %+v after %d entered", done.State, done.Undone, first.Report.Entered)
	}
	if n := len(h.anchors(t, registry.AnchorFilter{})); n != 0 {
		t.Errorf("%d anchors are still listed", n)
	}
	sites, err := h.Sites(t.Context(), h.who, registry.Page{Limit: 100})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sites {
		if s.EndedOn.IsZero() {
			t.Errorf("site %q has not ended", s.Name)
		}
	}
	if _, _, err := h.UndoImport(t.Context(), h.who, state.ID); fault.KindOf(err) != fault.Conflict {
		t.Errorf("undone again: %v, want conflict", err)
	}
	again := h.handIn(t, h.who, list)
	if again.ID == state.ID {
		t.Fatal("an undone list goes on instead of anew")
	}
	if r := h.runThrough(t, h.who, again.ID).Report; r.Entered != first.Report.Entered {
		t.Errorf("entered again: %+v, want %+v", countsOf(r), countsOf(first.Report))
	}
	if d := cmp.Diff(want, h.holdings(t, h.who)); d != "" {
		t.Errorf("anchors once entered again (-first +again):\n%s", d)
	}
}

// undoKilled is a store that ends the context of undoing a list.
type undoKilled struct {
	app.Store
	when moment
	kill func()
}

func (k undoKilled) UndoInTurn(ctx context.Context, who registry.Actor, id uuid.UUID,
	decide func(registry.Undoing, houserules.Rules) (registry.UndoSteps, error),
) error {
	if k.when == before {
		k.kill()
	}
	err := k.Store.UndoInTurn(ctx, who, id, func(u registry.Undoing, rules houserules.Rules) (registry.UndoSteps, error) {
		steps, err := decide(u, rules)
		end := steps.End
		steps.End = func(left registry.PlacesLeft) (registry.Change, error) {
			if k.when == within {
				k.kill()
			}
			return end(left)
		}
		return steps, err
	})
	if k.when == after {
		k.kill()
	}
	return err
}

// Undoing that is broken off leaves everything, and goes on when it is run next.
func TestKilledUndoGoesOn(t *testing.T) {
	t.Parallel()
	for _, when := range []moment{before, within, after} {
		h := newHouse(t)
		id := h.entered(t).ID
		want := h.holdings(t, h.who)
		h.askUndo(t, id)
		ctx, kill := context.WithCancel(t.Context())
		_, err := app.New(undoKilled{h.store, when, kill}, h.now).RunImport(ctx, h.who, id, nil)
		kill()
		if !errors.Is(err, context.Canceled) {
			t.Fatalf("killed at moment %d: %v, want cancelled", when, err)
		}
		s := h.state(t, id)
		if when == after {
			if s.State != registry.JobUndone {
				t.Errorf("killed when it was done: %s, want undone", s.State)
			}
		} else if d := cmp.Diff(want, h.holdings(t, h.who)); d != "" || s.State != registry.JobUndoing || s.InTheWay != nil {
			t.Errorf("killed at moment %d: %s, (-before +after):\n%s", when, s.State, d)
		}
		if s := h.runThrough(t, h.who, id); s.State != registry.JobUndone && when != after {
			t.Errorf("run again after moment %d: %s, want undone", when, s.State)
		}
		if n := len(h.anchors(t, registry.AnchorFilter{})); n != 0 {
			t.Errorf("killed at moment %d and run again: %d anchors are still listed", when, n)
		}
	}
}

func TestTwoWorkersUndoALongListOnce(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	id := h.entered(t).ID
	h.askUndo(t, id)
	var wg sync.WaitGroup
	var states [2]report.ImportState
	var errs [2]error
	for i := range states {
		wg.Go(func() { states[i], errs[i] = h.RunImport(t.Context(), h.who, id, nil) })
	}
	wg.Wait()
	if err := errors.Join(errs[:]...); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(states[0].Undone, states[1].Undone); d != "" || states[0].State != registry.JobUndone || states[0].Undone == nil {
		t.Errorf("two workers: %s and %s, told (-one +other):\n%s", states[0].State, states[1].State, d)
	}
	var undone int
	if err := h.db.Owner().QueryRow(t.Context(), `SELECT count(*) FROM ledger WHERE noun = 'import_undo'`).Scan(&undone); err != nil || undone != 1 {
		t.Errorf("undone %d times, %v, want once", undone, err)
	}
}

// whatIsInTheWay are the kinds of what a refusal names.
func whatIsInTheWay(violations []fault.Violation) []string {
	var out []string
	for _, v := range violations {
		out = append(out, v.Values["what"])
	}
	slices.Sort(out)
	return out
}

// What is in the way already is told at once; what comes while the list waits,
// when it is to be undone. Neither takes anything back.
func TestUndoLongImportIsRefused(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	id := h.entered(t).ID
	anchors := h.anchors(t, registry.AnchorFilter{})
	early, _, err := h.RecordInspection(t.Context(), h.who, inspected(anchors[0].Anchor.ID, firstDay, nil))
	if err != nil {
		t.Fatal(err)
	}
	refuses(t, h, id, "inspection")
	if s := h.state(t, id); s.State != registry.JobDone || s.UndoAt != nil {
		t.Errorf("refused at once: %s, asked at %v, want done", s.State, s.UndoAt)
	}
	h.takeBack(t, early.AnchorID, early.ID)
	h.askUndo(t, id)
	if _, _, err := h.RecordInspection(t.Context(), h.who, inspected(anchors[1].Anchor.ID, firstDay, nil)); err != nil {
		t.Fatalf("an inspection while the list waits to be undone: %v", err)
	}
	want := h.holdings(t, h.who)
	if err := h.RunImports(t.Context()); err != nil {
		t.Errorf("what is in the way is no error of the worker: %v", err)
	}
	s := h.state(t, id)
	if s.State != registry.JobDone || s.InTheWay == nil || s.Undone != nil {
		t.Fatalf("refused by the worker: %s, %+v, want done and why", s.State, s.InTheWay)
	}
	if d := cmp.Diff([]string{"inspection"}, whatIsInTheWay(s.InTheWay.Violations)); d != "" || s.InTheWay.Values["in_the_way"] != "1" {
		t.Errorf("in the way %v (-want +got):\n%s", s.InTheWay.Values, d)
	}
	if d := cmp.Diff(want, h.holdings(t, h.who)); d != "" {
		t.Errorf("refused, and yet (-before +after):\n%s", d)
	}
	if e, ok := fault.As(s.InTheWay.Err()); !ok || e.Kind != fault.Conflict || e.Code != fault.InUse {
		t.Errorf("the refusal kept: %v, want conflict, in use", e)
	}
}

// takeBack retracts a record.
func (h *house) takeBack(t *testing.T, anchor, id uuid.UUID) {
	t.Helper()
	person := add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
	back := registry.Retraction{Record: record(anchor, person, firstDay), RetractsID: id, Reason: "by mistake"}
	if _, _, err := h.RecordRetraction(t.Context(), h.who, back); err != nil {
		t.Fatal(err)
	}
}

// A list of which only some was entered is, once it could not be undone, still
// one that failed.
func TestUndoOfAFailedListIsRefused(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(10)
	id := h.handIn(t, h.who, parse(t, "long.csv", demo.SyntheticList(60, 3))).ID
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	if _, err := h.RunImport(ctx, h.who, id, func(report.ImportState) { stop() }); !errors.Is(err, context.Canceled) {
		t.Fatal(err)
	}
	if err := h.store.SetJob(t.Context(), h.who.GroupID, id, registry.JobFailed, "conflict"); err != nil {
		t.Fatal(err)
	}
	h.askUndo(t, id)
	anchor := h.anchors(t, registry.AnchorFilter{})[0].Anchor.ID
	if _, _, err := h.RecordInspection(t.Context(), h.who, inspected(anchor, firstDay, nil)); err != nil {
		t.Fatal(err)
	}
	if s := h.runThrough(t, h.who, id); s.State != registry.JobFailed || s.Code != "conflict" || s.InTheWay == nil {
		t.Errorf("refused: %s, %q, %+v, want failed as before, and why", s.State, s.Code, s.InTheWay)
	}
}

// While a list is being undone, a record on one of its anchors waits, and is then
// refused: it is not lost without a word.
func TestRecordWaitsForUndo(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	id := h.entered(t).ID
	anchor := h.anchors(t, registry.AnchorFilter{})[0].Anchor.ID
	h.askUndo(t, id)
	recorded := make(chan error, 1)
	s := undoHeld{h.store, func() {
		go func() {
			_, _, err := h.RecordInspection(t.Context(), h.who, inspected(anchor, firstDay, nil))
			recorded <- err
		}()
		for waits := false; !waits; {
			const waiting = `
SELECT EXISTS (
  SELECT FROM pg_locks AS l
  WHERE l.locktype = 'tuple' AND l.database = (SELECT d.oid FROM pg_database AS d WHERE d.datname = current_database()))`
			if err := h.db.App.QueryRow(t.Context(), waiting).Scan(&waits); err != nil {
				t.Error(err)
				return
			}
		}
	}}
	state, err := app.New(s, h.now).RunImport(t.Context(), h.who, id, nil)
	if err != nil || state.State != registry.JobUndone {
		t.Fatalf("undone: %s, %v", state.State, err)
	}
	if err := <-recorded; err == nil {
		t.Error("an inspection of an anchor that was taken back meanwhile: no error")
	}
}

// undoHeld is a store that does something while it holds all that is undone.
type undoHeld struct {
	app.Store
	meanwhile func()
}

func (k undoHeld) UndoInTurn(ctx context.Context, who registry.Actor, id uuid.UUID,
	decide func(registry.Undoing, houserules.Rules) (registry.UndoSteps, error),
) error {
	return k.Store.UndoInTurn(ctx, who, id, func(u registry.Undoing, rules houserules.Rules) (registry.UndoSteps, error) {
		steps, err := decide(u, rules)
		end := steps.End
		steps.End = func(left registry.PlacesLeft) (registry.Change, error) {
			k.meanwhile()
			return end(left)
		}
		return steps, err
	})
}

func TestUndoLongImportOfAnotherGroup(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	id := h.entered(t).ID
	other := h.addGroup(t, "other-anchors")
	if _, _, err := h.UndoImport(t.Context(), other, id); fault.KindOf(err) != fault.NotFound {
		t.Errorf("by another group: %v, want not found", err)
	}
	if _, _, err := h.UndoImport(t.Context(), h.as(registry.RoleRecorder), id); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("by a recorder: %v, want forbidden", err)
	}
	h.askUndo(t, id)
	if _, err := h.RunImport(t.Context(), other, id, nil); fault.KindOf(err) != fault.NotFound {
		t.Errorf("run by another group: %v, want not found", err)
	}
	if s := h.state(t, id); s.State != registry.JobUndoing {
		t.Errorf("state %s, want undoing", s.State)
	}
}

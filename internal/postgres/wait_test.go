package postgres_test

import (
	"testing"
	"time"

	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// holdIntake is what keeps other intakes off, as the store writes it.
const holdIntake = `SELECT pg_advisory_xact_lock(hashtextextended('intake ' || $1::text, 0))`

// waitsForIntake says whether anybody waits for such a lock.
const waitsForIntake = `
SELECT EXISTS (
  SELECT FROM pg_locks AS l
  WHERE l.locktype = 'advisory' AND NOT l.granted AND l.database = (SELECT d.oid FROM pg_database AS d WHERE d.datname = current_database()))`

// While one list is being entered, a request for another, or to undo one, is
// told so after a while; the worker that enters long lists waits.
func TestIntakesWait(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	row := registry.NewPieceRow(registry.ListRow{Line: 2, Site: "Example Crag", Label: "B1", Cells: []string{"Example Crag", "B1"}})
	job := r.handIn(t, registry.Piece{Rows: []registry.PieceRow{row}})
	holding, err := r.db.App.Begin(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer holding.Rollback(t.Context()) //nolint:errcheck // it may be over
	if _, err := holding.Exec(t.Context(), holdIntake, r.who.GroupID.String()); err != nil {
		t.Fatal(err)
	}
	r.store.WaitForIntake(10 * time.Millisecond)
	taken := make(chan error, 1)
	go func() {
		_, err := r.store.TakePiece(t.Context(), r.who, job.ID, func(registry.List) registry.Wanted { return registry.Wanted{} },
			func(j registry.ImportJob, _ registry.List, _ registry.Known, _ houserules.Rules) (registry.Change, error) {
				j.Taken, j.State = 1, registry.JobDone
				return registry.Change{What: "import", At: sample.At, Job: &j}, nil
			})
		taken <- err
	}()
	for waits := false; !waits; {
		if err := r.db.App.QueryRow(t.Context(), waitsForIntake).Scan(&waits); err != nil {
			t.Fatal(err)
		}
	}
	err = r.store.Intake(t.Context(), r.who, registry.Wanted{}, func(registry.Known, houserules.Rules) (registry.Change, error) {
		t.Error("an intake was let through beside another")
		return registry.Change{}, nil
	})
	if e, ok := fault.As(err); !ok || e.Kind != fault.Busy || e.Values["waits_for"] != "intake" {
		t.Errorf("an intake beside another: %v, want busy with what it waits for", err)
	}
	err = r.store.Undo(t.Context(), r.who, job.ID, func(registry.Undoing, houserules.Rules) (registry.UndoSteps, error) {
		t.Error("an undoing was let through beside an intake")
		return registry.UndoSteps{}, nil
	})
	if fault.KindOf(err) != fault.Busy {
		t.Errorf("an undoing beside an intake: %v, want busy", err)
	}
	if err := holding.Commit(t.Context()); err != nil {
		t.Fatal(err)
	}
	if err := <-taken; err != nil {
		t.Errorf("the piece that waited: %v", err)
	}
}

// The server ends by itself what a program leaves behind that was killed.
func TestConnectWatches(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	pool, err := postgres.Connect(t.Context(), r.db.AppURL())
	if err != nil {
		t.Fatal(err)
	}
	defer pool.Close()
	var every string
	if err := pool.QueryRow(t.Context(), `SHOW client_connection_check_interval`).Scan(&every); err != nil || every != "5s" {
		t.Errorf("connections are checked every %q, %v, want 5s", every, err)
	}
	if _, err := postgres.Connect(t.Context(), "postgres://127.0.0.1:1/none?connect_timeout=1"); err == nil {
		t.Error("a database that is not there: no error")
	}
}

package postgres_test

import (
	"errors"
	"runtime"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// A piece is taken in the order it was kept, with what is known of its rows, and
// only what is saved with it moves the job on.
func TestTakePiece(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	piece := func(label string) registry.Piece {
		row := registry.NewPieceRow(registry.ListRow{Line: 2, Site: "Example Crag", Label: label, Cells: []string{"Example Crag", label}})
		return registry.Piece{Rows: []registry.PieceRow{row}, Doubts: []registry.Doubt{{Line: 2, Code: "date-not-read"}}}
	}
	job := r.handIn(t, piece("B1"), piece("B2"))
	wanted := func(l registry.List) registry.Wanted { return registry.Wanted{Rows: l.Rows} }
	var taken []string
	take := func(enough error) (registry.ImportJob, error) {
		return r.store.TakePiece(t.Context(), r.who, job.ID, wanted,
			func(j registry.ImportJob, l registry.List, _ registry.Known, _ houserules.Rules) (registry.Change, error) {
				if l.Rows[0].Cells[1] != l.Rows[0].Label || l.Columns["site"] != "crag" || len(l.Doubts) != 1 {
					t.Errorf("list %+v, want its cells, columns and doubt", l)
				}
				taken = append(taken, l.Rows[0].Label)
				j.Taken++
				j.State = registry.JobRunning
				if j.Taken == j.Pieces {
					j.State = registry.JobDone
				}
				return registry.Change{What: "import", At: sample.At, Job: &j}, enough
			})
	}
	enough := errors.New("enough")
	if _, err := take(enough); err != enough { //nolint:errorlint // it must be the very error
		t.Errorf("TakePiece() = %v, want the error of decide as it is", err)
	}
	for _, want := range []registry.JobState{registry.JobRunning, registry.JobDone, registry.JobDone} {
		if j, err := take(nil); err != nil || j.State != want {
			t.Errorf("TakePiece() = %s, %v, want %s", j.State, err, want)
		}
	}
	if diff := diff([]string{"B1", "B1", "B2"}, taken); diff != "" {
		t.Errorf("pieces taken (-want +got):\n%s", diff)
	}
	if n := r.count(t, `SELECT count(*) FROM import_piece WHERE rows IS NOT NULL`); n != 0 {
		t.Errorf("%d pieces keep their rows once they are entered", n)
	}
	open, err := r.store.OpenJobs(t.Context(), r.group.ID)
	if err != nil || len(open) != 0 {
		t.Errorf("OpenJobs() = %v, %v, want none", open, err)
	}
}

func TestImportJobIsOfOneGroup(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	job, other := r.handIn(t), addGroup(t, r.admin)
	got, err := r.store.ImportJob(t.Context(), r.group.ID, job.ID)
	if d := diff(job, got); err != nil || d != "" {
		t.Errorf("ImportJob() (-kept +read):\n%s%v", d, err)
	}
	if _, err := r.store.ImportJob(t.Context(), other.ID, job.ID); fault.KindOf(err) != fault.NotFound {
		t.Errorf("another group's job: %v, want not found", err)
	}
	if err := r.store.SetJob(t.Context(), other.ID, job.ID, registry.JobFailed, "conflict"); err != nil {
		t.Fatal(err)
	}
	if got, err := r.store.ImportJob(t.Context(), r.group.ID, job.ID); err != nil || got.State != registry.JobWaiting {
		t.Errorf("state %q, %v after another group changed it, want waiting", got.State, err)
	}
}

// The next piece is read while one is entered. What was read ahead is entered at
// its own rank only: the database alone says where to go on, and another worker
// may have gone on meanwhile.
func TestTakePieceReadAhead(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	var pieces []registry.Piece
	for _, label := range []string{"B1", "B2", "B3", "B4", "B5"} {
		row := registry.NewPieceRow(registry.ListRow{Line: 2, Site: "Example Crag", Label: label, Cells: []string{"Example Crag", label}})
		pieces = append(pieces, registry.Piece{Rows: []registry.PieceRow{row}})
	}
	job := r.handIn(t, pieces...)
	other := postgres.New(r.db.App)
	var taken []string
	take := func(s *postgres.Store) {
		t.Helper()
		_, err := s.TakePiece(t.Context(), r.who, job.ID, func(registry.List) registry.Wanted { return registry.Wanted{} },
			func(j registry.ImportJob, l registry.List, _ registry.Known, _ houserules.Rules) (registry.Change, error) {
				taken = append(taken, l.Rows[0].Label)
				j.Taken++
				j.State = registry.JobRunning
				return registry.Change{What: "import", At: sample.At, Job: &j}, nil
			})
		if err != nil {
			t.Fatal(err)
		}
	}
	wait := func(s *postgres.Store) {
		for !s.HasReadAhead() && t.Context().Err() == nil {
			runtime.Gosched()
		}
	}
	take(r.store)
	wait(r.store)
	take(other) // B2, which the first has at hand
	take(r.store)
	wait(r.store)
	if _, err := r.db.Owner().Exec(t.Context(), `UPDATE import_piece SET rows = replace(rows, 'B4', 'again') WHERE rows IS NOT NULL`); err != nil {
		t.Fatal(err)
	}
	take(r.store) // as it was read ahead
	take(r.store)
	if diff := diff([]string{"B1", "B2", "B3", "B4", "B5"}, taken); diff != "" {
		t.Errorf("pieces taken (-want +got):\n%s", diff)
	}
}

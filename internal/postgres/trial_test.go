package postgres_test

import (
	"errors"
	"slices"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// tryOn keeps a trial of some pieces.
func (r *register) tryOn(t *testing.T, keep bool, labels ...string) registry.ImportJob {
	t.Helper()
	job := registry.ImportJob{
		ID: sample.ID(), FileName: "long.csv", FileHash: "00000000000000000000000000000000000000000000000000000000000000fe",
		Headings: []string{"crag", "bolt"}, Columns: map[string]string{"site": "crag", "position": "bolt"}, Encoding: "UTF-8", Delimiter: ",",
		Who: r.who.Who, At: sample.At, State: registry.JobTrying, Trial: true, Pieces: len(labels), Report: []byte(`{"rows":1}`),
	}
	if keep {
		job.Sifted = []byte(`{"rows":2}`)
	}
	var pieces []registry.Piece
	for _, label := range labels {
		row := registry.NewPieceRow(registry.ListRow{Line: 2, Site: "Example Crag", Label: label, Cells: []string{"Example Crag", label}})
		pieces = append(pieces, registry.Piece{Rows: []registry.PieceRow{row}})
	}
	if err := r.store.AddJob(t.Context(), r.who, job, slices.Values(pieces)); err != nil {
		t.Fatal(err)
	}
	return job
}

func everyRow(l registry.List) registry.Wanted { return registry.Wanted{Rows: l.Rows} }

// A trial waits for nobody: neither for who enters a list nor for who holds an
// anchor. Of two workers at the same piece only the first moves it on.
func TestTryPiece(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	job := r.tryOn(t, false, "B1", "B2")
	holding, err := r.db.App.Begin(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer holding.Rollback(t.Context()) //nolint:errcheck // it may be over
	if _, err := holding.Exec(t.Context(), holdIntake, r.who.GroupID.String()); err != nil {
		t.Fatal(err)
	}
	var taken []string
	on := func(j registry.ImportJob, l registry.List, _ registry.Known) (registry.ImportJob, error) {
		taken = append(taken, l.Rows[0].Label)
		j.Taken++
		if j.Taken == j.Pieces {
			j.State = registry.JobTried
		}
		return j, nil
	}
	enough := errors.New("enough")
	refused := func(registry.ImportJob, registry.List, registry.Known) (registry.ImportJob, error) {
		return registry.ImportJob{}, enough
	}
	if _, err := r.store.TryPiece(t.Context(), r.who, job.ID, everyRow, refused); err != enough { //nolint:errorlint // it must be the very error
		t.Errorf("TryPiece() = %v, want the error of decide as it is", err)
	}
	beside := func(j registry.ImportJob, l registry.List, k registry.Known) (registry.ImportJob, error) {
		if _, err := r.store.TryPiece(t.Context(), r.who, job.ID, everyRow, on); err != nil {
			t.Fatal(err)
		}
		return on(j, l, k)
	}
	if j, err := r.store.TryPiece(t.Context(), r.who, job.ID, everyRow, beside); err != nil || j.Taken != 1 || j.State != registry.JobTrying {
		t.Errorf("two at one piece: %d taken, %s, %v, want 1 and trying", j.Taken, j.State, err)
	}
	for range 2 {
		if j, err := r.store.TryPiece(t.Context(), r.who, job.ID, everyRow, on); err != nil || j.State != registry.JobTried {
			t.Errorf("TryPiece() = %s, %v, want tried", j.State, err)
		}
	}
	if diff := diff([]string{"B1", "B1", "B2"}, taken); diff != "" {
		t.Errorf("pieces tried (-want +got):\n%s", diff)
	}
	if n := r.count(t, `SELECT count(*) FROM import_piece WHERE rows IS NOT NULL`); n != 0 {
		t.Errorf("%d pieces keep their rows once they are tried", n)
	}
}

// Another group reaches neither a trial nor what waits to be undone.
func TestJobsInHandAreOfOneGroup(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	other := addGroup(t, r.admin)
	stranger := registry.Actor{GroupID: other.ID, Who: "test"}
	job := r.tryOn(t, true, "B1")
	_, err := r.store.TryPiece(t.Context(), stranger, job.ID, everyRow, nil)
	if fault.KindOf(err) != fault.NotFound {
		t.Errorf("another group tries: %v, want not found", err)
	}
	if err := r.store.EndTrial(t.Context(), other.ID, job.ID, registry.JobFailed, "busy", sample.At); err != nil {
		t.Fatal(err)
	}
	if _, err := r.db.Owner().Exec(t.Context(), `UPDATE import_job SET state = 'tried', taken = 1 WHERE id = $1`, job.ID); err != nil {
		t.Fatal(err)
	}
	if entered, err := r.store.EnterTrial(t.Context(), other.ID, job); err != nil || entered {
		t.Errorf("another group enters: %v, %v", entered, err)
	}
	if _, err := r.store.AskUndo(t.Context(), other.ID, job.ID, "test", sample.At); fault.KindOf(err) != fault.NotFound {
		t.Errorf("another group asks to undo: %v, want not found", err)
	}
	if j, err := r.store.AskUndo(t.Context(), r.group.ID, job.ID, "test", sample.At); err != nil || j.State != registry.JobTried {
		t.Errorf("a trial asked to be undone: %s, %v, want tried", j.State, err)
	}
	if _, err := r.db.Owner().Exec(t.Context(), `UPDATE import_job SET state = 'undoing', trial = false, sifted = NULL, undo_who = 'x', undo_at = now() WHERE id = $1`, job.ID); err != nil {
		t.Fatal(err)
	}
	if err := r.store.RefuseUndo(t.Context(), other.ID, job.ID, registry.RefusalOf(errors.New("x"))); err != nil {
		t.Fatal(err)
	}
	if j, err := r.store.ImportJob(t.Context(), r.group.ID, job.ID); err != nil || j.State != registry.JobUndoing || j.InTheWay != nil {
		t.Errorf("state %s, %+v, %v after another group refused it, want undoing", j.State, j.InTheWay, err)
	}
	if n := r.count(t, `SELECT count(*) FROM import_piece WHERE rows IS NOT NULL`); n != 1 {
		t.Errorf("%d pieces have rows after another group ended the trial, want 1", n)
	}
}

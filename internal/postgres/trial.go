package postgres

import (
	"context"
	"encoding/json"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
)

// TryPiece reads the next piece of a trial and what is known of its rows, as of
// one moment and without holding off or locking anything, and saves what decide
// makes of the job, unless another worker was first. It returns the job as it is
// then; one that is not being tried as it is. decide's error is returned as it is.
func (s *Store) TryPiece(ctx context.Context, who registry.Actor, id uuid.UUID, wanted func(registry.List) registry.Wanted,
	decide func(registry.ImportJob, registry.List, registry.Known) (registry.ImportJob, error),
) (registry.ImportJob, error) {
	doing := "try a piece of import " + id.String()
	was, rows, known, err := s.lookAtPiece(ctx, who, id, wanted)
	if err != nil || was.State != registry.JobTrying {
		return was, translate(err, doing)
	}
	is, err := decide(was, rows, known)
	if err != nil {
		return was, err
	}
	moved, err := s.moveTrial(ctx, who.GroupID, &is)
	if err == nil && !moved {
		return s.ImportJob(ctx, who.GroupID, id)
	}
	return is, err
}

// lookAtPiece reads a job and, if it is a trial on its way, its next piece and
// what is known of that.
func (s *Store) lookAtPiece(ctx context.Context, who registry.Actor, id uuid.UUID, wanted func(registry.List) registry.Wanted,
) (job registry.ImportJob, rows registry.List, known registry.Known, err error) {
	asOfOneMoment := pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}
	err = onWire(ctx, s.pool, asOfOneMoment, func(l *wire) error {
		w := &writer{wire: l, group: who.GroupID, looks: true, held: make(map[uuid.UUID]bool)}
		err := w.ask(ctx, "look at a long list", func(b *pgx.Batch) { b.Queue(setGroup, w.group.String()) })
		if err != nil {
			return err
		}
		if job, err = w.job(ctx, id); err != nil || job.State != registry.JobTrying {
			return err
		}
		piece, err := s.piece(ctx, w, pieceKey{w.group, id, job.Taken})
		if err != nil {
			return err
		}
		rows = job.List(*piece)
		known, err = w.loadKnown(ctx, wanted(rows))
		return err
	})
	return job, rows, known, err
}

// moveTrialOn notes how far a trial is, if it is still where the piece was taken
// from, and drops the piece's rows unless they are kept.
const moveTrialOn = `
WITH moved AS (
  UPDATE import_job AS t
  SET state = @state, taken = @taken, rows_done = @rows_done, report = @report
  WHERE t.id = @id AND t.state = 'trying' AND t.taken = @taken - 1
  RETURNING t.id, t.taken - 1 AS rank, t.sifted IS NULL AS dropped),
dropped AS (
  UPDATE import_piece AS p
  SET rows = NULL, at = now()
  FROM moved AS m
  WHERE p.import_id = m.id AND p.rank = m.rank AND m.dropped)
SELECT m.id
FROM moved AS m`

// moveTrial says whether it was the first to move the trial on.
func (s *Store) moveTrial(ctx context.Context, group uuid.UUID, job *registry.ImportJob) (bool, error) {
	var moved []uuid.UUID
	err := s.read(ctx, group, "note how far a trial is", func(b *pgx.Batch) {
		ids(b, &moved, moveTrialOn, pgx.StrictNamedArgs{
			"id": job.ID, "state": string(job.State), "taken": job.Taken, "rows_done": job.RowsDone, "report": json.RawMessage(job.Report),
		})
	})
	return len(moved) > 0, err
}

const endTrial = `
UPDATE import_job AS t
SET state = @state, code = @code, sifted = NULL
WHERE t.id = @id AND t.trial`

// dropRows is served by the primary key.
const dropRows = `
UPDATE import_piece AS p
SET rows = NULL, at = @at
WHERE p.import_id = @id AND p.rows IS NOT NULL
  AND EXISTS (SELECT FROM import_job AS t WHERE t.id = p.import_id AND t.trial)`

// EndTrial drops the rows of a trial, which stays in a state, with a code if it
// failed.
func (s *Store) EndTrial(ctx context.Context, group, id uuid.UUID, state registry.JobState, code string, at time.Time) error {
	return s.read(ctx, group, "end trial "+id.String(), func(b *pgx.Batch) {
		b.Queue(endTrial, pgx.StrictNamedArgs{"id": id, "state": string(state), "code": code})
		b.Queue(dropRows, pgx.StrictNamedArgs{"id": id, "at": at})
	})
}

const enterTrial = `
UPDATE import_job AS t
SET state = 'waiting', trial = false, sifted = NULL, taken = 0, rows_done = @rows_done, report = @report, who = @who, at = @at
WHERE t.id = @id AND t.state = 'tried' AND t.sifted IS NOT NULL
RETURNING t.id`

// EnterTrial lets a trial that is done, and whose rows are kept, wait to be
// entered, as job says: who asked and when, its report and its rows done. It says
// whether there was such a trial.
func (s *Store) EnterTrial(ctx context.Context, group uuid.UUID, job registry.ImportJob) (bool, error) {
	var found []uuid.UUID
	err := s.read(ctx, group, "enter trial "+job.ID.String(), func(b *pgx.Batch) {
		ids(b, &found, enterTrial, pgx.StrictNamedArgs{
			"id": job.ID, "rows_done": job.RowsDone, "report": json.RawMessage(job.Report), "who": job.Who, "at": job.At,
		})
	})
	return len(found) > 0, err
}

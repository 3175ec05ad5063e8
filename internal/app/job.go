package app

import (
	"context"
	"errors"
	"fmt"
	"maps"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// HandIn keeps a long list to be entered piece by piece, by RunImport or
// RunImports, and says how far it is. Rows of which the list alone says what
// becomes of them are decided on at once. A list that is on its way already, or
// failed, is not kept a second time: it goes on where it stands.
//
// Rows about one route are entered together, in the order of the list; in which
// order routes are entered is not promised. A list of more than MostRows rows is
// fault.TooLarge.
func (s *Service) HandIn(ctx context.Context, who registry.Actor, list registry.List) (report.ImportState, error) {
	return s.keepList(who, list, func() (report.ImportState, error) { return s.handIn(ctx, who, list) })
}

// keepList has a long list kept, and wakes whoever works at such lists.
func (s *Service) keepList(who registry.Actor, list registry.List, keep func() (report.ImportState, error)) (report.ImportState, error) {
	if err := may(who, ImportList); err != nil {
		return report.ImportState{}, err
	}
	if n := len(list.Rows); n > MostRows {
		return report.ImportState{}, tooLong(n, MostRows)
	}
	state, err := keep()
	if err != nil {
		return state, fmt.Errorf("hand in %q: %w", list.FileName, err)
	}
	s.wake()
	return state, nil
}

func (s *Service) handIn(ctx context.Context, who registry.Actor, list registry.List) (report.ImportState, error) {
	same, err := s.sameList(ctx, who, list, func(job *registry.ImportJob) bool {
		return !job.Trial && (job.Open() || job.State == registry.JobFailed)
	})
	if err == nil && same != nil && same.State == registry.JobFailed {
		same.State, same.Code = registry.JobWaiting, ""
		err = s.store.SetJob(ctx, who.GroupID, same.ID, same.State, same.Code)
	}
	if same != nil || err != nil {
		return stateOf(same, err)
	}
	job, sifted, err := s.newJob(who, list)
	if err != nil {
		return report.ImportState{}, err
	}
	return stateOf(&job, s.store.AddJob(ctx, who, job, sifted.pieces()))
}

// newJob decides on what a list alone settles, and makes a job of the rest.
func (s *Service) newJob(who registry.Actor, list registry.List) (registry.ImportJob, sifted, error) {
	at := s.instant()
	sifted := sift(newIntake(list, registry.Known{}, s.AsOf(who), at), s.pieceRows)
	job := registry.ImportJob{
		ID: newID(), FileName: list.FileName, FileHash: list.FileHash, Headings: list.Headings, Columns: list.Columns,
		Encoding: list.Encoding, Delimiter: list.Delimiter, Who: who.Who, At: at, State: registry.JobWaiting,
		Pieces: len(sifted.cuts()), RowsDone: len(list.Rows) - len(sifted.rest),
	}
	if job.Pieces == 0 {
		job.State = registry.JobDone
	}
	var err error
	job.Report, err = reportText(sifted.report)
	return job, sifted, err
}

// sameList finds a job of the same file, read the same way, that will do. Nil:
// there is none.
func (s *Service) sameList(ctx context.Context, who registry.Actor, list registry.List,
	will func(*registry.ImportJob) bool,
) (*registry.ImportJob, error) {
	jobs, err := s.store.OpenJobs(ctx, who.GroupID)
	if err != nil {
		return nil, err
	}
	for i := range jobs {
		if job := &jobs[i]; job.FileHash == list.FileHash && maps.Equal(job.Columns, list.Columns) && will(job) {
			return job, nil
		}
	}
	return nil, nil //nolint:nilnil // as promised
}

// wake lets whoever waits for ImportsWaiting run.
func (s *Service) wake() {
	select {
	case s.waiting <- struct{}{}:
	default:
	}
}

// ImportsWaiting is sent on when a long list was handed in here.
func (s *Service) ImportsWaiting() <-chan struct{} { return s.waiting }

// ImportState says how far a list is on its way into the register, or what
// became of it. One that was never handed in is fault.NotFound.
func (s *Service) ImportState(ctx context.Context, who registry.Actor, id uuid.UUID) (report.ImportState, error) {
	if err := may(who, GetImport); err != nil {
		return report.ImportState{}, err
	}
	job, err := s.store.ImportJob(ctx, who.GroupID, id)
	if fault.KindOf(err) == fault.NotFound {
		job, err = s.store.EnteredImport(ctx, who.GroupID, id)
	}
	if err != nil {
		return report.ImportState{}, fmt.Errorf("import %v: %w", id, err)
	}
	return stateOf(&job, nil)
}

// newestImports is how many lists Imports names.
const newestImports = 100

// Imports lists the newest 100 lists that were handed in, newest first.
func (s *Service) Imports(ctx context.Context, who registry.Actor) ([]report.ImportState, error) {
	if err := may(who, ListImports); err != nil {
		return nil, err
	}
	jobs, err := s.store.NewestImports(ctx, who.GroupID, newestImports)
	if err != nil {
		return nil, fmt.Errorf("list imports: %w", err)
	}
	out := make([]report.ImportState, len(jobs))
	for i := range jobs {
		if out[i], err = stateOf(&jobs[i], nil); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// stateOf reads a job's report, unless there is an error.
func stateOf(job *registry.ImportJob, err error) (report.ImportState, error) {
	if err != nil {
		return report.ImportState{}, err
	}
	told, err := reportOf(job)
	out := report.ImportState{
		ID: job.ID, State: job.State, Code: job.Code, FileName: told.FileName, Rows: told.Rows, RowsDone: job.RowsDone, At: job.At,
		Report: told, Trial: job.Trial, Kept: job.State == registry.JobTried && job.Sifted != nil, Begun: job.Begun,
		UndoAt: job.UndoAt, InTheWay: job.InTheWay,
	}
	if job.Undone != nil {
		out.Undone = &report.Undone{ImportID: job.ID, FileName: told.FileName, UndoneCounts: *job.Undone}
	}
	if job.Pieces == 0 && job.State != registry.JobTried { // entered at once
		out.RowsDone = out.Rows
	}
	return out, err
}

// maxTries is how often in a row a piece may fail before its job does: another
// member may be changing the same places.
const maxTries = 3

// RunImport does what is left to do with a long list: it enters or tries it, piece
// by piece, each with how far it is in one transaction, or takes it back, in one
// for all. It may be broken off at any moment, run again, and run twice at once.
// tell is told after each piece; it may be nil. A job that failed is left alone;
// what stands in the way of undoing one is told in its state.
func (s *Service) RunImport(ctx context.Context, who registry.Actor, id uuid.UUID, tell func(report.ImportState)) (report.ImportState, error) {
	if err := may(who, ImportList); err != nil {
		return report.ImportState{}, err
	}
	job, err := s.store.ImportJob(ctx, who.GroupID, id)
	if err != nil {
		return report.ImportState{}, fmt.Errorf("import %v: %w", id, err)
	}
	if job.State == registry.JobUndoing {
		return s.runUndo(ctx, who, &job)
	}
	if job.Trial {
		return s.runPieces(ctx, who, id, piecework{s.tryPiece, s.failTrial, tell})
	}
	return s.runPieces(ctx, who, id, piecework{s.takePiece, s.failImport, tell})
}

// piecework is what is done with the pieces of a long list.
type piecework struct {
	next func(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.ImportJob, error)
	fail func(ctx context.Context, group, id uuid.UUID, code fault.Code) error
	tell func(report.ImportState) // nil: nobody
}

func (s *Service) failImport(ctx context.Context, group, id uuid.UUID, code fault.Code) error {
	return s.store.SetJob(ctx, group, id, registry.JobFailed, string(code))
}

func (s *Service) failTrial(ctx context.Context, group, id uuid.UUID, code fault.Code) error {
	return s.store.EndTrial(ctx, group, id, registry.JobFailed, string(code), s.instant())
}

func (s *Service) runPieces(ctx context.Context, who registry.Actor, id uuid.UUID, work piecework) (report.ImportState, error) {
	for tries := 0; ; {
		job, err := work.next(ctx, who, id)
		switch {
		case ctx.Err() != nil:
			return report.ImportState{}, fmt.Errorf("import %v: %w", id, ctx.Err())
		case err != nil && fault.KindOf(err) == fault.NotFound:
			return report.ImportState{}, fmt.Errorf("import %v: %w", id, err)
		case err != nil:
			if tries++; tries >= maxTries {
				failed := work.fail(ctx, who.GroupID, id, fault.CodeOf(err))
				return report.ImportState{}, fmt.Errorf("import %v: %w", id, errors.Join(err, failed))
			}
			continue
		}
		tries = 0
		more := job.Open() || job.State == registry.JobTrying
		if work.tell == nil && more {
			continue
		}
		state, err := stateOf(&job, nil)
		if err != nil {
			return state, err
		}
		if work.tell != nil {
			work.tell(state)
		}
		if !more {
			return state, nil
		}
	}
}

func (s *Service) takePiece(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.ImportJob, error) {
	asOf, at := s.AsOf(who), s.instant()
	wanted := func(rows registry.List) registry.Wanted { return wanting(rows.Rows) }
	return s.store.TakePiece(ctx, who, id, wanted,
		func(job registry.ImportJob, rows registry.List, known registry.Known, rules houserules.Rules) (registry.Change, error) {
			in := newIntake(rows, known, asOf, at)
			in.id, in.fit = id, true
			in.takeRows()
			return in.piece(job, rules)
		})
}

// piece gathers what a piece brought, and what it leaves of its job.
func (in *intake) piece(job registry.ImportJob, rules houserules.Rules) (registry.Change, error) {
	told, err := reportOf(&job)
	if err != nil {
		return registry.Change{}, err
	}
	c := registry.Change{What: "import", At: in.at}
	begins := len(in.written.ImportRows) > 0 && !job.Begun
	if len(in.written.ImportRows) > 0 {
		c = in.gathered(rules)
		job.Begun, told.ID = true, job.ID.String()
	}
	job.Taken++
	job.RowsDone += len(in.list.Rows)
	job.State = registry.JobRunning
	if job.Taken == job.Pieces {
		job.State = registry.JobDone
	}
	if job.Report, err = reportText(told.With(in.report)); err != nil {
		return registry.Change{}, err
	}
	if begins {
		c.Import = in.imported(job.Report)
	}
	c.Job = &job
	return c, nil
}

// RunImports does what waits to be done with long lists, group by group and one
// of a group after the other, as whoever asked for it. An error in one does not
// keep the others from being done; all errors are returned together.
func (s *Service) RunImports(ctx context.Context) error {
	groups, err := s.store.Groups(ctx)
	if err != nil {
		return fmt.Errorf("list groups: %w", err)
	}
	var errs []error
	for _, g := range groups {
		jobs, err := s.store.OpenJobs(ctx, g.ID)
		errs = append(errs, err)
		for i := range jobs {
			if ctx.Err() != nil {
				return errors.Join(append(errs, ctx.Err())...)
			}
			errs = append(errs, s.runJob(ctx, g, &jobs[i]))
		}
	}
	return errors.Join(errs...)
}

func (s *Service) runJob(ctx context.Context, g registry.Group, job *registry.ImportJob) error {
	if !job.InHand() {
		return s.dropTrial(ctx, g.ID, job)
	}
	who := registry.Actor{GroupID: g.ID, Group: g.Slug, TimeZone: g.TimeZone, Role: registry.RoleOwner, Who: job.Who}
	_, err := s.RunImport(ctx, who, job.ID, nil)
	return err
}

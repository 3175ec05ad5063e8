package app

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"

	jsonv2 "github.com/go-json-experiment/json"
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
	if err := may(who, ImportList); err != nil {
		return report.ImportState{}, err
	}
	if n := len(list.Rows); n > MostRows {
		return report.ImportState{}, tooLong(n, MostRows)
	}
	state, err := s.handIn(ctx, who, list)
	if err != nil {
		return state, fmt.Errorf("hand in %q: %w", list.FileName, err)
	}
	s.wake()
	return state, nil
}

func (s *Service) handIn(ctx context.Context, who registry.Actor, list registry.List) (report.ImportState, error) {
	if job, found, err := s.onItsWay(ctx, who, list); found || err != nil {
		return stateOf(job, err)
	}
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
	text, err := json.Marshal(sifted.report)
	if err != nil {
		return report.ImportState{}, fmt.Errorf("write import report: %w", err)
	}
	job.Report = text
	return stateOf(job, s.store.AddJob(ctx, who, job, sifted.pieces()))
}

// onItsWay finds the job of the same file, read the same way. One that failed
// is made to go on.
func (s *Service) onItsWay(ctx context.Context, who registry.Actor, list registry.List) (registry.ImportJob, bool, error) {
	jobs, err := s.store.OpenJobs(ctx, who.GroupID)
	if err != nil {
		return registry.ImportJob{}, false, err
	}
	for _, job := range jobs {
		if job.FileHash != list.FileHash || !maps.Equal(job.Columns, list.Columns) {
			continue
		}
		if job.State == registry.JobFailed {
			job.State, job.Code = registry.JobWaiting, ""
			err = s.store.SetJob(ctx, who.GroupID, job.ID, job.State, job.Code)
		}
		return job, true, err
	}
	return registry.ImportJob{}, false, nil
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
	return stateOf(job, nil)
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
		if out[i], err = stateOf(jobs[i], nil); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// stateOf reads a job's report, unless there is an error.
func stateOf(job registry.ImportJob, err error) (report.ImportState, error) {
	out := report.ImportState{
		ID: job.ID, State: job.State, Code: job.Code, RowsDone: job.RowsDone, At: job.At,
	}
	if err != nil {
		return out, err
	}
	if err := json.Unmarshal(job.Report, &out.Report); err != nil {
		return out, fmt.Errorf("read the report of import %v: %w", job.ID, err)
	}
	out.FileName, out.Rows = out.Report.FileName, out.Report.Rows
	if job.Pieces == 0 { // entered at once
		out.RowsDone = out.Rows
	}
	return out, nil
}

// tryLong says what would become of a long list, piece by piece, and writes
// nothing.
func (s *Service) tryLong(ctx context.Context, who registry.Actor, list registry.List) (report.Import, error) {
	if n := len(list.Rows); n > MostRows {
		return report.Import{}, tooLong(n, MostRows)
	}
	asOf, at := s.AsOf(who), s.instant()
	sifted := sift(newIntake(list, registry.Known{}, asOf, at), s.pieceRows)
	out := sifted.report
	for p := range sifted.pieces() {
		job := registry.ImportJob{FileName: list.FileName, FileHash: list.FileHash, Headings: list.Headings, Columns: list.Columns}
		rows := job.List(p)
		err := s.store.Intake(ctx, who, wanting(&rows, uuid.Nil), func(known registry.Known, rules houserules.Rules) (registry.Change, error) {
			in := newIntake(rows, known, asOf, at)
			in.fit = true
			in.takeRows(rules)
			out = out.With(in.report)
			return registry.Change{}, errDryRun
		})
		if !errors.Is(err, errDryRun) {
			return report.Import{}, fmt.Errorf("try %q: %w", list.FileName, err)
		}
	}
	out.DryRun = true
	return out, nil
}

// maxTries is how often in a row a piece may fail before its job does: another
// member may be changing the same places.
const maxTries = 3

// RunImport enters what is left of a long list, piece by piece, each in a
// transaction that says how far it is: it may be broken off at any moment, run
// again, and run twice at once. tell is told after each piece; it may be nil. A
// job that failed is left alone.
func (s *Service) RunImport(ctx context.Context, who registry.Actor, id uuid.UUID, tell func(report.ImportState)) (report.ImportState, error) {
	if err := may(who, ImportList); err != nil {
		return report.ImportState{}, err
	}
	for tries := 0; ; {
		job, err := s.takePiece(ctx, who, id)
		switch {
		case ctx.Err() != nil:
			return report.ImportState{}, fmt.Errorf("import %v: %w", id, ctx.Err())
		case err != nil && fault.KindOf(err) == fault.NotFound:
			return report.ImportState{}, fmt.Errorf("import %v: %w", id, err)
		case err != nil:
			if tries++; tries >= maxTries {
				failed := s.store.SetJob(ctx, who.GroupID, id, registry.JobFailed, string(fault.CodeOf(err)))
				return report.ImportState{}, fmt.Errorf("import %v: %w", id, errors.Join(err, failed))
			}
			continue
		}
		tries = 0
		if tell == nil && job.Open() {
			continue
		}
		state, err := stateOf(job, nil)
		if err != nil {
			return state, err
		}
		if tell != nil {
			tell(state)
		}
		if !job.Open() {
			return state, nil
		}
	}
}

func (s *Service) takePiece(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.ImportJob, error) {
	asOf, at := s.AsOf(who), s.instant()
	wanted := func(rows registry.List) registry.Wanted { return wanting(&rows, id) }
	return s.store.TakePiece(ctx, who, id, wanted,
		func(job registry.ImportJob, rows registry.List, known registry.Known, rules houserules.Rules) (registry.Change, error) {
			in := newIntake(rows, known, asOf, at)
			in.id, in.fit = id, true
			in.takeRows(rules)
			return in.piece(job, rules)
		})
}

// piece gathers what a piece brought, and what it leaves of its job.
func (in *intake) piece(job registry.ImportJob, rules houserules.Rules) (registry.Change, error) {
	var told report.Import
	if err := jsonv2.Unmarshal(job.Report, &told); err != nil {
		return registry.Change{}, fmt.Errorf("read import report: %w", err)
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
	text, err := json.Marshal(told.With(in.report))
	if err != nil {
		return registry.Change{}, fmt.Errorf("write import report: %w", err)
	}
	job.Report = text
	if begins {
		c.Import = in.imported(text)
	}
	c.Job = &job
	return c, nil
}

// RunImports enters the long lists that wait, group by group and one of a group
// after the other, as whoever handed them in. An error in one does not keep the
// others from being entered; all errors are returned together.
func (s *Service) RunImports(ctx context.Context) error {
	groups, err := s.store.Groups(ctx)
	if err != nil {
		return fmt.Errorf("list groups: %w", err)
	}
	var errs []error
	for _, g := range groups {
		jobs, err := s.store.OpenJobs(ctx, g.ID)
		errs = append(errs, err)
		for _, job := range jobs {
			if ctx.Err() != nil {
				return errors.Join(append(errs, ctx.Err())...)
			}
			if !job.Open() {
				continue
			}
			who := registry.Actor{GroupID: g.ID, Group: g.Slug, TimeZone: g.TimeZone, Role: registry.RoleOwner, Who: job.Who}
			_, err := s.RunImport(ctx, who, job.ID, nil)
			errs = append(errs, err)
		}
	}
	return errors.Join(errs...)
}

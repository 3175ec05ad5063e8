package app

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	jsonv2 "github.com/go-json-experiment/json"
	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// TrialKept is how long the rows of a trial are kept to be entered, where that
// was asked for; a default of this project.
const TrialKept = 24 * time.Hour

// HandInTrial keeps a long list to be tried piece by piece, by RunImport or
// RunImports, and says how far that is. Nothing of it is entered, and its rows
// are dropped once they are tried, unless keep has them stay for a day so that
// EnterTrial can enter them. The same list, read the same way, that is being
// tried already is not kept a second time. A list of more than MostRows rows is
// fault.TooLarge.
func (s *Service) HandInTrial(ctx context.Context, who registry.Actor, list registry.List, keep bool) (report.ImportState, error) {
	return s.keepList(who, list, func() (report.ImportState, error) {
		return s.handInTrial(ctx, who, list, keep)
	})
}

func (s *Service) handInTrial(ctx context.Context, who registry.Actor, list registry.List, keep bool) (report.ImportState, error) {
	same, err := s.sameList(ctx, who, list, func(job *registry.ImportJob) bool {
		return job.State == registry.JobTrying && (job.Sifted != nil) == keep
	})
	if same != nil || err != nil {
		return stateOf(same, err)
	}
	job, sifted, err := s.newJob(who, list)
	if err != nil {
		return report.ImportState{}, err
	}
	job.Trial, job.State = true, registry.JobTrying
	if job.Pieces == 0 {
		job.State = registry.JobTried
	} else if keep {
		job.Sifted = job.Report
	}
	sifted.report.DryRun = true
	if job.Report, err = reportText(sifted.report); err != nil {
		return report.ImportState{}, err
	}
	return stateOf(&job, s.store.AddJob(ctx, who, job, sifted.pieces()))
}

// tryPiece says what would become of the next piece of a trial.
func (s *Service) tryPiece(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.ImportJob, error) {
	asOf, at := s.AsOf(who), s.instant()
	wanted := func(rows registry.List) registry.Wanted { return wanting(rows.Rows) }
	return s.store.TryPiece(ctx, who, id, wanted,
		func(job registry.ImportJob, rows registry.List, known registry.Known) (registry.ImportJob, error) {
			in := newIntake(rows, known, asOf, at)
			in.fit = true
			in.takeRows()
			return in.tried(job)
		})
}

// tried is what a piece leaves of the trial it belongs to.
func (in *intake) tried(job registry.ImportJob) (registry.ImportJob, error) {
	told, err := reportOf(&job)
	if err != nil {
		return job, err
	}
	job.Taken++
	job.RowsDone += len(in.list.Rows)
	if job.Taken == job.Pieces {
		job.State = registry.JobTried
	}
	job.Report, err = reportText(told.With(in.report))
	return job, err
}

// EnterTrial lets the rows of a trial that is done be entered, by RunImport or
// RunImports: it is a list handed in from then on, under the same id. One that is
// being entered already, or was, is left as it is. A trial whose rows were not
// kept, or for too long, is fault.Invalid: the list has to be chosen again.
func (s *Service) EnterTrial(ctx context.Context, who registry.Actor, id uuid.UUID) (report.ImportState, error) {
	if err := may(who, ImportList); err != nil {
		return report.ImportState{}, err
	}
	state, err := s.enterTrial(ctx, who, id)
	if err != nil {
		return state, fmt.Errorf("enter what was tried, %v: %w", id, err)
	}
	s.wake()
	return state, nil
}

func (s *Service) enterTrial(ctx context.Context, who registry.Actor, id uuid.UUID) (report.ImportState, error) {
	job, err := s.store.ImportJob(ctx, who.GroupID, id)
	if err != nil || !job.Trial {
		return stateOf(&job, err)
	}
	if job.Sifted != nil {
		job.Report, job.Who, job.At = job.Sifted, who.Who, s.instant()
		sifted, err := reportOf(&job)
		if err != nil {
			return report.ImportState{}, err
		}
		job.RowsDone = sifted.Duplicates + sifted.Blank + sifted.Refused + sifted.Unchanged
		entered, err := s.store.EnterTrial(ctx, who.GroupID, job)
		if err != nil {
			return report.ImportState{}, err
		}
		if entered {
			return s.stored(ctx, who, id)
		}
	}
	lost := fault.New(fault.Invalid, "the rows of the trial are not there to be entered")
	lost.Violations = []fault.Violation{{Field: "file", Code: fault.Required}}
	return report.ImportState{}, lost
}

// dropTrial drops rows that were kept too long.
func (s *Service) dropTrial(ctx context.Context, group uuid.UUID, job *registry.ImportJob) error {
	if job.State != registry.JobTried || s.instant().Sub(job.At) < TrialKept {
		return nil
	}
	return s.store.EndTrial(ctx, group, job.ID, job.State, "", s.instant())
}

func reportText(r report.Import) ([]byte, error) {
	text, err := json.Marshal(r)
	if err != nil {
		return nil, fmt.Errorf("write import report: %w", err)
	}
	return text, nil
}

func reportOf(job *registry.ImportJob) (report.Import, error) {
	var told report.Import
	if err := jsonv2.Unmarshal(job.Report, &told); err != nil {
		return told, fmt.Errorf("read the report of import %v: %w", job.ID, err)
	}
	return told, nil
}

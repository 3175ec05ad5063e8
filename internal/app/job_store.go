package app

import (
	"context"
	"iter"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// JobStore is the part of Store that enters long lists piece by piece.
type JobStore interface {
	// AddJob keeps a long list with its pieces, taken from rest one by one.
	AddJob(ctx context.Context, who registry.Actor, job registry.ImportJob, rest iter.Seq[registry.Piece]) error
	ImportJob(ctx context.Context, group, id uuid.UUID) (registry.ImportJob, error)
	// OpenJobs lists those at which something is left to do, in the order they
	// were handed in: those that failed too, and trials whose rows are kept.
	OpenJobs(ctx context.Context, group uuid.UUID) ([]registry.ImportJob, error)
	// EnteredImport returns a list that was entered at once as a job that is
	// done: its id, instant, state and report.
	EnteredImport(ctx context.Context, group, id uuid.UUID) (registry.ImportJob, error)
	// NewestImports lists up to limit lists, entered at once or as jobs, newest
	// first, without headings.
	NewestImports(ctx context.Context, group uuid.UUID, limit int) ([]registry.ImportJob, error)
	// TakePiece holds off other intakes and enters the next piece of a job as
	// Intake does, with the job as it is afterwards in Change.Job, which it
	// returns. A job that is not open is returned as it is.
	TakePiece(ctx context.Context, who registry.Actor, id uuid.UUID, wanted func(registry.List) registry.Wanted,
		decide func(registry.ImportJob, registry.List, registry.Known, houserules.Rules) (registry.Change, error)) (registry.ImportJob, error)
	// SetJob lets a job that is being entered fail with a code, or wait again.
	SetJob(ctx context.Context, group, id uuid.UUID, state registry.JobState, code string) error
	// TryPiece reads the next piece of a trial and what is known of its rows, as
	// of one moment and without holding anything, and saves what decide makes of
	// the job, unless another worker was first. It returns the job as it is then;
	// one that is not being tried as it is.
	TryPiece(ctx context.Context, who registry.Actor, id uuid.UUID, wanted func(registry.List) registry.Wanted,
		decide func(registry.ImportJob, registry.List, registry.Known) (registry.ImportJob, error)) (registry.ImportJob, error)
	// EndTrial drops the rows of a trial, which stays in a state, with a code if
	// it failed.
	EndTrial(ctx context.Context, group, id uuid.UUID, state registry.JobState, code string, at time.Time) error
	// EnterTrial lets a trial that is done, and whose rows are kept, wait to be
	// entered, as job says: who asked and when, its report and its rows done. It
	// says whether there was such a trial.
	EnterTrial(ctx context.Context, group uuid.UUID, job registry.ImportJob) (bool, error)
}

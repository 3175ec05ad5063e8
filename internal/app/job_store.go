package app

import (
	"context"
	"iter"

	"github.com/google/uuid"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// JobStore is the part of Store that enters long lists piece by piece.
type JobStore interface {
	// AddJob keeps a long list with its pieces, taken from rest one by one.
	AddJob(ctx context.Context, who registry.Actor, job registry.ImportJob, rest iter.Seq[registry.Piece]) error
	ImportJob(ctx context.Context, group, id uuid.UUID) (registry.ImportJob, error)
	// OpenJobs lists those that are not done, those that failed too, in the
	// order they were handed in.
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
	// SetJob lets a job that is not done fail with a code, or wait again.
	SetJob(ctx context.Context, group, id uuid.UUID, state registry.JobState, code string) error
}

package app

import (
	"context"
	"iter"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

type objectionKey struct{}

// Objecting returns a context in which nothing is written. A use case that is
// called with it checks all it would check, and names what is wrong; where it
// found nothing wrong and came to write, it returns err instead. So whoever
// knows already that a request will be refused can learn what else there is to
// say about it.
func Objecting(ctx context.Context, err error) context.Context {
	return context.WithValue(ctx, objectionKey{}, err)
}

// Objection returns the error that Objecting gave a context, nil for none.
func Objection(ctx context.Context) error {
	err, _ := ctx.Value(objectionKey{}).(error)
	return err
}

// reluctant is a store that writes nothing in a context of Objecting.
type reluctant struct{ Store }

func (r reluctant) Write(ctx context.Context, who registry.Actor, c registry.Change) error {
	if err := Objection(ctx); err != nil {
		return err
	}
	return r.Store.Write(ctx, who, c)
}

func (r reluctant) Change(ctx context.Context, who registry.Actor, anchors []uuid.UUID,
	decide func([]registry.Facts, houserules.Rules) (registry.Change, error),
) error {
	return r.Store.Change(ctx, who, anchors, unlessObjected(ctx, decide))
}

func (r reluctant) ChangeAndAssess(ctx context.Context, who registry.Actor, anchors []uuid.UUID,
	decide func([]registry.Facts, houserules.Rules) (registry.Change, error),
	judge func(registry.Facts, houserules.Rules) (registry.Assessment, error),
) error {
	return r.Store.ChangeAndAssess(ctx, who, anchors, unlessObjected(ctx, decide), judge)
}

func (r reluctant) Intake(ctx context.Context, who registry.Actor, wanted registry.Wanted,
	decide func(registry.Known, houserules.Rules) (registry.Change, error),
) error {
	return r.Store.Intake(ctx, who, wanted, unlessObjected(ctx, decide))
}

func (r reluctant) AddJob(ctx context.Context, who registry.Actor, job registry.ImportJob, rest iter.Seq[registry.Piece]) error {
	if err := Objection(ctx); err != nil {
		return err
	}
	return r.Store.AddJob(ctx, who, job, rest)
}

func (r reluctant) Undo(ctx context.Context, who registry.Actor, id uuid.UUID,
	decide func(registry.Undoing, houserules.Rules) (registry.UndoSteps, error),
) error {
	objection := Objection(ctx)
	if objection == nil {
		return r.Store.Undo(ctx, who, id, decide)
	}
	return r.Store.Undo(ctx, who, id, func(u registry.Undoing, rules houserules.Rules) (registry.UndoSteps, error) {
		steps, err := decide(u, rules)
		end := steps.End
		steps.End = func(left registry.PlacesLeft) (registry.Change, error) {
			if _, err := end(left); err != nil {
				return registry.Change{}, err
			}
			return registry.Change{}, objection
		}
		return steps, err
	})
}

func (r reluctant) AskUndo(ctx context.Context, group, id uuid.UUID, by string, at time.Time) (registry.ImportJob, error) {
	if err := Objection(ctx); err != nil {
		return registry.ImportJob{}, err
	}
	return r.Store.AskUndo(ctx, group, id, by, at)
}

// unlessObjected lets decide say what is wrong, but not what to write.
func unlessObjected[F any](ctx context.Context, decide func(F, houserules.Rules) (registry.Change, error),
) func(F, houserules.Rules) (registry.Change, error) {
	objection := Objection(ctx)
	if objection == nil {
		return decide
	}
	return func(facts F, rules houserules.Rules) (registry.Change, error) {
		if _, err := decide(facts, rules); err != nil {
			return registry.Change{}, err
		}
		return registry.Change{}, objection
	}
}

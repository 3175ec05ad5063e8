package app

import (
	"context"
	"errors"
	"fmt"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// askUndo keeps a long list to be undone and returns its state, unless something
// is found in the way at once. Nil: it is no long list, or none of which anything
// could be undone.
func (s *Service) askUndo(ctx context.Context, who registry.Actor, id uuid.UUID) (*report.ImportState, error) {
	job, err := s.store.ImportJob(ctx, who.GroupID, id)
	if fault.KindOf(err) == fault.NotFound || err == nil && !job.Begun {
		return nil, nil //nolint:nilnil // as promised
	}
	if err != nil {
		return nil, err
	}
	if job.State != registry.JobUndoing {
		if job, err = s.beginUndo(ctx, who, &job); err != nil {
			return nil, err
		}
		s.wake()
	}
	state, err := stateOf(&job, nil)
	return &state, err
}

func (s *Service) beginUndo(ctx context.Context, who registry.Actor, job *registry.ImportJob) (registry.ImportJob, error) {
	if err := stillUndoable(job); err != nil {
		return *job, err
	}
	if err := s.seenInTheWay(ctx, who, job.ID); err != nil {
		return *job, err
	}
	asked, err := s.store.AskUndo(ctx, who.GroupID, job.ID, who.Who, s.instant())
	if err != nil {
		return asked, err
	}
	return asked, stillUndoable(&asked) // another may have begun to enter it, or undone it
}

func stillUndoable(job *registry.ImportJob) error {
	return undoable(registry.Undoing{FileName: job.FileName, Undone: job.State == registry.JobUndone, Open: job.Open()})
}

// seenInTheWay returns fault.Conflict if something that stands in the way of
// undoing an import is found without reading all of it. What it finds is in the
// way; there may be more.
func (s *Service) seenInTheWay(ctx context.Context, who registry.Actor, id uuid.UUID) error {
	found, err := s.store.Suspected(ctx, who.GroupID, id, maxInTheWay)
	if err != nil {
		return err
	}
	b := blocks{made: make(map[uuid.UUID]bool)}
	places := make(map[uuid.UUID]string)
	for i := range found {
		f := &found[i]
		places[f.Position.ID] = placeOfRow(&registry.ListRow{Site: f.Site.Name, Label: f.Position.Label})
		b.grant(f)
		b.lookRecords(f)
	}
	if err := b.err(places, nil); err != nil {
		return err.With("at_least", "")
	}
	return nil
}

// grant takes what may have been made by the import for made by it: all that was
// taken over, by whichever list.
func (b *blocks) grant(f *registry.Facts) {
	grant := func(r *registry.Record) {
		b.made[r.ID] = b.made[r.ID] || r.Origin == registry.Imported
	}
	for i := range f.Installations {
		grant(&f.Installations[i].Record)
	}
	for i := range f.Inspections {
		grant(&f.Inspections[i].Record)
	}
	for i := range f.Removals {
		grant(&f.Removals[i].Record)
	}
}

// errNotAsked says that another worker was first to undo an import, or that what
// stands in the way of it was told already.
var errNotAsked = errors.New("not asked to be undone")

// runUndo takes a long list back that waits for that, as whoever asked for it,
// or keeps what stands in the way. Broken off anywhere, nothing of it is done,
// and it still waits.
func (s *Service) runUndo(ctx context.Context, who registry.Actor, job *registry.ImportJob) (report.ImportState, error) {
	who.Who = job.UndoWho
	for tries := 1; ; tries++ {
		_, err := s.undo(ctx, who, job.ID, s.undoAsked)
		switch kind := fault.KindOf(err); {
		case ctx.Err() != nil:
			return report.ImportState{}, fmt.Errorf("undo import %v: %w", job.ID, ctx.Err())
		case err == nil || errors.Is(err, errNotAsked):
			return s.stored(ctx, who, job.ID)
		case kind == fault.Conflict:
			if err := s.store.RefuseUndo(ctx, who.GroupID, job.ID, registry.RefusalOf(err)); err != nil {
				return report.ImportState{}, fmt.Errorf("undo import %v: %w", job.ID, err)
			}
			return s.stored(ctx, who, job.ID)
		case tries >= maxTries:
			kept := s.store.RefuseUndo(ctx, who.GroupID, job.ID, registry.RefusalOf(err))
			return report.ImportState{}, fmt.Errorf("undo import %v: %w", job.ID, errors.Join(err, kept))
		}
	}
}

// undoAsked is UndoInTurn of an import that still waits to be undone.
func (s *Service) undoAsked(ctx context.Context, who registry.Actor, id uuid.UUID, decide undoDecider) error {
	return s.store.UndoInTurn(ctx, who, id, func(u registry.Undoing, rules houserules.Rules) (registry.UndoSteps, error) {
		if !u.Asked {
			return registry.UndoSteps{}, errNotAsked
		}
		return decide(u, rules)
	})
}

// stored is a long list as the store has it.
func (s *Service) stored(ctx context.Context, who registry.Actor, id uuid.UUID) (report.ImportState, error) {
	job, err := s.store.ImportJob(ctx, who.GroupID, id)
	if err != nil {
		return report.ImportState{}, fmt.Errorf("import %v: %w", id, err)
	}
	return stateOf(&job, nil)
}

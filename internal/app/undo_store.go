package app

import (
	"context"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// UndoStore is the part of Store that takes a list back.
type UndoStore interface {
	// Undo holds off intakes of the group, lets decide look at an import, then
	// locks the anchors that it entered, piece by piece, and saves what the steps
	// say: all of it or nothing. An import that is not there is fault.NotFound.
	Undo(ctx context.Context, who registry.Actor, id uuid.UUID, decide undoDecider) error
	// UndoInTurn is Undo, but waits for other intakes as long as it takes.
	UndoInTurn(ctx context.Context, who registry.Actor, id uuid.UUID, decide undoDecider) error
	// Suspected returns the facts of up to limit anchors that an import entered
	// and of which something was recorded since, which may stand in the way of
	// undoing it.
	Suspected(ctx context.Context, group, id uuid.UUID, limit int) ([]registry.Facts, error)
	// AskUndo lets a list that was entered, or failed after some of it was, wait
	// to be undone for whoever asked, and returns it as it is then. One in another
	// state is left as it is.
	AskUndo(ctx context.Context, group, id uuid.UUID, by string, at time.Time) (registry.ImportJob, error)
	// RefuseUndo keeps what stood in the way of a list that waited to be undone,
	// which stays entered as far as it was.
	RefuseUndo(ctx context.Context, group, id uuid.UUID, why *registry.Refusal) error
}

// undoDecider looks at an import and says how it is undone.
type undoDecider = func(registry.Undoing, houserules.Rules) (registry.UndoSteps, error)

// undoer undoes an import, as Undo of a store does.
type undoer func(ctx context.Context, who registry.Actor, id uuid.UUID, decide undoDecider) error

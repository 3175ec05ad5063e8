package app

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// UndoStore is the part of Store that takes a list back.
type UndoStore interface {
	// Undo holds off intakes of the group, lets decide look at an import, then
	// locks the anchors that it entered, piece by piece, and saves what the steps
	// say: all of it or nothing. An import that is not there is fault.NotFound.
	Undo(ctx context.Context, who registry.Actor, id uuid.UUID,
		decide func(registry.Undoing, houserules.Rules) (registry.UndoSteps, error)) error
}

package app

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// UndoStore is the part of Store that takes a list back.
type UndoStore interface {
	// Undo holds off intakes of the group, locks the anchors that an import
	// entered, loads what must be known of it, lets decide say what to take
	// back, and saves it as Change does. An import that is not there is
	// fault.NotFound.
	Undo(ctx context.Context, who registry.Actor, id uuid.UUID,
		decide func(registry.Undoing, houserules.Rules) (registry.Change, error)) error
}

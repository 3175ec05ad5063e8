package app

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// GluingStore is the part of Store that keeps gluing sessions.
type GluingStore interface {
	// GluingSessions lists sessions, of one site if site is given.
	GluingSessions(ctx context.Context, group uuid.UUID, site *uuid.UUID, page registry.Page) ([]registry.GluingSession, error)
	// GluingSession returns a session with all that was set in it, or
	// fault.NotFound.
	GluingSession(ctx context.Context, group, id uuid.UUID) (registry.GluingStory, error)
}

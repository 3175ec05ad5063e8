package app

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// RecordGluing stores a gluing session with the anchors that are new, at their
// positions, and every installation, and assesses all these anchors, in one
// transaction.
func (s *Service) RecordGluing(ctx context.Context, who registry.Actor, g registry.Gluing) (stored registry.Gluing, created bool, err error) {
	return registry.Gluing{}, false, fault.New(fault.Internal, "record gluing: to come")
}

// GluingSession returns a session with all that was set in it, or
// fault.NotFound.
func (s *Service) GluingSession(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.GluingStory, error) {
	return registry.GluingStory{}, fault.New(fault.Internal, "gluing session: to come")
}

// GluingSessions lists gluing sessions, of one site if site is given.
func (s *Service) GluingSessions(ctx context.Context, who registry.Actor, site *uuid.UUID, page registry.Page) ([]registry.GluingSession, error) {
	return nil, fault.New(fault.Internal, "gluing sessions: to come")
}

// RecordCure stores what somebody found out about the setting of a bonded
// anchor, by the terms of RecordInspection.
func (s *Service) RecordCure(ctx context.Context, who registry.Actor, r registry.Cure) (stored registry.Cure, created bool, err error) {
	return registry.Cure{}, false, fault.New(fault.Internal, "record cure: to come")
}

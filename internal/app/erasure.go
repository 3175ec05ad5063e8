package app

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// ErasureStore is the part of Store that erases persons and landowners, and the
// legal holds that suspend it.
type ErasureStore interface {
	// ErasePerson is fault.Conflict, code OnHold, while a legal hold is in force
	// on asOf over the person or what records name the person with.
	ErasePerson(ctx context.Context, who registry.Actor, e registry.Erasure, asOf calendar.Date) error
	// EraseLandowner writes what unnamed, which must be pure, makes of what the
	// register tells of a landowner. It is fault.Conflict, code OnHold, while a
	// legal hold is in force on asOf over the landowner or what stands on their
	// land. Of one who is erased already unnamed is not asked.
	EraseLandowner(ctx context.Context, who registry.Actor, e registry.Erasure, asOf calendar.Date,
		unnamed func(registry.LandTold) registry.LandTold) error
	LegalHolds(ctx context.Context, group uuid.UUID, page registry.Page) ([]registry.LegalHold, error)
	LegalHold(ctx context.Context, group, id uuid.UUID) (registry.LegalHold, error)
}

// ErasePerson erases a person's name for good: records go on naming the person
// by id. Free text and what imported lists said are not searched for the name.
// It is fault.Conflict, code OnHold, while a legal hold suspends it.
func (s *Service) ErasePerson(ctx context.Context, who registry.Actor, id uuid.UUID, reason string) error {
	if err := may(who, ErasePerson); err != nil {
		return err
	}
	e, err := s.newErasure(ctx, registry.Erasure{PersonID: &id, Reason: reason})
	if err != nil {
		return err
	}
	return s.store.ErasePerson(ctx, who, e, s.AsOf(who))
}

// EraseLandowner erases a landowner's name and contact for good, and takes them
// out of the names of their parcels, the agreements about their land and the
// restrictions on it, as far as they stand there: see registry.LandTold. It
// returns what was changed beside the landowner, nothing if that was done
// already. What else may name them is not searched. It is fault.Conflict, code
// OnHold, while a legal hold suspends it.
func (s *Service) EraseLandowner(ctx context.Context, who registry.Actor, id uuid.UUID, reason string) (registry.LandTold, error) {
	var done registry.LandTold
	if err := may(who, EraseLandowner); err != nil {
		return done, err
	}
	e, err := s.newErasure(ctx, registry.Erasure{LandownerID: &id, Reason: reason})
	if err != nil {
		return done, err
	}
	asOf := s.AsOf(who)
	err = s.store.EraseLandowner(ctx, who, e, asOf, func(t registry.LandTold) registry.LandTold {
		done = t.Unnamed(asOf)
		return done
	})
	return done, err
}

// newErasure makes the record of an erasure.
func (s *Service) newErasure(ctx context.Context, e registry.Erasure) (registry.Erasure, error) {
	e.ID, e.Reason, e.At = newID(), tidy(e.Reason), s.instant()
	if err := e.Validate(); err != nil {
		return e, err
	}
	return e, Objection(ctx)
}

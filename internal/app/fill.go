package app

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// Enter stores new places, anchors and records as they are, such as those of
// an invented scenario, and assesses what has become stale by it. It asks for
// the right to import.
func (s *Service) Enter(ctx context.Context, who registry.Actor, c registry.Change) error {
	if err := may(who, ImportList); err != nil {
		return err
	}
	err := s.store.Intake(ctx, who, registry.Wanted{}, func(registry.Known, houserules.Rules) (registry.Change, error) { return c, nil })
	if err != nil {
		return fmt.Errorf("enter %s: %w", c.What, err)
	}
	return s.refreshGroup(ctx, who)
}

// RecordInspections stores the inspections of one round in one transaction:
// all of them or none. Each is checked as by RecordInspection; the anchors are
// different ones.
func (s *Service) RecordInspections(ctx context.Context, who registry.Actor, round []registry.Inspection) error {
	if err := may(who, RecordInspection); err != nil {
		return err
	}
	asOf, at := s.AsOf(who), s.instant()
	anchors := make([]uuid.UUID, len(round))
	for i := range round {
		round[i].Origin, round[i].RecordedAt = registry.Recorded, at
		if err := round[i].Validate(asOf); err != nil {
			return fmt.Errorf("record inspection %d of the round: %w", i+1, err)
		}
		anchors[i] = round[i].AnchorID
	}
	return s.store.Change(ctx, who, anchors, func(all []registry.Facts, rules houserules.Rules) (registry.Change, error) {
		c := registry.Change{What: inspections.what, At: at, Inspections: round}
		for i, f := range all {
			_, _, err := inspections.add(&f, round[i])
			if err == nil {
				err = inspections.admit(&scene{who: who, facts: &all[i], rules: rules, asOf: asOf}, &round[i])
			}
			if err != nil {
				return registry.Change{}, err
			}
			c.Assessments = append(c.Assessments, assess.Anchor(f.Current(), rules, asOf))
		}
		return c, nil
	})
}

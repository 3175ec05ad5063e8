package app

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// chunk is how many anchors one transaction re-assesses.
const chunk = 500

// maxStuck is how often in a row the same anchors may come back as stale
// before refreshing gives up: other members may be changing them.
const maxStuck = 5

// Refresh assesses anew what is stale, group by group: never assessed, queued
// by a change, past the last day of the assessment, or made by another engine
// or other house rules. An error in one group does not keep the others from
// being refreshed; all errors are returned together.
func (s *Service) Refresh(ctx context.Context) error {
	groups, err := s.store.Groups(ctx)
	if err != nil {
		return fmt.Errorf("list groups: %w", err)
	}
	var errs []error
	for _, g := range groups {
		if ctx.Err() != nil {
			return errors.Join(append(errs, ctx.Err())...)
		}
		who := registry.Actor{GroupID: g.ID, Group: g.Slug, TimeZone: g.TimeZone, Role: registry.RoleOwner, Who: "refresh"}
		errs = append(errs, s.refreshGroup(ctx, who))
	}
	return errors.Join(errs...)
}

// refreshGroup assesses anew what is stale today in who's group.
func (s *Service) refreshGroup(ctx context.Context, who registry.Actor) error {
	asOf := s.AsOf(who)
	var before []uuid.UUID
	for stuck := 0; stuck < maxStuck; {
		stale, err := s.store.Stale(ctx, who.GroupID, assess.Engine, asOf, chunk)
		if err != nil {
			return fmt.Errorf("list stale anchors of %s: %w", who.Group, err)
		}
		if len(stale) == 0 {
			return nil
		}
		if err := s.reassess(ctx, who, stale, asOf); err != nil {
			return fmt.Errorf("refresh %s: %w", who.Group, err)
		}
		if slices.Equal(stale, before) {
			stuck++
		}
		before = stale
	}
	return fault.New(fault.Internal, "refresh %s: the same anchors stay stale, first %v", who.Group, before[0])
}

// freshen assesses anew what a change has made stale, if that is little enough
// to be done at once. More is left to Refresh, and so is what goes wrong here:
// the change is made, and what is stale stays queued.
func (s *Service) freshen(ctx context.Context, who registry.Actor) {
	asOf := s.AsOf(who)
	stale, err := s.store.Stale(ctx, who.GroupID, assess.Engine, asOf, chunk+1)
	if err == nil && len(stale) > 0 && len(stale) <= chunk {
		_ = s.reassess(ctx, who, stale, asOf)
	}
}

// reassess stores fresh assessments of the given anchors.
func (s *Service) reassess(ctx context.Context, who registry.Actor, anchors []uuid.UUID, asOf calendar.Date) error {
	at := s.instant()
	return s.store.Change(ctx, who, anchors, func(all []registry.Facts, rules houserules.Rules) (registry.Change, error) {
		c := registry.Change{What: "refresh", At: at, Assessments: make([]registry.Assessment, len(all))}
		for i := range all {
			c.Assessments[i] = assess.Anchor(all[i].Current(), rules, asOf)
		}
		return c, nil
	})
}

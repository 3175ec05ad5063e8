package app

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/sheetcheck"
)

// CureTimes returns what is worked out about the cure of each anchor's latest
// setting, by anchor; see sheetcheck.Cure. One that surely nothing bonds, of
// which no setting is recorded, or only a list tells, is left out, as is one
// that is not there.
func (s *Service) CureTimes(ctx context.Context, who registry.Actor, anchors []uuid.UUID) (map[uuid.UUID]registry.CureTime, error) {
	if err := may(who, GetAnchor); err != nil {
		return nil, err
	}
	times := make(map[uuid.UUID]registry.CureTime, len(anchors))
	err := s.eachSetting(ctx, who, anchors, func(f *registry.Facts, r *houserules.Rules) {
		if t, bonded := sheetcheck.Cure(f, r); bonded {
			times[f.Anchor.ID] = t
		}
	})
	if err != nil {
		return nil, fmt.Errorf("cure times of %d anchors: %w", len(anchors), err)
	}
	return times, nil
}

// SettingFindings returns what the sheet check holds against each anchor's
// latest setting, as far as it weighs (watch or worse, and settled by nobody),
// by anchor; see sheetcheck.Check. An anchor without a recorded setting or
// without such a finding is left out, as is one that is not there.
func (s *Service) SettingFindings(ctx context.Context, who registry.Actor, anchors []uuid.UUID) (map[uuid.UUID][]registry.Finding, error) {
	if err := may(who, GetAnchor); err != nil {
		return nil, err
	}
	asOf, held := s.AsOf(who), make(map[uuid.UUID][]registry.Finding)
	err := s.eachSetting(ctx, who, anchors, func(f *registry.Facts, r *houserules.Rules) {
		for _, found := range sheetcheck.Check(f, r, asOf) {
			if found.Weighs().Rank() >= registry.Watch.Rank() {
				held[f.Anchor.ID] = append(held[f.Anchor.ID], found)
			}
		}
	})
	if err != nil {
		return nil, fmt.Errorf("findings on the settings of %d anchors: %w", len(anchors), err)
	}
	return held, nil
}

// eachSetting calls do with the facts that count of each anchor of which a
// setting is recorded here, and the house rules.
func (s *Service) eachSetting(ctx context.Context, who registry.Actor, anchors []uuid.UUID, do func(*registry.Facts, *houserules.Rules)) error {
	if len(anchors) == 0 {
		return nil
	}
	known, err := s.store.Facts(ctx, who.GroupID, anchors)
	if err != nil {
		return err
	}
	rules, err := s.store.Rules(ctx, who.GroupID)
	if err != nil {
		return err
	}
	for _, facts := range known {
		f := facts.Current()
		if i := f.Setting(); i != nil && i.Origin == registry.Recorded {
			do(&f, &rules)
		}
	}
	return nil
}

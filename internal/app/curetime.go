package app

import (
	"context"
	"fmt"

	"github.com/google/uuid"

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
	if len(anchors) == 0 {
		return times, nil
	}
	known, err := s.store.Facts(ctx, who.GroupID, anchors)
	if err != nil {
		return nil, fmt.Errorf("cure times of %d anchors: %w", len(anchors), err)
	}
	rules, err := s.store.Rules(ctx, who.GroupID)
	if err != nil {
		return nil, fmt.Errorf("cure times of %d anchors: %w", len(anchors), err)
	}
	for id, facts := range known {
		f := facts.Current()
		if i := f.Setting(); i == nil || i.Origin != registry.Recorded {
			continue
		}
		if t, bonded := sheetcheck.Cure(&f, &rules); bonded {
			times[id] = t
		}
	}
	return times, nil
}

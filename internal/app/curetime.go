package app

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// CureTimes returns what is worked out about the cure of each anchor's setting,
// by anchor; one that nothing bonds, or of which no setting is recorded, is left
// out. Until product sheets are read, no time can be given for any.
func (s *Service) CureTimes(_ context.Context, who registry.Actor, anchors []uuid.UUID) (map[uuid.UUID]registry.CureTime, error) {
	if err := may(who, GetAnchor); err != nil {
		return nil, err
	}
	times := make(map[uuid.UUID]registry.CureTime, len(anchors))
	for _, id := range anchors {
		times[id] = registry.CureTime{Basis: registry.CureNone, Missing: "no-sheet"}
	}
	return times, nil
}

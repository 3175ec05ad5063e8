package app

import (
	"context"
	"fmt"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// EvidenceStore is the part of Store that reads the log of changes.
type EvidenceStore interface {
	// Evidence returns what the log tells of one anchor, cut by known, which
	// says of an instant whether the cut lies after it; or fault.NotFound. More
	// than can be told whole is fault.TooLarge.
	Evidence(ctx context.Context, group, anchor uuid.UUID, known func(at time.Time) bool) (registry.Evidence, error)
}

// Evidence says what the register knew and showed of an anchor at the end of a
// day in the group's time zone, and what was done after it. What counts is when
// something was recorded here, not when it happened. Nothing is refreshed by
// asking.
//
// No day, or one ahead of today, is fault.Invalid; an anchor that is not there
// is fault.NotFound. Of a day before the anchor was entered it says that the
// register knew nothing.
func (s *Service) Evidence(ctx context.Context, who registry.Actor, anchor uuid.UUID, day calendar.Date) (report.Evidence, error) {
	if err := may(who, GetEvidence); err != nil {
		return report.Evidence{}, err
	}
	today := s.AsOf(who)
	var c fault.Checks
	c.Require(!day.IsZero(), "as_known_on", fault.Required)
	c.Require(day <= today, "as_known_on", fault.DateAhead, "today", today.String())
	if err := c.Err(); err != nil {
		return report.Evidence{}, fmt.Errorf("evidence about anchor %v: %w", anchor, err)
	}
	zone := s.location(who.TimeZone)
	log, err := s.store.Evidence(ctx, who.GroupID, anchor, func(at time.Time) bool { return calendar.On(at, zone) <= day })
	if err != nil {
		return report.Evidence{}, fmt.Errorf("evidence about anchor %v: %w", anchor, err)
	}
	seal, err := s.newestSeal(ctx, who)
	if err != nil {
		return report.Evidence{}, fmt.Errorf("evidence about anchor %v: %w", anchor, err)
	}
	e := report.Evidence{
		Group: who.Group, MadeAt: s.instant(), TimeZone: zone.String(), AnchorID: anchor, KnownOn: day, Log: log, Shown: log.Shown(), Seal: seal,
	}
	e.Overdue = e.Shown != nil && !e.Shown.DueOn.IsZero() && e.Shown.DueOn < day
	return e, nil
}

package app

import (
	"context"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// reach is the group's restrictions and which positions each is about.
type reach struct {
	byID map[uuid.UUID]*registry.Restriction
	at   map[uuid.UUID][]uuid.UUID // position -> restrictions
}

// restrictionReach reads the group's restrictions; where there are none it does
// not ask for positions.
func (s *Service) restrictionReach(ctx context.Context, who registry.Actor) (reach, error) {
	list, err := s.allRestrictions(ctx, who)
	if err != nil || len(list) == 0 {
		return reach{}, err
	}
	r := reach{byID: make(map[uuid.UUID]*registry.Restriction, len(list))}
	for i := range list {
		r.byID[list[i].ID] = &list[i]
	}
	r.at, err = s.store.RestrictionReach(ctx, who.GroupID)
	return r, err
}

func (s *Service) allRestrictions(ctx context.Context, who registry.Actor) ([]registry.Restriction, error) {
	return all(func(page registry.Page) ([]registry.Restriction, error) {
		return s.store.Restrictions(ctx, who.GroupID, page)
	}, func(r *registry.Restriction) uuid.UUID { return r.ID })
}

// Kinds of restriction that bar an inspection, and those that bar work with
// drill and hammer.
var (
	barInspection = []registry.RestrictionKind{registry.NoEntry, registry.NoClimbing}
	barDrilling   = registry.RestrictionKinds()
)

// fill names on a line what bars its due date, of the kinds that matter, and the
// last day before it that nothing bars.
func (r reach) fill(l *registry.ReportLine, kinds []registry.RestrictionKind) {
	l.Restrictions, l.LastOpenDay = nil, 0
	due := l.Assessment.DueOn
	var here []*registry.Restriction
	for _, id := range r.at[l.Place.Anchor.PositionID] {
		if n := r.byID[id]; n != nil && slices.Contains(kinds, n.Kind) {
			here = append(here, n)
		}
	}
	for _, n := range here {
		if !due.IsZero() && n.Bars(due) {
			l.Restrictions = append(l.Restrictions, *n)
		}
	}
	if len(l.Restrictions) > 0 {
		l.LastOpenDay = lastOpenDay(due, here)
	}
}

// lastOpenDay returns the last day before due that none of the restrictions
// bars; zero if there is none in nine years.
func lastOpenDay(due calendar.Date, here []*registry.Restriction) calendar.Date {
	for day := due - 1; day > due-longestGap; day-- {
		if !slices.ContainsFunc(here, func(n *registry.Restriction) bool { return n.Bars(day) }) {
			return day
		}
	}
	return 0
}

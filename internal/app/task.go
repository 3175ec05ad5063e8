package app

import (
	"cmp"
	"context"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// soonDays is how many days ahead a restriction is about to begin.
//
// Source: judgement of this project.
const soonDays = 30

// tasks lists what is to be found out about sites, one task a site, by the
// site's name.
func (s *Service) tasks(ctx context.Context, who registry.Actor, asOf calendar.Date) ([]report.Task, error) {
	blank, err := s.store.SitesWithoutEnvironment(ctx, who.GroupID, asOf)
	if err != nil {
		return nil, err
	}
	far, err := s.store.SitesWithoutSource(ctx, who.GroupID, asOf)
	if err != nil {
		return nil, err
	}
	var out []report.Task
	named := make(map[uuid.UUID]bool)
	for _, site := range blank {
		out = append(out, report.Task{Kind: report.TaskEnvironment, Site: site})
		named[site.ID] = true
	}
	for _, site := range far {
		if !named[site.ID] {
			out = append(out, report.Task{Kind: report.TaskSeaDistance, Site: site})
		}
	}
	slices.SortStableFunc(out, func(a, b report.Task) int { return cmp.Compare(a.Site.Name, b.Site.Name) })
	return out, nil
}

// upcoming lists the restrictions that begin within 30 days after asOf, the
// soonest first.
func (s *Service) upcoming(ctx context.Context, who registry.Actor, asOf calendar.Date) ([]report.Upcoming, error) {
	list, err := s.allRestrictions(ctx, who)
	if err != nil {
		return nil, err
	}
	var out []report.Upcoming
	for i := range list {
		begins := begins(&list[i], asOf)
		if begins.IsZero() {
			continue
		}
		where, err := s.whereOf(ctx, who, &list[i])
		if err != nil {
			return nil, err
		}
		out = append(out, report.Upcoming{Restriction: list[i], Where: where, BeginsOn: begins})
	}
	slices.SortStableFunc(out, func(a, b report.Upcoming) int { return cmp.Compare(a.BeginsOn, b.BeginsOn) })
	return out, nil
}

// begins returns the first day after asOf, within 30, that a restriction bars
// and that follows one it does not bar; zero if there is none.
func begins(r *registry.Restriction, asOf calendar.Date) calendar.Date {
	for day := asOf + 1; day <= asOf+soonDays; day++ {
		if r.Bars(day) && !r.Bars(day-1) {
			return day
		}
	}
	return 0
}

// whereOf names the place or parcel of a restriction: "Left Wall, Tarn Edge".
func (s *Service) whereOf(ctx context.Context, who registry.Actor, r *registry.Restriction) (string, error) {
	if r.Place == nil {
		p, err := s.store.Parcel(ctx, who.GroupID, deref(r.ParcelID))
		return p.Name, err
	}
	name, site, err := s.placeName(ctx, who, *r.Place)
	if err != nil || name == "" {
		return site, err
	}
	return name + ", " + site, nil
}

// placeName returns a place's name, blank for a site, and its site's.
func (s *Service) placeName(ctx context.Context, who registry.Actor, at registry.Place) (name, site string, err error) {
	id := at.ID
	switch at.Kind {
	case registry.AtSector:
		n, failed := s.store.Sector(ctx, who.GroupID, at.ID)
		name, id, err = n.Name, n.SiteID, failed
	case registry.AtRoute:
		n, failed := s.store.Route(ctx, who.GroupID, at.ID)
		name, id, err = n.Name, n.SiteID, failed
	case registry.AtPosition:
		n, failed := s.store.Position(ctx, who.GroupID, at.ID)
		name, id, err = n.Label, n.SiteID, failed
	}
	if err != nil {
		return "", "", err
	}
	n, err := s.store.Site(ctx, who.GroupID, id)
	return name, n.Name, err
}

package app

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Assemblies lists assemblies, of one site if site is given.
func (s *Service) Assemblies(ctx context.Context, who registry.Actor, site *uuid.UUID, page registry.Page) ([]registry.Assembly, error) {
	return list(who, ListAssemblies, page, func(p registry.Page) ([]registry.Assembly, error) {
		return s.store.Assemblies(ctx, who.GroupID, site, p)
	})
}

// Assembly returns one assembly, or fault.NotFound.
func (s *Service) Assembly(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Assembly, error) {
	return one(who, GetAssembly, func() (registry.Assembly, error) { return s.store.Assembly(ctx, who.GroupID, id) })
}

// Fittings lists the fittings of one anchor, those taken off too. An anchor
// that is not there is fault.NotFound.
func (s *Service) Fittings(ctx context.Context, who registry.Actor, anchor uuid.UUID, page registry.Page) ([]registry.Fitting, error) {
	return list(who, ListFittings, page, func(p registry.Page) ([]registry.Fitting, error) {
		found, err := s.store.Fittings(ctx, who.GroupID, anchor, p)
		if err == nil && len(found) == 0 {
			_, err = s.store.AnchorStory(ctx, who.GroupID, anchor)
		}
		return found, err
	})
}

// Fitting returns one fitting, or fault.NotFound.
func (s *Service) Fitting(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Fitting, error) {
	return one(who, GetFitting, func() (registry.Fitting, error) { return s.store.Fitting(ctx, who.GroupID, id) })
}

// Persons lists the group's people.
func (s *Service) Persons(ctx context.Context, who registry.Actor, page registry.Page) ([]registry.Person, error) {
	return list(who, ListPersons, page, func(p registry.Page) ([]registry.Person, error) {
		return s.store.Persons(ctx, who.GroupID, p)
	})
}

// Person returns one person, or fault.NotFound.
func (s *Service) Person(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Person, error) {
	return one(who, GetPerson, func() (registry.Person, error) { return s.store.Person(ctx, who.GroupID, id) })
}

// Landowners lists landowners, with their contacts for owners only.
func (s *Service) Landowners(ctx context.Context, who registry.Actor, page registry.Page) ([]registry.Landowner, error) {
	return list(who, ListLandowners, page, func(p registry.Page) ([]registry.Landowner, error) {
		found, err := s.store.Landowners(ctx, who.GroupID, p)
		for i := range found {
			found[i] = seenBy(who, found[i])
		}
		return found, err
	})
}

// Landowner returns one landowner, with its contact for owners only, or
// fault.NotFound.
func (s *Service) Landowner(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Landowner, error) {
	return one(who, GetLandowner, func() (registry.Landowner, error) {
		n, err := s.store.Landowner(ctx, who.GroupID, id)
		return seenBy(who, n), err
	})
}

// Parcels lists parcels with their areas, of one landowner if one is given.
func (s *Service) Parcels(ctx context.Context, who registry.Actor, landowner *uuid.UUID, page registry.Page) ([]registry.Parcel, error) {
	return list(who, ListParcels, page, func(p registry.Page) ([]registry.Parcel, error) {
		found, err := s.store.Parcels(ctx, who.GroupID, landowner, p)
		for i := range found {
			measure(&found[i])
		}
		return found, err
	})
}

// Parcel returns one parcel with its area, or fault.NotFound.
func (s *Service) Parcel(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Parcel, error) {
	return one(who, GetParcel, func() (registry.Parcel, error) { return readParcel(s.store, ctx, who.GroupID, id) })
}

// Agreements lists agreements, of one landowner if one is given.
func (s *Service) Agreements(ctx context.Context, who registry.Actor, landowner *uuid.UUID, page registry.Page) ([]registry.Agreement, error) {
	return list(who, ListAgreements, page, func(p registry.Page) ([]registry.Agreement, error) {
		return s.store.Agreements(ctx, who.GroupID, landowner, p)
	})
}

// Agreement returns one agreement, or fault.NotFound.
func (s *Service) Agreement(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Agreement, error) {
	return one(who, GetAgreement, func() (registry.Agreement, error) { return s.store.Agreement(ctx, who.GroupID, id) })
}

// Restrictions lists restrictions.
func (s *Service) Restrictions(ctx context.Context, who registry.Actor, page registry.Page) ([]registry.Restriction, error) {
	return list(who, ListRestrictions, page, func(p registry.Page) ([]registry.Restriction, error) {
		return s.store.Restrictions(ctx, who.GroupID, p)
	})
}

// Restriction returns one restriction, or fault.NotFound.
func (s *Service) Restriction(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Restriction, error) {
	return one(who, GetRestriction, func() (registry.Restriction, error) { return s.store.Restriction(ctx, who.GroupID, id) })
}

// RestrictionsAt lists the restrictions that a position lies under: its own and
// those of its routes, sector, site and parcel.
func (s *Service) RestrictionsAt(ctx context.Context, who registry.Actor, position uuid.UUID) ([]registry.Restriction, error) {
	return one(who, ListRestrictions, func() ([]registry.Restriction, error) {
		return s.store.RestrictionsAt(ctx, who.GroupID, position)
	})
}

// Environments lists statements about the climate, of one site if site is
// given.
func (s *Service) Environments(ctx context.Context, who registry.Actor, site *uuid.UUID, page registry.Page) ([]registry.Environment, error) {
	return list(who, ListEnvironments, page, func(p registry.Page) ([]registry.Environment, error) {
		return s.store.Environments(ctx, who.GroupID, site, p)
	})
}

// Environment returns one statement about the climate, or fault.NotFound.
func (s *Service) Environment(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Environment, error) {
	return one(who, GetEnvironment, func() (registry.Environment, error) { return s.store.Environment(ctx, who.GroupID, id) })
}

// EnvironmentAt says, field by field, in which climate a position sits on a
// day, and which statement about which place each field comes from; zero is
// today. A position that is not there is fault.NotFound.
func (s *Service) EnvironmentAt(ctx context.Context, who registry.Actor, position uuid.UUID, asOf calendar.Date) ([]registry.EnvironmentField, error) {
	return one(who, GetPositionEnvironment, func() ([]registry.EnvironmentField, error) {
		if _, err := s.store.Position(ctx, who.GroupID, position); err != nil {
			return nil, err
		}
		if asOf.IsZero() {
			asOf = s.AsOf(who)
		}
		found, err := s.store.EnvironmentsAt(ctx, who.GroupID, position)
		return registry.ExplainEnvironment(found, asOf), err
	})
}

// Events lists what befell sites, of one site if site is given.
func (s *Service) Events(ctx context.Context, who registry.Actor, site *uuid.UUID, page registry.Page) ([]registry.Event, error) {
	return list(who, ListEvents, page, func(p registry.Page) ([]registry.Event, error) {
		return s.store.Events(ctx, who.GroupID, site, p)
	})
}

// Event returns one event, or fault.NotFound.
func (s *Service) Event(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Event, error) {
	return one(who, GetEvent, func() (registry.Event, error) { return s.store.Event(ctx, who.GroupID, id) })
}

// Notices lists recalls and warnings.
func (s *Service) Notices(ctx context.Context, who registry.Actor, page registry.Page) ([]registry.Notice, error) {
	return list(who, ListNotices, page, func(p registry.Page) ([]registry.Notice, error) {
		return s.store.Notices(ctx, who.GroupID, p)
	})
}

// Notice returns one notice, or fault.NotFound.
func (s *Service) Notice(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Notice, error) {
	return one(who, GetNotice, func() (registry.Notice, error) { return s.store.Notice(ctx, who.GroupID, id) })
}

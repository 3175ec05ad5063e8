package app

import (
	"context"
	"fmt"
	"reflect"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// AddFitting stores what newly hangs on an anchor, by the terms of AddSite, and
// assesses the anchor anew. Its metal is read from its words if it names none.
// An anchor that is not there is fault.NotFound.
func (s *Service) AddFitting(ctx context.Context, who registry.Actor, n registry.Fitting) (stored registry.Fitting, created bool, err error) {
	var none registry.Fitting
	if err := may(who, AddFitting); err != nil {
		return none, false, err
	}
	if n.Version = 0; n.ID == uuid.Nil {
		n.ID = newID()
	}
	n.Metal = metalOf(n.Metal, n.MetalWords)
	d := s.newDesk(ctx, who)
	checkFittingProduct(d, "", &n)
	err = s.changeFittings(ctx, who, n.AnchorID, "fitting added", func(list []registry.Fitting, asOf calendar.Date) ([]registry.Fitting, *registry.Fitting, error) {
		if i := fittingIn(list, n.ID); i >= 0 {
			stored, created = list[i], false
			return list, nil, sameFitting(list[i], n)
		}
		stored, created = n, true
		stored.Version = 1
		d.Nest("", checkFitting(&n, asOf))
		return append(slices.Clone(list), n), &n, d.Err()
	})
	if err != nil {
		return none, false, fmt.Errorf("add fitting of anchor %v: %w", n.AnchorID, err)
	}
	return stored, created, nil
}

// ChangeFitting changes a fitting, by the terms of ChangeSite, and assesses its
// anchor anew. Its anchor stays.
func (s *Service) ChangeFitting(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Fitting) error) (registry.Fitting, error) {
	var stored registry.Fitting
	if err := may(who, ChangeFitting); err != nil {
		return stored, err
	}
	n, err := s.store.Fitting(ctx, who.GroupID, id)
	if err == nil {
		err = s.changeFittings(ctx, who, n.AnchorID, "fitting changed", func(list []registry.Fitting, asOf calendar.Date) ([]registry.Fitting, *registry.Fitting, error) {
			i := fittingIn(list, id)
			if i < 0 {
				return list, nil, fault.New(fault.NotFound, "no fitting %v", id)
			}
			edited, err := editFitting(list[i], version, asOf, edit)
			if err != nil {
				return list, nil, err
			}
			if stored = list[i]; reflect.DeepEqual(edited, stored) {
				return list, nil, nil
			}
			list = slices.Clone(list)
			list[i], stored = edited, edited
			stored.Version++
			return list, &edited, nil
		})
	}
	if err != nil {
		return registry.Fitting{}, fmt.Errorf("change fitting %v: %w", id, err)
	}
	return stored, nil
}

// changeFittings lets decide say which fittings an anchor then has and which of
// them to write, nil for none, and assesses the anchor with them.
func (s *Service) changeFittings(ctx context.Context, who registry.Actor, anchor uuid.UUID, what string,
	decide func([]registry.Fitting, calendar.Date) ([]registry.Fitting, *registry.Fitting, error),
) error {
	asOf, at := s.AsOf(who), s.instant()
	return s.store.Change(ctx, who, []uuid.UUID{anchor}, func(all []registry.Facts, rules houserules.Rules) (registry.Change, error) {
		facts := all[0]
		list, n, err := decide(facts.Fittings, asOf)
		if err != nil || n == nil {
			return registry.Change{}, err
		}
		facts.Fittings = list
		return registry.Change{
			What: what, At: at,
			Fittings:    []registry.Fitting{*n},
			Assessments: []registry.Assessment{assess.Anchor(facts.Current(), rules, asOf)},
		}, nil
	})
}

func fittingIn(list []registry.Fitting, id uuid.UUID) int {
	return slices.IndexFunc(list, func(f registry.Fitting) bool { return f.ID == id })
}

func sameFitting(stored, sent registry.Fitting) error {
	stored.Version = 0
	if reflect.DeepEqual(stored, sent) {
		return nil
	}
	return fault.New(fault.Conflict, "fitting %v is stored with other content", sent.ID)
}

// editFitting returns f with what edit changed, if that can be right.
func editFitting(f registry.Fitting, version int, asOf calendar.Date, edit func(*registry.Fitting) error) (registry.Fitting, error) {
	if f.Version != version {
		return f, fault.New(fault.Stale, "version %d was read, %d is stored", version, f.Version)
	}
	n := f
	n.Metal = slices.Clone(f.Metal)
	if err := edit(&n); err != nil {
		return f, err
	}
	n.ID, n.Version, n.AnchorID = f.ID, f.Version, f.AnchorID
	return n, checkFitting(&n, asOf)
}

func checkFitting(f *registry.Fitting, asOf calendar.Date) error {
	var c fault.Checks
	c.Nest("", f.Validate())
	c.Nest("set_on", f.SetOn.Validate())
	c.Require(f.SetOn.To <= asOf, "set_on", fault.DateAhead, "today", asOf.String())
	c.Require(f.EndedOn <= asOf, "ended_on", fault.DateAhead, "today", asOf.String())
	c.Require(f.EndedOn.IsZero() || f.EndedOn >= f.SetOn.From, "ended_on", fault.Order)
	return c.Err()
}

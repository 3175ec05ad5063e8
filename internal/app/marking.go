package app

import (
	"context"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

var markings = recordKind[registry.Marking]{
	op: RecordMarking, what: "marking",
	record:   func(r *registry.Marking) *registry.Record { return &r.Record },
	validate: (*registry.Marking).Validate,
	facts:    func(f *registry.Facts) *[]registry.Marking { return &f.Markings },
	change:   func(c *registry.Change) *[]registry.Marking { return &c.Markings },
	admit:    admitMarking,
}

// RecordMarking stores what was done at the rock to keep people off an anchor,
// or that it was taken away again, by the terms of RecordInspection. No marking
// changes how the anchor stands. Lifting one while the anchor is out of use takes
// a steward, fault.Forbidden otherwise, and a named person.
func (s *Service) RecordMarking(ctx context.Context, who registry.Actor, r registry.Marking) (stored registry.Marking, created bool, err error) {
	return storeRecord(ctx, s, who, r, markings)
}

// admitMarking wants what is lifted to be a marking of the anchor that stands,
// and a correction to speak of the same: of one put up, or of one lifted.
func admitMarking(at *scene, r *registry.Marking) error {
	f := at.facts
	var c fault.Checks
	inTheRock(&c, &f.Anchor, &r.Record)
	if old := replacedMarking(f, r); old != nil {
		c.Require((old.Lifts == nil) == (r.Lifts == nil), "lifts", fault.Mismatch)
		c.Require(old.Lifts != nil || slices.ContainsFunc(f.Current().StandingMarkings(), func(m registry.Marking) bool { return m.ID == old.ID }),
			"replaces", fault.InUse)
	}
	if r.Lifts == nil {
		return c.Err()
	}
	c.Nest("", admitLifting(at, r))
	return c.Err()
}

// admitLifting wants the marking to stand, and a steward and a named person
// where the anchor is out of use.
func admitLifting(at *scene, r *registry.Marking) error {
	before := *at.facts
	if r.Replaces != nil {
		before.Markings = slices.DeleteFunc(slices.Clone(before.Markings), func(m registry.Marking) bool { return m.ID == *r.Replaces })
	}
	var c fault.Checks
	list := before.Current().StandingMarkings()
	i := slices.IndexFunc(list, func(m registry.Marking) bool { return m.ID == *r.Lifts })
	c.Require(i >= 0, "lifts", fault.NoSuchReference)
	c.Require(i < 0 || r.DoneOn.To >= list[max(i, 0)].DoneOn.From, "done_on", fault.Order)
	if i < 0 || assess.Anchor(at.facts.Current(), at.rules, at.asOf).Standing != registry.StandingOutOfUse {
		return c.Err()
	}
	if least := registry.RoleSteward; at.who.Role.Rank() < least.Rank() {
		return fault.New(fault.Forbidden, "lifting marking %v of an anchor that is out of use takes a %s", *r.Lifts, least).
			With("operation", string(RecordMarking), "role", string(at.who.Role), "least", string(least), "unmarks", "yes")
	}
	c.Require(r.PersonID != nil, "person_id", fault.Required, "unmarks", "yes")
	return c.Err()
}

// replacedMarking finds the record that another corrects; nil: none.
func replacedMarking(f *registry.Facts, r *registry.Marking) *registry.Marking {
	if r.Replaces == nil {
		return nil
	}
	return markingIn(f.Markings, *r.Replaces)
}

func markingIn(list []registry.Marking, id uuid.UUID) *registry.Marking {
	i := slices.IndexFunc(list, func(m registry.Marking) bool { return m.ID == id })
	if i < 0 {
		return nil
	}
	return &list[i]
}

package app

import (
	"context"
	"fmt"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/suspicion"
)

var removals = recordKind[registry.Removal]{
	op: RecordRemoval, what: "removal",
	record:   func(r *registry.Removal) *registry.Record { return &r.Record },
	validate: (*registry.Removal).Validate,
	refer:    checkRemoved,
	facts:    func(f *registry.Facts) *[]registry.Removal { return &f.Removals },
	change:   func(c *registry.Change) *[]registry.Removal { return &c.Removals },
	admit:    admitRemoval,
}

var settlements = recordKind[registry.Settlement]{
	op: RecordSettlement, what: "settlement",
	record:   func(r *registry.Settlement) *registry.Record { return &r.Record },
	validate: (*registry.Settlement).Validate,
	facts:    func(f *registry.Facts) *[]registry.Settlement { return &f.Settlements },
	change:   func(c *registry.Change) *[]registry.Settlement { return &c.Settlements },
	admit:    admitSettlement,
}

var retractions = recordKind[registry.Retraction]{
	op: RecordRetraction, what: "retraction",
	record:   func(r *registry.Retraction) *registry.Record { return &r.Record },
	validate: (*registry.Retraction).Validate,
	refer:    checkReturn,
	facts:    func(f *registry.Facts) *[]registry.Retraction { return &f.Retractions },
	change:   func(c *registry.Change) *[]registry.Retraction { return &c.Retractions },
	admit:    admitRetraction,
}

// RecordRemoval stores how an anchor came out, by the terms of
// RecordInspection: from then on it is removed. Taking the record back, by a
// retraction, undoes that. An anchor that was removed already is fault.Conflict,
// unless the record replaces the one that says so.
func (s *Service) RecordRemoval(ctx context.Context, who registry.Actor, r registry.Removal) (stored registry.Removal, created bool, err error) {
	return storeRecord(ctx, s, who, r, removals)
}

// RecordSettlement stores a named person's answer to one finding, by the terms
// of RecordInspection. The finding must stand against the anchor now, with the
// very values that are settled, and be one that an answer can settle; otherwise
// it is fault.Invalid, field rule.
func (s *Service) RecordSettlement(ctx context.Context, who registry.Actor, r registry.Settlement) (stored registry.Settlement, created bool, err error) {
	return storeRecord(ctx, s, who, r, settlements)
}

// RecordRetraction takes another record of the anchor back, by the terms of
// RecordInspection. A record that the anchor does not have, or that was taken
// back already, is fault.Invalid, field retracts_id; so is a removal after which
// another anchor was set at the position.
func (s *Service) RecordRetraction(ctx context.Context, who registry.Actor, r registry.Retraction) (stored registry.Retraction, created bool, err error) {
	return contested(func() (registry.Retraction, bool, error) { return storeRecord(ctx, s, who, r, retractions) })
}

// admitInspection wants an inspection to be of the time when the anchor was in
// the rock, what was measured to be fittings of it, and one that lifts what put
// the anchor out of use to name who looked.
func admitInspection(at *scene, r *registry.Inspection) error {
	f := at.facts
	var c fault.Checks
	c.Nest("", admitCorrection(at, r))
	inTheRock(&c, &f.Anchor, &r.Record)
	c.Require(r.PersonID != nil || r.Replaces != nil || !at.lifts(r), "person_id", fault.Required, "lifts", "yes")
	for i, m := range r.Measured {
		c.Require(m.FittingID == nil || fittingIn(f.Fittings, *m.FittingID) >= 0,
			fmt.Sprintf("measured[%d].fitting_id", i), fault.NoSuchReference)
	}
	return c.Err()
}

// admitRemoval wants an anchor to be removed once, not before it was set.
func admitRemoval(at *scene, r *registry.Removal) error {
	f := at.facts
	if f.Anchor.Removed && r.Replaces == nil {
		return fault.New(fault.Conflict, "anchor %v is removed already", f.Anchor.ID)
	}
	var c fault.Checks
	stands := f.Anchor
	stands.Removed = false // by the record that is replaced
	inTheRock(&c, &stands, &r.Record)
	return c.Err()
}

// checkRemoved wants a corrected removal not to be wholly after the next anchor
// was set at the position. An anchor that is not there is found missing later.
func checkRemoved(d *desk, r *registry.Removal) {
	if r.Replaces == nil {
		return
	}
	story, err := d.s.store.AnchorStory(d.ctx, d.who.GroupID, r.AnchorID)
	if err != nil {
		if fault.KindOf(err) != fault.NotFound {
			d.Nest("", err)
		}
		return
	}
	gone := &story.Facts.Anchor
	for i := range story.Others {
		if next := &story.Others[i]; cameAfter(next, gone) && next.SetOn.Known() && r.DoneOn.From > next.SetOn.To {
			d.Require(false, "done_on", fault.Order, uncertain("next_set_on", next.SetOn.To, next.SetOn)...)
			return
		}
	}
}

// cameAfter says whether an anchor came to its position after one that was removed:
// it stands there, or was set no earlier than the other came out.
func cameAfter(next, gone *registry.Anchor) bool {
	if next.Mistaken {
		return false
	}
	return !next.Removed || gone.RemovedOn.Known() && next.SetOn.Known() && next.SetOn.To >= gone.RemovedOn.From
}

// admitSettlement wants the finding to stand with the values that are settled,
// and to be one that an answer can settle.
func admitSettlement(at *scene, r *registry.Settlement) error {
	now := assess.Anchor(at.facts.Current(), at.rules, at.asOf)
	open := *r
	open.Until = 0
	stands := slices.ContainsFunc(now.Findings, func(found registry.Finding) bool { return open.Answers(&found, at.asOf) })
	settleable := suspicion.Settleable(r.Rule)
	var c fault.Checks
	c.Require(settleable, "rule", fault.NotAllowed, "rule", r.Rule)
	c.Require(stands || !settleable || r.Rule == "", "rule", fault.NoSuchFinding)
	c.Require(r.Until.IsZero() || r.Until >= at.asOf, "until", fault.OutOfRange, "from", at.asOf.String())
	return c.Err()
}

// admitRetraction wants the record taken back to be the anchor's, and to count,
// and an anchor that was set here to keep a record of how: see frees.
func admitRetraction(at *scene, r *registry.Retraction) error {
	f := at.facts
	var c fault.Checks
	has := slices.Contains(recordIDs(f), r.RetractsID)
	c.Require(has || r.RetractsID == uuid.Nil, "retracts_id", fault.NoSuchReference)
	current := f.Current()
	current.Retractions = standing(f.Retractions)
	c.Require(!has || slices.Contains(recordIDs(&current), r.RetractsID), "retracts_id", fault.Duplicate)
	c.Require(!at.frees(r), "retracts_id", fault.NotAllowed, "first_use", "not-allowed")
	return c.Err()
}

// checkReturn wants the position to be vacant where a retraction puts its anchor
// back into the rock. An anchor that is not there is found missing later.
func checkReturn(d *desk, r *registry.Retraction) {
	story, err := d.s.store.AnchorStory(d.ctx, d.who.GroupID, r.AnchorID)
	if err != nil {
		if fault.KindOf(err) != fault.NotFound {
			d.Nest("", err)
		}
		return
	}
	after := story.Facts
	after.Retractions = append(slices.Clone(after.Retractions), *r)
	if len(story.Facts.Current().Removals) > 0 && len(after.Current().Removals) == 0 {
		d.vacant("retracts_id", story.Facts.Anchor.PositionID, "returns")
	}
}

// standing lists the retractions that no other takes back.
func standing(list []registry.Retraction) []registry.Retraction {
	return slices.DeleteFunc(slices.Clone(list), func(r registry.Retraction) bool {
		return slices.ContainsFunc(list, func(o registry.Retraction) bool { return o.RetractsID == r.ID })
	})
}

// recordIDs lists the ids of all records of an anchor.
func recordIDs(f *registry.Facts) []uuid.UUID {
	return slices.Concat(
		idsOf(f.Installations, installations.record), idsOf(f.Cures, cures.record), idsOf(f.FirstUses, firstUses.record),
		idsOf(f.Inspections, func(r *registry.Inspection) *registry.Record { return &r.Record }),
		idsOf(f.Maintenance, maintenances.record), idsOf(f.Markings, markings.record),
		removalIDs(f.Removals),
		idsOf(f.Settlements, func(r *registry.Settlement) *registry.Record { return &r.Record }),
		idsOf(f.Retractions, func(r *registry.Retraction) *registry.Record { return &r.Record }),
	)
}

func removalIDs(list []registry.Removal) []uuid.UUID {
	return idsOf(list, func(r *registry.Removal) *registry.Record { return &r.Record })
}

func idsOf[R any](list []R, record func(*R) *registry.Record) []uuid.UUID {
	out := make([]uuid.UUID, len(list))
	for i := range list {
		out[i] = record(&list[i]).ID
	}
	return out
}

// removeOrReturn lets the anchor be removed, or stand in the rock again, where
// new records have it so.
func removeOrReturn(before, after *registry.Facts, c *registry.Change) {
	was, is := before.Current().Removals, after.Current().Removals
	if slices.Equal(removalIDs(was), removalIDs(is)) {
		return
	}
	a := after.Anchor
	if a.Removed, a.RemovedOn = false, (calendar.Span{}); len(is) > 0 {
		a.Removed, a.RemovedOn = true, is[len(is)-1].DoneOn
	}
	after.Anchor = a
	c.Anchors = []registry.Anchor{a}
	if before.Anchor.Removed && !a.Removed {
		c.Vacant = []uuid.UUID{a.PositionID}
	}
}

package app

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// recordKind says how the records of one kind are checked and where facts and
// changes keep them.
type recordKind[R any] struct {
	op       Operation
	what     string // for the ledger
	record   func(*R) *registry.Record
	validate func(*R, calendar.Date) error
	facts    func(*registry.Facts) *[]R
	change   func(*registry.Change) *[]R
}

var inspections = recordKind[registry.Inspection]{
	op: RecordInspection, what: "inspection",
	record:   func(r *registry.Inspection) *registry.Record { return &r.Record },
	validate: (*registry.Inspection).Validate,
	facts:    func(f *registry.Facts) *[]registry.Inspection { return &f.Inspections },
	change:   func(c *registry.Change) *[]registry.Inspection { return &c.Inspections },
}

var installations = recordKind[registry.Installation]{
	op: RecordInstallation, what: "installation",
	record:   func(r *registry.Installation) *registry.Record { return &r.Record },
	validate: (*registry.Installation).Validate,
	facts:    func(f *registry.Facts) *[]registry.Installation { return &f.Installations },
	change:   func(c *registry.Change) *[]registry.Installation { return &c.Installations },
}

var firstUses = recordKind[registry.FirstUse]{
	op: RecordFirstUse, what: "first use",
	record:   func(r *registry.FirstUse) *registry.Record { return &r.Record },
	validate: (*registry.FirstUse).Validate,
	facts:    func(f *registry.Facts) *[]registry.FirstUse { return &f.FirstUses },
	change:   func(c *registry.Change) *[]registry.FirstUse { return &c.FirstUses },
}

// RecordInspection stores what somebody saw at an anchor, and assesses the
// anchor anew. The same id with the same content again answers the stored row
// and created = false; with other content it is fault.Conflict. What cannot be
// right, or points to nothing, is fault.Invalid naming every field; an anchor
// that is not there is fault.NotFound. The record's origin and instant are set
// here.
func (s *Service) RecordInspection(ctx context.Context, who registry.Actor, r registry.Inspection) (stored registry.Inspection, created bool, err error) {
	return storeRecord(ctx, s, who, r, inspections)
}

// RecordInstallation stores how an anchor was set, by the terms of
// RecordInspection.
func (s *Service) RecordInstallation(ctx context.Context, who registry.Actor, r registry.Installation) (stored registry.Installation, created bool, err error) {
	if err := may(who, RecordInstallation); err != nil {
		return registry.Installation{}, false, err
	}
	if err := s.checkGlue(ctx, who, r); err != nil {
		return registry.Installation{}, false, err
	}
	return storeRecord(ctx, s, who, r, installations)
}

// RecordFirstUse stores a named person's word that an anchor may be used, by
// the terms of RecordInspection.
func (s *Service) RecordFirstUse(ctx context.Context, who registry.Actor, r registry.FirstUse) (stored registry.FirstUse, created bool, err error) {
	return storeRecord(ctx, s, who, r, firstUses)
}

// storeRecord keeps one record of kind k and re-assesses its anchor.
func storeRecord[R any](ctx context.Context, s *Service, who registry.Actor, r R, k recordKind[R]) (stored R, created bool, err error) {
	var none R
	if err := may(who, k.op); err != nil {
		return none, false, err
	}
	asOf, at := s.AsOf(who), s.instant()
	rec := k.record(&r)
	rec.Origin, rec.RecordedAt = registry.Recorded, at
	if err := k.validate(&r, asOf); err != nil {
		return none, false, fmt.Errorf("record %s: %w", k.what, err)
	}
	err = s.store.Change(ctx, who, []uuid.UUID{rec.AnchorID}, func(all []registry.Facts, rules houserules.Rules) (registry.Change, error) {
		facts := all[0]
		stored, created, err = k.add(&facts, r)
		if err != nil || !created {
			return registry.Change{}, err
		}
		c := registry.Change{What: k.what, At: at, Assessments: []registry.Assessment{assess.Anchor(facts.Current(), rules, asOf)}}
		*k.change(&c) = []R{r}
		return c, nil
	})
	if err != nil {
		return none, false, fmt.Errorf("record %s of anchor %v: %w", k.what, rec.AnchorID, err)
	}
	return stored, created, nil
}

// add puts r into an anchor's facts. It returns the record as stored and
// whether it is new, or fault.Conflict if other content has its id.
func (k recordKind[R]) add(facts *registry.Facts, r R) (stored R, created bool, err error) {
	list, rec := k.facts(facts), k.record(&r)
	replaces := rec.Replaces == nil
	for _, have := range *list {
		h := k.record(&have)
		if h.ID == rec.ID {
			return have, false, k.same(have, r)
		}
		replaces = replaces || h.ID == *rec.Replaces
	}
	if !replaces {
		var c fault.Checks
		c.Require(false, "replaces", fault.NoSuchReference)
		return r, false, c.Err()
	}
	*list = append(slices.Clone(*list), r)
	return r, true, nil
}

// same returns fault.Conflict unless both records say the same, the instants
// of recording aside.
func (k recordKind[R]) same(stored, sent R) error {
	id := k.record(&stored).ID
	for _, r := range []*R{&stored, &sent} {
		k.record(r).RecordedAt = time.Time{}
		if i, ok := any(r).(*registry.Inspection); ok && len(i.Observations) == 0 {
			i.Observations = nil
		}
	}
	if reflect.DeepEqual(stored, sent) {
		return nil
	}
	return fault.New(fault.Conflict, "record %v is stored with other content", id)
}

// checkGlue wants an installation's adhesive and batch to be there and to go
// together.
func (s *Service) checkGlue(ctx context.Context, who registry.Actor, r registry.Installation) error {
	var c fault.Checks
	glued := r.AdhesiveID != nil
	if glued {
		p, err := s.store.Product(ctx, who.GroupID, *r.AdhesiveID)
		if glued = err == nil; !glued && !missing(&c, "adhesive_id", err) {
			return err
		}
		c.Require(!glued || p.Kind == registry.Adhesive, "adhesive_id", fault.Mismatch)
	}
	if r.BatchID != nil {
		b, err := s.store.Batch(ctx, who.GroupID, *r.BatchID)
		if err != nil && !missing(&c, "batch_id", err) {
			return err
		}
		other := b.ProductID != nil && glued && *b.ProductID != *r.AdhesiveID
		c.Require(!other, "batch_id", fault.Mismatch)
	}
	return c.Err()
}

// missing turns a thing that is not there into a violation of field. It
// reports false for any other error.
func missing(c *fault.Checks, field string, err error) bool {
	if fault.KindOf(err) != fault.NotFound {
		return false
	}
	c.Require(false, field, fault.NoSuchReference)
	return true
}

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
	// refer wants what a record points to beside a person to be there. Nil: it
	// points to nothing else.
	refer  func(*desk, *R)
	facts  func(*registry.Facts) *[]R
	change func(*registry.Change) *[]R
	// anew says that a record may name what is not among the facts before it (a
	// session, a product), so that its anchor is assessed from the facts after it.
	anew bool
	// setting says that records of this kind tell how an anchor was set, so that
	// a correction may lift what is in doubt about that: see lifting.
	setting bool
	// admit returns what is wrong with a record beside the facts it is added
	// to. Nil: nothing can be.
	admit func(at *scene, r *R) error
	// complete fills in what follows from the facts that a record is added to.
	// Nil: nothing does.
	complete func(*registry.Facts, *R)
	// fresh is the fitting that comes with the record; nil, and nil out of it:
	// none.
	fresh func() *registry.Fitting
}

var inspections = recordKind[registry.Inspection]{
	op: RecordInspection, what: "inspection",
	record:   func(r *registry.Inspection) *registry.Record { return &r.Record },
	validate: (*registry.Inspection).Validate,
	facts:    func(f *registry.Facts) *[]registry.Inspection { return &f.Inspections },
	change:   func(c *registry.Change) *[]registry.Inspection { return &c.Inspections },
	admit:    admitInspection,
}

var installations = recordKind[registry.Installation]{
	op: RecordInstallation, what: "installation",
	record:   func(r *registry.Installation) *registry.Record { return &r.Record },
	validate: (*registry.Installation).Validate,
	refer:    checkSetting,
	anew:     true,
	setting:  true,
	facts:    func(f *registry.Facts) *[]registry.Installation { return &f.Installations },
	change:   func(c *registry.Change) *[]registry.Installation { return &c.Installations },
	admit:    admitInstallation,
}

var cures = recordKind[registry.Cure]{
	op: RecordCure, what: "cure",
	record:   func(r *registry.Cure) *registry.Record { return &r.Record },
	validate: (*registry.Cure).Validate,
	facts:    func(f *registry.Facts) *[]registry.Cure { return &f.Cures },
	change:   func(c *registry.Change) *[]registry.Cure { return &c.Cures },
	setting:  true,
	admit:    admitCure,
}

var firstUses = recordKind[registry.FirstUse]{
	op: RecordFirstUse, what: "first use",
	record:   func(r *registry.FirstUse) *registry.Record { return &r.Record },
	validate: (*registry.FirstUse).Validate,
	facts:    func(f *registry.Facts) *[]registry.FirstUse { return &f.FirstUses },
	change:   func(c *registry.Change) *[]registry.FirstUse { return &c.FirstUses },
	setting:  true,
	admit:    admitFirstUse,
}

// scene is what a record is added to: the facts before it, who adds it and when.
type scene struct {
	who   registry.Actor
	facts *registry.Facts
	rules houserules.Rules
	asOf  calendar.Date
	now   time.Time
	zone  *time.Location // of the group
	// session is the one that an installation names; nil: none.
	session *registry.GluingSession
}

// RecordInspection stores what somebody saw at an anchor, and assesses the
// anchor anew. The same id with the same content again answers the stored row
// and created = false; with other content it is fault.Conflict. What cannot be
// right, or points to nothing, is fault.Invalid naming every field; an anchor
// that is not there is fault.NotFound. The record's origin and instant are set
// here.
//
// A correction that holds less against the anchor than the record it replaces,
// where that condemns it or sends it to be repaired, lifts what a person
// decided: it takes a steward, fault.Forbidden otherwise, and a named person who
// looked no less closely.
func (s *Service) RecordInspection(ctx context.Context, who registry.Actor, r registry.Inspection) (stored registry.Inspection, created bool, err error) {
	return storeRecord(ctx, s, who, r, inspections)
}

// RecordInstallation stores how an anchor was set, by the terms of
// RecordInspection. A session that it names must be of the anchor's site. So may
// a correction with which the anchor stands better be made by a steward only, who
// names a person and says why in words; that goes for RecordCure and
// RecordFirstUse too.
func (s *Service) RecordInstallation(ctx context.Context, who registry.Actor, r registry.Installation) (stored registry.Installation, created bool, err error) {
	tidyMoment(&r.SetAt)
	return storeRecord(ctx, s, who, r, installations)
}

// RecordCure stores what somebody found out about the setting of a bonded
// anchor, by the terms of RecordInspection. An installation that it names must be
// one of the anchor's.
func (s *Service) RecordCure(ctx context.Context, who registry.Actor, r registry.Cure) (stored registry.Cure, created bool, err error) {
	tidyMoment(&r.LoadedAt)
	return storeRecord(ctx, s, who, r, cures)
}

// RecordFirstUse stores a named person's word that an anchor may be used, by
// the terms of RecordInspection. Of a bonded anchor that was set here it is
// fault.Invalid without a cure time (fault.CureNotKnown), before that is over
// (fault.CureNotOver, with the instant), without a word on the kept sample, and
// by whoever set it (fault.SamePerson); see admitFirstUse.
func (s *Service) RecordFirstUse(ctx context.Context, who registry.Actor, r registry.FirstUse) (stored registry.FirstUse, created bool, err error) {
	tidyMoment(&r.At)
	return storeRecord(ctx, s, who, r, firstUses)
}

// storeRecord keeps one record of kind k and re-assesses its anchor.
func storeRecord[R any](ctx context.Context, s *Service, who registry.Actor, r R, k recordKind[R]) (stored R, created bool, err error) {
	var none R
	if err := may(who, k.op); err != nil {
		return none, false, err
	}
	at := s.instant()
	rec := k.record(&r)
	rec.Origin, rec.RecordedAt = registry.Recorded, at
	d := s.newDesk(ctx, who)
	k.check(d, &r)
	var lifts lifting
	hands := k.hands(&r)
	judge := func(f registry.Facts, rules houserules.Rules) (registry.Assessment, error) {
		a := assess.Anchor(f.Current(), rules, d.asOf)
		if err := hands.admit(&f, &rules); err != nil {
			return a, err
		}
		return a, lifts.admit(&a)
	}
	decide := func(all []registry.Facts, rules houserules.Rules) (registry.Change, error) {
		facts := all[0]
		if k.complete != nil {
			k.complete(&facts, &r)
		}
		stored, created, err = k.add(&facts, r)
		if err != nil || !created {
			return registry.Change{}, err
		}
		if err := k.beside(d, &all[0], rules, &r); err != nil {
			return registry.Change{}, err
		}
		hands.hold(&all[0], &rules)
		if k.setting {
			lifts = k.lifting(&scene{who: who, facts: &all[0], rules: rules, asOf: d.asOf}, &r)
		}
		c := registry.Change{What: k.what, At: at}
		*k.change(&c) = []R{r}
		removeOrReturn(&all[0], &facts, &c)
		swapFittings(&all[0], &facts, k.newFitting(), &c)
		if k.anew {
			return c, nil
		}
		a, err := judge(facts, rules)
		c.Assessments = []registry.Assessment{a}
		return c, err
	}
	anchors := []uuid.UUID{rec.AnchorID}
	if k.anew {
		err = s.store.ChangeAndAssess(ctx, who, anchors, decide, judge)
	} else {
		err = s.store.Change(ctx, who, anchors, decide)
	}
	if err != nil {
		return none, false, fmt.Errorf("record %s of anchor %v: %w", k.what, rec.AnchorID, err)
	}
	return stored, created, nil
}

// newFitting is the fitting that comes with the record; nil: none.
func (k recordKind[R]) newFitting() *registry.Fitting {
	if k.fresh == nil {
		return nil
	}
	return k.fresh()
}

// check adds what is wrong with a record by itself, or with what it points to,
// to the desk's checks.
func (k recordKind[R]) check(d *desk, r *R) {
	d.Nest("", k.validate(r, d.asOf))
	if by := k.record(r).PersonID; by != nil {
		has(d, "person_id", *by, Store.Person)
	}
	if k.refer != nil {
		k.refer(d, r)
	}
}

// beside returns what check found, and what is wrong with a record beside the
// facts that it is added to.
func (k recordKind[R]) beside(d *desk, f *registry.Facts, rules houserules.Rules, r *R) error {
	var c fault.Checks
	c.Nest("", d.Err())
	replaced := k.record(r).Replaces
	c.Require(replaced == nil || slices.Contains(idsOf(*k.facts(f), k.record), *replaced), "replaces", fault.NoSuchReference)
	once(&c, "replaces", replaced, k.replacing(f, r))
	if k.admit != nil {
		c.Nest("", k.admit(&scene{d.who, f, rules, d.asOf, d.s.instant(), d.s.location(d.who.TimeZone), d.session}, r))
	}
	return c.Err()
}

// add puts r into an anchor's facts. It returns the record as stored and
// whether it is new, or fault.Conflict if other content has its id.
func (k recordKind[R]) add(facts *registry.Facts, r R) (stored R, created bool, err error) {
	list, id := k.facts(facts), k.record(&r).ID
	for _, have := range *list {
		if k.record(&have).ID == id {
			return have, false, k.same(have, r)
		}
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
		switch r := any(r).(type) {
		case *registry.Inspection:
			r.Observations, r.Measured = ordinary(r.Observations), ordinary(r.Measured)
		case *registry.Removal:
			r.Observations = ordinary(r.Observations)
		case *registry.Marking:
			r.How = ordinary(r.How)
		case *registry.Settlement:
			r.Values = ordinary(r.Values)
		}
	}
	if reflect.DeepEqual(stored, sent) {
		return nil
	}
	return fault.New(fault.Conflict, "record %v is stored with other content", id)
}

// ordinary turns an empty list into none.
func ordinary[S ~[]E, E any](list S) S {
	if len(list) == 0 {
		return nil
	}
	return list
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

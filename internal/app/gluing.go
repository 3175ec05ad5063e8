package app

import (
	"context"
	"fmt"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// maxSettings is how many anchors one session may set: far more than one
// cartridge fills.
const maxSettings = 100

// RecordGluing stores a gluing session with the anchors that are new, at their
// positions, and an installation for each anchor, and assesses all of these, in
// one transaction: all of it or nothing. The same ids with the same content again
// answer what is stored and created = false; other content is fault.Conflict.
// What cannot be right, or points to nothing, is fault.Invalid naming every
// field, those of anchors and installations as "installations[2].set_at".
//
// An installation is of an anchor that stands already, or of one of g's own; a
// position takes an anchor by the terms of AddAnchor. What a new anchor leaves
// open of its form, product and day is its installation's. A batch text without
// an id finds that batch of the adhesive, or makes it, the day of receipt not
// known.
//
// A correction is a session that replaces another: it needs no installations of
// its own, and all anchors set in the one that it replaces are assessed anew. One
// with which any of them stands better takes a steward, fault.Forbidden
// otherwise, somebody named in it, and words that say why.
func (s *Service) RecordGluing(ctx context.Context, who registry.Actor, g registry.Gluing) (stored registry.Gluing, created bool, err error) {
	if err := may(who, RecordGluing); err != nil {
		return registry.Gluing{}, false, err
	}
	stored, created, err = s.recordGluing(ctx, who, g)
	if fault.KindOf(err) == fault.Conflict {
		// The same may have come in twice at once, or another session made the
		// batch: look again.
		stored, created, err = s.recordGluing(ctx, who, g)
	}
	if err != nil {
		return registry.Gluing{}, false, fmt.Errorf("record gluing session %v: %w", g.Session.ID, err)
	}
	if created {
		s.freshen(ctx, who)
	}
	return stored, created, nil
}

func (s *Service) recordGluing(ctx context.Context, who registry.Actor, g registry.Gluing) (registry.Gluing, bool, error) {
	t := &gluing{desk: s.newDesk(ctx, who), at: s.instant(), g: g}
	t.settle()
	known, err := s.store.GluingSession(ctx, who.GroupID, t.g.Session.ID)
	if err == nil {
		stored, err := t.again(&known)
		return stored, false, err
	}
	if fault.KindOf(err) != fault.NotFound {
		return registry.Gluing{}, false, err
	}
	t.check()
	if t.unknown {
		return registry.Gluing{}, false, t.Err()
	}
	var lifts lifting
	hands := t.hands()
	judge := func(f registry.Facts, rules houserules.Rules) (registry.Assessment, error) {
		a := assess.Anchor(f.Current(), rules, t.asOf)
		if err := hands.admit(&f, &rules); err != nil {
			return a, err
		}
		return a, lifts.admit(&a)
	}
	err = s.store.ChangeAndAssess(ctx, who, t.standing, func(all []registry.Facts, rules houserules.Rules) (registry.Change, error) {
		if err := t.admit(all); err != nil {
			return registry.Change{}, err
		}
		lifts = t.lifting(all, rules)
		for k := range all {
			hands.hold(&all[k], &rules)
		}
		c := t.also
		c.What, c.At = "gluing session", t.at
		c.Sessions, c.Anchors, c.Installations = []registry.GluingSession{t.g.Session}, t.g.Anchors, t.g.Installations
		return c, nil
	}, judge)
	if err != nil {
		return registry.Gluing{}, false, err
	}
	return t.stored(), true, nil
}

// gluing is one session on its way into the register.
type gluing struct {
	*desk
	at time.Time
	g  registry.Gluing
	// fresh are the anchors that are new, by id; standing those that are not: of
	// the installations, and of the session that this one replaces.
	fresh    map[uuid.UUID]*registry.Anchor
	lent     map[uuid.UUID][]string // fields that new anchors have of their installations
	standing []uuid.UUID
	unknown  bool // an anchor is not there, so that nothing can be locked
	// was are the words of the session that this one replaces.
	was registry.GluingSession
}

// settle sets what is not the sender's to say, and what the parts leave to each
// other.
func (t *gluing) settle() {
	g := &t.g
	g.Anchors, g.Installations = cloned(g.Anchors), cloned(g.Installations)
	s := &g.Session
	s.Origin, s.RecordedAt = registry.Recorded, t.at
	tidyMoment(&s.OpenedAt)
	t.lent = make(map[uuid.UUID][]string)
	t.fresh = make(map[uuid.UUID]*registry.Anchor, len(g.Anchors))
	for k := range g.Anchors {
		a := &g.Anchors[k]
		a.Version, a.Origin, a.EnteredOn, a.Mistaken = 0, registry.Recorded, t.asOf, false
		a.Removed, a.RemovedOn = false, calendar.Span{}
		newAnchors.tidy(a)
		t.fresh[a.ID] = a
	}
	for k := range g.Installations {
		t.settleInstallation(&g.Installations[k])
	}
}

func (t *gluing) settleInstallation(i *registry.Installation) {
	s := &t.g.Session
	i.SessionID, i.Origin, i.RecordedAt = &s.ID, registry.Recorded, t.at
	tidyMoment(&i.SetAt)
	if !i.DoneOn.Known() && i.DoneOn.Words == "" {
		i.DoneOn = s.DoneOn
	}
	a := t.fresh[i.AnchorID]
	if a == nil {
		return
	}
	lend := func(field string) { t.lent[a.ID] = append(t.lent[a.ID], field) }
	if a.Form == "" && a.FormWords == "" {
		a.Form = i.Form
		lend("form")
	}
	if a.ProductID == nil {
		a.ProductID = i.HardwareID
		lend("product_id")
	}
	if !a.SetOn.Known() && a.SetOn.Words == "" {
		a.SetOn = i.DoneOn
		lend("set_on")
	}
}

// stored is the gluing as it stands in the register.
func (t *gluing) stored() registry.Gluing {
	out := t.g
	out.BatchText, out.Anchors = "", cloned(t.g.Anchors)
	for k := range out.Anchors {
		out.Anchors[k].Version = 1
	}
	return out
}

// cloned returns a list of its own, nil for none.
func cloned[T any](list []T) []T { return append([]T(nil), list...) }

// GluingSession returns a session with all that was set in it or in one that it
// replaces, or fault.NotFound.
func (s *Service) GluingSession(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.GluingStory, error) {
	return one(who, GetGluingSession, func() (registry.GluingStory, error) { return s.store.GluingSession(ctx, who.GroupID, id) })
}

// GluingSessions lists gluing sessions, of one site if site is given.
func (s *Service) GluingSessions(ctx context.Context, who registry.Actor, site *uuid.UUID, page registry.Page) ([]registry.GluingSession, error) {
	return list(who, ListGluingSessions, page, func(p registry.Page) ([]registry.GluingSession, error) {
		return s.store.GluingSessions(ctx, who.GroupID, site, p)
	})
}

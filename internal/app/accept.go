package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// sourceNote is where a climate stated by a note comes from; the words follow.
const sourceNote = "notes of an imported list: "

// acceptProposals makes what proposals become and sets their MadeID.
func (s *Service) acceptProposals(ctx context.Context, who registry.Actor, found []registry.Proposal) ([]report.MadeOfNotes, error) {
	a := acceptance{asOf: s.AsOf(who), at: s.instant(), found: found}
	if err := s.prepare(ctx, who, &a); err != nil {
		return nil, err
	}
	anchors := make([]uuid.UUID, len(found))
	for i := range found {
		anchors[i] = found[i].AnchorID
	}
	err := s.store.Change(ctx, who, distinct(anchors), func(facts []registry.Facts, rules houserules.Rules) (registry.Change, error) {
		return a.change(facts, rules)
	})
	return a.made, err
}

// prepare reads what accepting needs beside the facts of the anchors.
func (s *Service) prepare(ctx context.Context, who registry.Actor, a *acceptance) (err error) {
	has := func(kind registry.ProposalKind) bool {
		return slices.ContainsFunc(a.found, func(p registry.Proposal) bool { return p.Kind == kind })
	}
	if has(registry.ProposesRestriction) {
		if a.restrictions, err = s.allRestrictions(ctx, who); err == nil {
			a.spread, err = s.spreads(ctx, who, a.found)
		}
	}
	if err != nil || !has(registry.ProposesAgreement) {
		return err
	}
	parcels, err := s.parcels(ctx, who, nil)
	if err != nil {
		return err
	}
	a.owners = make(map[uuid.UUID]registry.Landowner)
	for _, p := range parcels {
		owner, err := s.store.Landowner(ctx, who.GroupID, p.LandownerID)
		if err != nil {
			return err
		}
		a.owners[p.ID] = owner
	}
	a.agreements, err = all(func(page registry.Page) ([]registry.Agreement, error) {
		return s.store.Agreements(ctx, who.GroupID, nil, page)
	}, func(n *registry.Agreement) uuid.UUID { return n.ID })
	return err
}

// acceptance is what becomes of proposals that are accepted together.
type acceptance struct {
	asOf         calendar.Date
	at           time.Time
	found        []registry.Proposal // MadeID is set here
	spread       map[string][]spread // of restrictions, by group
	restrictions []registry.Restriction
	agreements   []registry.Agreement
	owners       map[uuid.UUID]registry.Landowner // by parcel

	facts  map[uuid.UUID]*registry.Facts // by anchor
	order  []uuid.UUID                   // the anchors, in order
	seen   map[uuid.UUID]bool            // anchors with a new inspection
	out    registry.Change
	made   []report.MadeOfNotes
	checks fault.Checks
}

// change makes what every proposal becomes. What cannot be is fault.Invalid.
func (a *acceptance) change(facts []registry.Facts, rules houserules.Rules) (registry.Change, error) {
	a.facts, a.seen = make(map[uuid.UUID]*registry.Facts, len(facts)), make(map[uuid.UUID]bool)
	for i := range facts {
		a.facts[facts[i].Anchor.ID] = &facts[i]
		a.order = append(a.order, facts[i].Anchor.ID)
	}
	a.out.What, a.out.At = "proposals accepted", a.at
	for i := range a.found {
		p := &a.found[i]
		f := a.facts[p.AnchorID]
		if a.gone(p, f) {
			continue
		}
		a.accept(p, f)
	}
	if err := a.checks.Err(); err != nil {
		return registry.Change{}, err
	}
	for _, id := range a.order {
		if a.seen[id] {
			a.out.Assessments = append(a.out.Assessments, assess.Anchor(a.facts[id].Current(), rules, a.asOf))
		}
	}
	a.out.Proposals = a.found
	return a.out, nil
}

// gone refuses a proposal about what is no longer there.
func (a *acceptance) gone(p *registry.Proposal, f *registry.Facts) bool {
	ofAnchor := p.Kind == registry.ProposesObservation || p.Kind == registry.ProposesDate
	gone := !f.Position.EndedOn.IsZero() || f.Anchor.Mistaken || ofAnchor && f.Anchor.Removed
	a.checks.Require(!gone, "ids", fault.Mismatch, "id", p.ID.String(), "because", "gone")
	return gone
}

func (a *acceptance) accept(p *registry.Proposal, f *registry.Facts) {
	switch p.Kind {
	case registry.ProposesRestriction:
		a.restrict(p)
	case registry.ProposesAgreement:
		a.agree(p, f)
	case registry.ProposesEnvironment:
		a.state(p, f)
	case registry.ProposesRole:
		a.give(p, f)
	case registry.ProposesObservation, registry.ProposesDate:
		a.inspect(p, f)
	}
}

// became notes what a proposal made, or what was on record already.
func (a *acceptance) became(p *registry.Proposal, noun string, id uuid.UUID, kind registry.PlaceKind, known bool) {
	p.MadeID = &id
	for i := range a.made {
		if a.made[i].ID == id {
			a.made[i].Proposals = append(a.made[i].Proposals, p.ID)
			return
		}
	}
	a.made = append(a.made, report.MadeOfNotes{Noun: noun, ID: id, PlaceKind: kind, Known: known, Proposals: []uuid.UUID{p.ID}})
}

// restrict makes the restriction of the place that a proposal's position was
// counted to, once a place.
func (a *acceptance) restrict(p *registry.Proposal) {
	for _, to := range a.spread[p.Group()] {
		if !slices.Contains(to.positions, p.PositionID) {
			continue
		}
		r := registry.Restriction{
			ID: newID(), Place: &to.place, Kind: p.Bars, Why: p.Words, Weight: p.Weight, Yearly: p.Yearly,
		}
		same := func(o registry.Restriction) bool {
			return o.Place != nil && *o.Place == to.place && o.Kind == r.Kind && o.Yearly != nil && *o.Yearly == *r.Yearly && o.Until.IsZero()
		}
		if i := slices.IndexFunc(a.out.Restrictions, same); i >= 0 {
			a.became(p, "restriction", a.out.Restrictions[i].ID, to.place.Kind, false)
			return
		}
		if i := slices.IndexFunc(a.restrictions, same); i >= 0 {
			a.became(p, "restriction", a.restrictions[i].ID, to.place.Kind, true)
			return
		}
		a.out.Restrictions = append(a.out.Restrictions, r)
		a.became(p, "restriction", r.ID, to.place.Kind, false)
		return
	}
	a.checks.Require(false, "ids", fault.Mismatch, "id", p.ID.String(), "because", "gone")
}

// agree makes the permission whose condition the words are.
func (a *acceptance) agree(p *registry.Proposal, f *registry.Facts) {
	owner, ok := a.owners[deref(f.Position.ParcelID)]
	a.checks.Require(ok, "ids", fault.Mismatch, "id", p.ID.String(), "because", "no-landowner")
	if !ok {
		return
	}
	same := func(o registry.Agreement) bool {
		return sameID(o.LandownerID, &owner.ID) && registry.Fold(o.Conditions) == registry.Fold(p.Words) && (o.Until.IsZero() || o.Until >= a.asOf)
	}
	if i := slices.IndexFunc(a.out.Agreements, same); i >= 0 {
		a.became(p, "agreement", a.out.Agreements[i].ID, "", false)
		return
	}
	if i := slices.IndexFunc(a.agreements, same); i >= 0 {
		a.became(p, "agreement", a.agreements[i].ID, "", true)
		return
	}
	n := registry.Agreement{
		ID: newID(), LandownerID: &owner.ID, Kind: registry.Permission, Issuer: owner.Name, Conditions: p.Words, From: a.asOf,
	}
	a.out.Agreements = append(a.out.Agreements, n)
	a.became(p, "agreement", n.ID, "", false)
}

// state says of the position what the words say of its climate.
func (a *acceptance) state(p *registry.Proposal, f *registry.Facts) {
	at := registry.Place{Kind: registry.AtPosition, ID: f.Position.ID}
	for i := range f.Environments {
		e := &f.Environments[i]
		if e.Place == at && e.InForce(a.asOf) && e.Wetness == p.Wetness && sameFlag(e.Washed, p.Washed) {
			a.became(p, "environment", e.ID, at.Kind, e.Version > 0)
			return
		}
	}
	e := registry.Environment{
		ID: newID(), SiteID: f.Position.SiteID, Place: at, From: a.asOf, Source: sourceNote + p.Words, Wetness: p.Wetness, Washed: p.Washed,
	}
	a.out.Environments = append(a.out.Environments, e)
	a.atPosition(f.Position.ID, func(o *registry.Facts) { o.Environments = append(slices.Clone(o.Environments), e) })
	a.became(p, "environment", e.ID, at.Kind, false)
}

func sameFlag(a, b *bool) bool { return (a == nil) == (b == nil) && (a == nil || *a == *b) }

// give changes what the position is for.
func (a *acceptance) give(p *registry.Proposal, f *registry.Facts) {
	id := f.Position.ID
	i := slices.IndexFunc(a.out.Positions, func(o registry.Position) bool { return o.ID == id })
	switch {
	case i >= 0:
		same := a.out.Positions[i].Role == p.Role
		a.checks.Require(same, "ids", fault.Mismatch, "id", p.ID.String(), "because", "two-roles")
	case f.Position.Role != p.Role:
		a.atPosition(id, func(o *registry.Facts) { o.Position.Role = p.Role })
		a.out.Positions = append(a.out.Positions, f.Position)
	}
	a.became(p, "position", id, registry.AtPosition, true)
}

// atPosition changes the facts of every anchor at a position.
func (a *acceptance) atPosition(id uuid.UUID, change func(*registry.Facts)) {
	for _, f := range a.facts {
		if f.Position.ID == id {
			change(f)
		}
	}
}

// inspect records what the list saw, or wanted to be seen.
func (a *acceptance) inspect(p *registry.Proposal, f *registry.Facts) {
	i := registry.Inspection{
		Record: registry.Record{
			ID: newID(), AnchorID: p.AnchorID, DoneOn: p.Seen, Words: p.Words, Origin: registry.Imported, RecordedAt: a.at,
		},
		Level: registry.Glance, OfNote: &p.ID,
	}
	if p.Kind == registry.ProposesObservation {
		i.Observations = []registry.Observation{p.Observation}
	} else {
		i.Verdict, i.InspectBy = registry.KeepWatching, p.InspectBy
	}
	f.Inspections = append(slices.Clone(f.Inspections), i)
	a.out.Inspections = append(a.out.Inspections, i)
	a.seen[p.AnchorID] = true
	a.became(p, "inspection", i.ID, "", false)
}

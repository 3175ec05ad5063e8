// Package assess puts together what is held against one anchor and when it
// must be inspected again: standing, due date, urgency, each with its reasons.
//
// It certifies nothing: an anchor with no problem on record may still fail.
package assess

import (
	"slices"
	"sync"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/schedule"
	"rockledger/internal/sheetcheck"
	"rockledger/internal/suspicion"
)

// Engine is the version of the computation: it grows with every change of a
// computed answer, so that what was stored before is computed anew.
const Engine = 4

// Anchor assesses one anchor as of a day. It takes every record it is given as
// having happened (see Facts.Until), leaves out those that others replace, and
// lets the less favourable end of an uncertain date count. The order of facts
// means nothing. The anchor's EnteredOn must be set.
//
// Its place decides by the environments in force on that day (see
// registry.ResolveEnvironment). A finding that a settlement answers on that day
// is kept and weighs nothing.
//
// A removed anchor has its standing and nothing else. One that is suspect or out
// of use stays so when it is not found: whoever finds it must know.
func Anchor(f registry.Facts, r houserules.Rules, asOf calendar.Date) registry.Assessment {
	w := works.Get().(*work)
	defer w.release()
	w.facts, w.rules = f.Current(), r
	return w.anchor(asOf)
}

// work is the memory of one run, kept for the next: there are many anchors.
type work struct {
	facts registry.Facts
	rules houserules.Rules
	place exposing
}

var works = sync.Pool{New: func() any { return new(work) }}

// release gives the memory back, without what it held.
func (w *work) release() {
	*w = work{}
	works.Put(w)
}

func (w *work) anchor(asOf calendar.Date) registry.Assessment {
	f, r := &w.facts, &w.rules
	a := registry.Assessment{
		AnchorID:     f.Anchor.ID,
		SiteID:       f.Anchor.SiteID,
		AsOf:         asOf,
		Standing:     registry.StandingRemoved,
		Band:         registry.BandWhenPassing,
		BandReason:   ReasonRemoved,
		Consequence:  consequence(f),
		OldestOn:     f.SetDay().From,
		Engine:       Engine,
		RulesVersion: r.Version,
	}
	if f.Anchor.Removed {
		return a
	}
	x := &w.place
	x.expose(f, r, asOf)
	held := suspicion.Shipped().Anchor(f, &x.out, r, asOf)
	if more := sheetcheck.Check(f, r, asOf); len(more) > 0 {
		held.Findings = append(held.Findings, more...)
		suspicion.Sort(held.Findings)
	}
	given := schedule.Given{Exposure: &x.out, Findings: held.Findings, Settled: held.Settled}
	plan := schedule.Anchor(f, given, r, asOf)

	a.Findings, a.Candidates = held.Findings, plan.Candidates
	a.Standing = standing(held)
	a.DueOn, a.SoonestOn, a.Reason = plan.DueOn, plan.SoonestOn, plan.Reason

	d := dating{plan: &plan, dueSoon: r.DueSoon.Value}
	a.DueState = d.state(asOf)
	a.Band, a.BandReason = band(f, held, a.DueState, d.longOverdue(asOf))
	a.ValidUntil = d.validUntil(f, r, x, asOf)
	return a
}

// standing is the worst that findings say or force; not located stands outside
// the order and hides the rest, but for what a finding makes suspect or worse.
func standing(held suspicion.Held) registry.Standing {
	missed := slices.Contains(held.Forced, registry.StandingNotLocated)
	if missed && found(held).Rank() < registry.StandingSuspect.Rank() {
		return registry.StandingNotLocated
	}
	return worst(held)
}

// found is the worst standing that a finding gives by its severity.
func found(held suspicion.Held) registry.Standing {
	s := registry.NoProblem
	for i := range held.Findings {
		if w := bySeverity(held.Findings[i].Weighs()); w.Rank() > s.Rank() {
			s = w
		}
	}
	return s
}

// worst is the worst standing of the order.
func worst(held suspicion.Held) registry.Standing {
	s := found(held)
	if slices.Contains(held.Forced, registry.NotInUseYet) && s.Rank() < registry.NotInUseYet.Rank() {
		s = registry.NotInUseYet
	}
	return s
}

func bySeverity(s registry.Severity) registry.Standing {
	switch s {
	case registry.OutOfUse:
		return registry.StandingOutOfUse
	case registry.Suspect:
		return registry.StandingSuspect
	case registry.Watch:
		return registry.StandingWatch
	}
	return registry.NoProblem
}

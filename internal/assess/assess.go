// Package assess puts together what is held against one anchor and when it
// must be inspected again: standing, due date, urgency, each with its reasons.
//
// It certifies nothing: an anchor with no problem on record may still fail.
package assess

import (
	"slices"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/schedule"
	"rockledger/internal/suspicion"
)

// Engine is the version of the computation: it grows with every change of a
// computed answer, so that what was stored before is computed anew.
const Engine = 1

// Anchor assesses one anchor as of a day. It takes every record it is given as
// having happened (see Facts.Until), leaves out those that others replace, and
// lets the less favourable end of an uncertain date count. The order of facts
// means nothing. The anchor's EnteredOn must be set.
//
// A removed anchor has its standing and nothing else.
func Anchor(f registry.Facts, r houserules.Rules, asOf calendar.Date) registry.Assessment {
	f = f.Current()
	a := registry.Assessment{
		AnchorID:     f.Anchor.ID,
		SiteID:       f.Anchor.SiteID,
		AsOf:         asOf,
		Standing:     registry.StandingRemoved,
		Band:         registry.BandWhenPassing,
		BandReason:   ReasonRemoved,
		Consequence:  consequence(&f),
		OldestOn:     f.Anchor.SetOn.From,
		Engine:       Engine,
		RulesVersion: r.Version,
	}
	if f.Anchor.Removed {
		return a
	}
	held := suspicion.Shipped().Anchor(&f, r)
	plan := schedule.Anchor(&f, held.Findings, r, asOf)

	a.Findings, a.Candidates = held.Findings, plan.Candidates
	a.Standing = standing(held)
	a.DueOn, a.SoonestOn, a.Reason = plan.DueOn, plan.SoonestOn, plan.Reason

	d := dating{plan: plan, dueSoon: r.DueSoon.Value}
	a.DueState = d.state(asOf)
	a.Band, a.BandReason = band(&f, worst(held), a.DueState, d.longOverdue(asOf))
	a.ValidUntil = d.validUntil(&f, r, asOf)
	return a
}

// standing is the worst that findings say or force; not located stands outside
// the order and hides the rest.
func standing(held suspicion.Held) registry.Standing {
	if slices.Contains(held.Forced, registry.StandingNotLocated) {
		return registry.StandingNotLocated
	}
	return worst(held)
}

// worst is the worst standing of the order.
func worst(held suspicion.Held) registry.Standing {
	s := registry.NoProblem
	for _, f := range held.Findings {
		if w := bySeverity(f.Severity); w.Rank() > s.Rank() {
			s = w
		}
	}
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

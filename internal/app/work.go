package app

import (
	"context"
	"fmt"
	"slices"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/worklist"
)

// Work reports the anchors that ask for work, those out of use without a marking
// at the rock first, then the most urgent, with what to bring, as of asOf or, if that is zero, of today. All is computed anew, on
// the terms of Overdue for another day than today. Beside each due date stand
// the restrictions that bar it: with drill and hammer more do than bar an
// inspection.
func (s *Service) Work(ctx context.Context, who registry.Actor, asOf calendar.Date) (report.Work, error) {
	if err := may(who, ReportWork); err != nil {
		return report.Work{}, err
	}
	w, err := s.work(ctx, who, asOf)
	if err != nil {
		return report.Work{}, fmt.Errorf("report work: %w", err)
	}
	return w, nil
}

func (s *Service) work(ctx context.Context, who registry.Actor, asOf calendar.Date) (report.Work, error) {
	h, rules, err := s.heading(ctx, who, asOf)
	w := report.Work{Heading: h}
	if err != nil {
		return w, err
	}
	reach, err := s.restrictionReach(ctx, who)
	if err != nil {
		return w, err
	}
	each := s.store.EachFacts
	if !h.Recomputed {
		// What asks for work does so by a finding, and for today these are stored.
		each = s.store.EachAsking
		if err := s.refreshGroup(ctx, who); err != nil {
			return w, err
		}
	}
	err = each(ctx, who.GroupID, func(line registry.ReportLine, facts registry.Facts) error {
		past, set := facts.Current().Until(h.AsOf)
		if !set || past.Anchor.Removed {
			return nil
		}
		line = withAssessment(line, past.Anchor, assess.Anchor(past, rules, h.AsOf))
		item, asks := worklist.Item(line, &past, func() worklist.Suiting { return suiting(&past, h.AsOf) })
		if asks {
			reach.fill(&item.Line, barsFor(item.Do))
			w.Items = append(w.Items, item)
		}
		return nil
	})
	if err != nil {
		return w, err
	}
	slices.SortFunc(w.Items, func(a, b registry.WorkItem) int { return byNeed(&a.Line.Assessment, &b.Line.Assessment) })
	w.Kit = worklist.Total(w.Items)
	w.Replace, w.Repair, w.Inspect = countWork(w.Items, registry.WorkReplace), countWork(w.Items, registry.WorkRepair), countWork(w.Items, registry.WorkInspect)
	return w, nil
}

func countWork(items []registry.WorkItem, k registry.WorkKind) int {
	n := 0
	for i := range items {
		if items[i].Do == k {
			n++
		}
	}
	return n
}

// byNeed puts what is out of use without a marking at the rock first, then the
// most urgent.
func byNeed(a, b *registry.Assessment) int {
	unmarked := a.BandReason == assess.ReasonOutOfUse
	if unmarked != (b.BandReason == assess.ReasonOutOfUse) {
		return before(unmarked)
	}
	return byUrgency(a, b)
}

// barsFor lists the kinds of restriction that bar a kind of work.
func barsFor(k registry.WorkKind) []registry.RestrictionKind {
	if k == registry.WorkReplace {
		return barDrilling
	}
	return barInspection
}

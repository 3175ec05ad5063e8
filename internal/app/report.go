package app

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// yearsAhead is how far ahead a report may look.
const yearsAhead = 50

// earliestReport is the first day a report may be asked for.
var earliestReport = calendar.NewDate(1900, time.January, 1)

// Overdue reports what is late and what awaits its first round, as of asOf or,
// if that is zero, of today. For another day than today everything is computed
// anew: from the records that had happened by then, with inventory and house
// rules as they stand today. A day before 1900 or more than 50 years ahead is
// fault.Invalid, field as_of.
func (s *Service) Overdue(ctx context.Context, who registry.Actor, asOf calendar.Date) (report.Overdue, error) {
	return s.OverduePart(ctx, who, asOf, report.Part{})
}

// OverduePart reports as Overdue does, with the lines of a part alone; its counts
// are those of the whole.
func (s *Service) OverduePart(ctx context.Context, who registry.Actor, asOf calendar.Date, part report.Part) (report.Overdue, error) {
	if err := may(who, ReportOverdue); err != nil {
		return report.Overdue{}, err
	}
	l, err := s.ranking(ctx, who, asOf, overdueReport(s.store), part.Whole())
	if err != nil {
		return report.Overdue{}, fmt.Errorf("report overdue: %w", err)
	}
	r := report.Overdue{Heading: l.heading, Overdue: l.count(isOverdue)}
	r.FirstRound = len(l.order) - r.Overdue
	if r.Lines, r.Narrowed, err = l.part(ctx, part); err != nil {
		return report.Overdue{}, fmt.Errorf("report overdue: %w", err)
	}
	return r, nil
}

// Suspect reports what is suspect or out of use, worst first, on the terms of
// Overdue.
func (s *Service) Suspect(ctx context.Context, who registry.Actor, asOf calendar.Date) (report.Suspect, error) {
	return s.SuspectPart(ctx, who, asOf, report.Part{})
}

// SuspectPart reports as Suspect does, on the terms of OverduePart.
func (s *Service) SuspectPart(ctx context.Context, who registry.Actor, asOf calendar.Date, part report.Part) (report.Suspect, error) {
	if err := may(who, ReportSuspect); err != nil {
		return report.Suspect{}, err
	}
	l, err := s.ranking(ctx, who, asOf, suspectReport(s.store), part.Whole())
	if err != nil {
		return report.Suspect{}, fmt.Errorf("report suspect: %w", err)
	}
	r := report.Suspect{Heading: l.heading, OutOfUse: l.count(isOutOfUse)}
	r.Suspect = len(l.order) - r.OutOfUse
	if r.Lines, r.Narrowed, err = l.part(ctx, part); err != nil {
		return report.Suspect{}, fmt.Errorf("report suspect: %w", err)
	}
	return r, nil
}

// Today gathers what a member should look at first, the first rows of each list
// in the order of its report.
func (s *Service) Today(ctx context.Context, who registry.Actor, rows int) (report.Today, error) {
	if err := may(who, ViewToday); err != nil {
		return report.Today{}, err
	}
	t, err := s.firstRows(ctx, who, rows)
	if err != nil {
		return report.Today{}, fmt.Errorf("gather today: %w", err)
	}
	return t, nil
}

func (s *Service) firstRows(ctx context.Context, who registry.Actor, rows int) (report.Today, error) {
	late, err := s.ranking(ctx, who, 0, overdueReport(s.store), false)
	if err != nil {
		return report.Today{}, err
	}
	doubted, err := s.ranking(ctx, who, 0, suspectReport(s.store), false)
	if err != nil {
		return report.Today{}, err
	}
	t := report.Today{Heading: late.heading}
	for show, list := range map[report.Show]struct {
		to   *report.Stretch
		from *ranking
	}{
		report.ShowUnmarked: {&t.OutOfUse, &doubted}, report.ShowMarked: {&t.Marked, &doubted},
		report.ShowSuspect: {&t.Suspect, &doubted}, report.ShowNew: {&t.New, &doubted},
		report.ShowOverdue: {&t.Overdue, &late}, report.ShowFirstRound: {&t.FirstRound, &late},
	} {
		list.to.Lines, list.to.Total, err = list.from.part(ctx, report.Part{Show: show, Rows: rows})
		if err != nil {
			return t, err
		}
	}
	return t, s.beside(ctx, who, &t)
}

// beside adds what stands on Today beside the anchors in doubt.
func (s *Service) beside(ctx context.Context, who registry.Actor, t *report.Today) error {
	var err error
	if t.Counts, err = s.store.Counts(ctx, who.GroupID, t.Heading.AsOf); err != nil {
		return fmt.Errorf("count anchors: %w", err)
	}
	if t.Tasks, err = s.tasks(ctx, who, t.Heading.AsOf); err != nil {
		return fmt.Errorf("list tasks: %w", err)
	}
	if t.Upcoming, err = s.upcoming(ctx, who, t.Heading.AsOf); err != nil {
		return fmt.Errorf("list restrictions that begin: %w", err)
	}
	if t.Proposals, err = s.openProposals(ctx, who); err != nil {
		return fmt.Errorf("count proposals: %w", err)
	}
	return nil
}

// heading says what a report rests on, as of asOf or, if that is zero, of today,
// with the house rules it names.
func (s *Service) heading(ctx context.Context, who registry.Actor, asOf calendar.Date) (report.Heading, houserules.Rules, error) {
	today := s.AsOf(who)
	if asOf.IsZero() {
		asOf = today
	}
	h := report.Heading{Group: who.Group, AsOf: asOf, MadeAt: s.instant(), Recomputed: asOf != today}
	if err := checkReportDay(asOf, today); err != nil {
		return h, houserules.Rules{}, err
	}
	rules, err := s.store.Rules(ctx, who.GroupID)
	h.RulesVersion = rules.Version
	return h, rules, err
}

func checkReportDay(asOf, today calendar.Date) error {
	var c fault.Checks
	last := today.AddYears(yearsAhead)
	c.Require(asOf >= earliestReport && asOf <= last, "as_of", fault.OutOfRange,
		"from", earliestReport.String(), "to", last.String())
	return c.Err()
}

// late says whether an assessment belongs into the overdue report.
func late(a *registry.Assessment) bool {
	return a.DueState == registry.Overdue || a.DueState == registry.AwaitingFirstRound
}

// inDoubt says whether an assessment belongs into the suspect report: that of an
// anchor not in use yet does where a finding makes it suspect.
func inDoubt(a *registry.Assessment) bool {
	switch a.Standing {
	case registry.StandingSuspect, registry.StandingOutOfUse:
		return true
	case registry.NotInUseYet:
		return slices.ContainsFunc(a.Findings, func(f registry.Finding) bool { return f.Weighs().Rank() >= registry.Suspect.Rank() })
	}
	return false
}

// byLateness puts the overdue first, by due date and then urgency, and after
// them the first round, by urgency alone, which ends in the date before the
// first round raised it.
func byLateness(a, b *registry.Assessment) int {
	overdue := isOverdue(a)
	switch {
	case overdue != isOverdue(b):
		return before(overdue)
	case overdue && a.DueOn != b.DueOn:
		return cmp.Compare(a.DueOn, b.DueOn)
	}
	return byUrgency(a, b)
}

// byStanding puts the worst standing first, then the most urgent.
func byStanding(a, b *registry.Assessment) int {
	if a.Standing != b.Standing {
		return cmp.Compare(b.Standing.Rank(), a.Standing.Rank())
	}
	return byUrgency(a, b)
}

func byUrgency(a, b *registry.Assessment) int {
	switch {
	case assess.Less(*a, *b):
		return -1
	case assess.Less(*b, *a):
		return 1
	}
	return 0
}

// before turns "the first one comes first" into a comparison.
func before(first bool) int {
	if first {
		return -1
	}
	return 1
}

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
	if err := may(who, ReportOverdue); err != nil {
		return report.Overdue{}, err
	}
	h, lines, err := s.lines(ctx, who, asOf, late, func(asOf calendar.Date) ([]registry.ReportLine, error) {
		return s.store.OverdueLines(ctx, who.GroupID, asOf)
	})
	if err != nil {
		return report.Overdue{}, fmt.Errorf("report overdue: %w", err)
	}
	slices.SortFunc(lines, byLateness)
	n := count(lines, func(a *registry.Assessment) bool { return a.DueState == registry.Overdue })
	return report.Overdue{Heading: h, Lines: lines, Overdue: n, FirstRound: len(lines) - n}, nil
}

// Suspect reports what is suspect or out of use, worst first, on the terms of
// Overdue.
func (s *Service) Suspect(ctx context.Context, who registry.Actor, asOf calendar.Date) (report.Suspect, error) {
	if err := may(who, ReportSuspect); err != nil {
		return report.Suspect{}, err
	}
	h, lines, err := s.lines(ctx, who, asOf, inDoubt, func(calendar.Date) ([]registry.ReportLine, error) {
		return s.store.SuspectLines(ctx, who.GroupID)
	})
	if err != nil {
		return report.Suspect{}, fmt.Errorf("report suspect: %w", err)
	}
	slices.SortFunc(lines, byStanding)
	n := count(lines, func(a *registry.Assessment) bool { return a.Standing == registry.StandingOutOfUse })
	return report.Suspect{Heading: h, Lines: lines, OutOfUse: n, Suspect: len(lines) - n}, nil
}

// Today gathers what a member should look at first, each list in the order of
// its report.
func (s *Service) Today(ctx context.Context, who registry.Actor) (report.Today, error) {
	if err := may(who, ViewToday); err != nil {
		return report.Today{}, err
	}
	overdue, err := s.Overdue(ctx, who, 0)
	if err != nil {
		return report.Today{}, err
	}
	suspect, err := s.Suspect(ctx, who, 0)
	if err != nil {
		return report.Today{}, err
	}
	counts, err := s.store.Counts(ctx, who.GroupID, overdue.Heading.AsOf)
	if err != nil {
		return report.Today{}, fmt.Errorf("count anchors: %w", err)
	}
	tasks, err := s.tasks(ctx, who, overdue.Heading.AsOf)
	if err != nil {
		return report.Today{}, fmt.Errorf("list tasks: %w", err)
	}
	upcoming, err := s.upcoming(ctx, who, overdue.Heading.AsOf)
	if err != nil {
		return report.Today{}, fmt.Errorf("list restrictions that begin: %w", err)
	}
	outOfUse := suspect.Lines[:suspect.OutOfUse]
	unmarked := count(outOfUse, func(a *registry.Assessment) bool { return a.Band == registry.BandNow })
	proposals, err := s.openProposals(ctx, who)
	if err != nil {
		return report.Today{}, fmt.Errorf("count proposals: %w", err)
	}
	return report.Today{
		Proposals:  proposals,
		Tasks:      tasks,
		Upcoming:   upcoming,
		Heading:    overdue.Heading,
		Counts:     counts,
		OutOfUse:   outOfUse[:unmarked], // the more urgent band comes first
		Marked:     outOfUse[unmarked:],
		Suspect:    suspect.Lines[suspect.OutOfUse:],
		Overdue:    overdue.Lines[:overdue.Overdue],
		FirstRound: overdue.Lines[overdue.Overdue:],
	}, nil
}

// lines returns the living anchors that wanted holds for: as stored, freshly
// assessed, for today; recomputed for another day.
func (s *Service) lines(ctx context.Context, who registry.Actor, asOf calendar.Date, wanted func(*registry.Assessment) bool,
	stored func(calendar.Date) ([]registry.ReportLine, error),
) (report.Heading, []registry.ReportLine, error) {
	h, rules, err := s.heading(ctx, who, asOf)
	if err != nil {
		return h, nil, err
	}
	lines, err := s.linesOn(ctx, who, h, rules, wanted, stored)
	if err != nil {
		return h, nil, err
	}
	reach, err := s.restrictionReach(ctx, who)
	for i := range lines {
		reach.fill(&lines[i], barInspection)
	}
	return h, lines, err
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

// linesOn returns the lines of a report for the day in its heading.
func (s *Service) linesOn(ctx context.Context, who registry.Actor, h report.Heading, rules houserules.Rules,
	wanted func(*registry.Assessment) bool, stored func(calendar.Date) ([]registry.ReportLine, error),
) ([]registry.ReportLine, error) {
	if h.Recomputed {
		return s.recompute(ctx, who, rules, h.AsOf, wanted)
	}
	if err := s.refreshGroup(ctx, who); err != nil {
		return nil, err
	}
	lines, err := stored(h.AsOf)
	return keepLines(lines, wanted), err
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
func byLateness(x, y registry.ReportLine) int {
	a, b := &x.Assessment, &y.Assessment
	overdue := a.DueState == registry.Overdue
	switch {
	case overdue != (b.DueState == registry.Overdue):
		return before(overdue)
	case overdue && a.DueOn != b.DueOn:
		return cmp.Compare(a.DueOn, b.DueOn)
	}
	return byUrgency(a, b)
}

// byStanding puts the worst standing first, then the most urgent.
func byStanding(x, y registry.ReportLine) int {
	a, b := &x.Assessment, &y.Assessment
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

func keepLines(lines []registry.ReportLine, wanted func(*registry.Assessment) bool) []registry.ReportLine {
	return slices.DeleteFunc(lines, func(l registry.ReportLine) bool {
		return l.Assessment.Standing == registry.StandingRemoved || !wanted(&l.Assessment)
	})
}

func count(lines []registry.ReportLine, is func(*registry.Assessment) bool) int {
	n := 0
	for i := range lines {
		if is(&lines[i].Assessment) {
			n++
		}
	}
	return n
}

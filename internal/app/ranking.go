package app

import (
	"context"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// ranked is a report that puts anchors in an order by how they are assessed.
type ranked struct {
	wanted  func(*registry.Assessment) bool
	compare func(a, b *registry.Assessment) int
	// ranks and lines read what is stored for today, the one without reasons and
	// findings: a register may have a hundred thousand lines, and a page shows a
	// few.
	ranks func(ctx context.Context, group uuid.UUID, asOf calendar.Date) ([]registry.Assessment, error)
	lines func(ctx context.Context, group uuid.UUID, asOf calendar.Date) ([]registry.ReportLine, error)
}

func overdueReport(store Store) ranked {
	return ranked{late, byLateness, store.OverdueRanks, store.OverdueLines}
}

func suspectReport(store Store) ranked {
	return ranked{
		inDoubt, byStanding,
		func(ctx context.Context, group uuid.UUID, _ calendar.Date) ([]registry.Assessment, error) {
			return store.SuspectRanks(ctx, group)
		},
		func(ctx context.Context, group uuid.UUID, _ calendar.Date) ([]registry.ReportLine, error) {
			return store.SuspectLines(ctx, group)
		},
	}
}

// ranking is the living anchors of a report in its order.
type ranking struct {
	heading report.Heading
	order   []registry.Assessment
	// seen lists those in doubt of which something was seen lately.
	seen func(ctx context.Context) ([]uuid.UUID, error)
	// read returns the lines of some of them, in the order given; an anchor that
	// by now is not among those wanted is left out.
	read func(ctx context.Context, some []registry.Assessment) ([]registry.ReportLine, error)
}

// ranking ranks a group's anchors: as stored, freshly assessed, for today;
// recomputed for another day. Where the whole is wanted, order and lines are of
// one reading.
func (s *Service) ranking(ctx context.Context, who registry.Actor, asOf calendar.Date, r ranked, whole bool) (ranking, error) {
	h, rules, err := s.heading(ctx, who, asOf)
	if err != nil {
		return ranking{}, err
	}
	reach, err := s.restrictionReach(ctx, who)
	if err != nil {
		return ranking{}, err
	}
	k := ranking{heading: h}
	switch {
	case h.Recomputed || whole:
		lines, err := s.linesOn(ctx, who, h, rules, r)
		if err != nil {
			return k, err
		}
		k.order = assessmentsOf(lines)
		k.seen = func(context.Context) ([]uuid.UUID, error) { return newAmong(k.order), nil }
		k.read = func(_ context.Context, some []registry.Assessment) ([]registry.ReportLine, error) {
			return arrange(some, lines, r.wanted, reach), nil
		}
	default:
		if err := s.refreshGroup(ctx, who); err != nil {
			return k, err
		}
		if k.order, err = r.ranks(ctx, who.GroupID, h.AsOf); err != nil {
			return k, err
		}
		k.seen = func(ctx context.Context) ([]uuid.UUID, error) {
			return s.store.SuspectSeen(ctx, who.GroupID, h.AsOf.AddDays(-newDays))
		}
		k.read = func(ctx context.Context, some []registry.Assessment) ([]registry.ReportLine, error) {
			lines, err := s.store.Lines(ctx, who.GroupID, anchorsOf(some))
			return arrange(some, lines, r.wanted, reach), err
		}
	}
	k.order = slices.DeleteFunc(k.order, func(a registry.Assessment) bool { return a.Standing == registry.StandingRemoved })
	slices.SortFunc(k.order, func(a, b registry.Assessment) int { return r.compare(&a, &b) })
	return k, nil
}

// linesOn returns all lines of a report for the day in its heading.
func (s *Service) linesOn(ctx context.Context, who registry.Actor, h report.Heading, rules houserules.Rules, r ranked) ([]registry.ReportLine, error) {
	if h.Recomputed {
		return s.recompute(ctx, who, rules, h.AsOf, r.wanted)
	}
	if err := s.refreshGroup(ctx, who); err != nil {
		return nil, err
	}
	lines, err := r.lines(ctx, who.GroupID, h.AsOf)
	return slices.DeleteFunc(lines, func(l registry.ReportLine) bool { return !r.wanted(&l.Assessment) }), err
}

func anchorsOf(some []registry.Assessment) []uuid.UUID {
	out := make([]uuid.UUID, len(some))
	for i := range some {
		out[i] = some[i].AnchorID
	}
	return out
}

func assessmentsOf(lines []registry.ReportLine) []registry.Assessment {
	out := make([]registry.Assessment, len(lines))
	for i := range lines {
		out[i] = lines[i].Assessment
	}
	return out
}

// arrange puts the lines that are wanted in the order of the assessments that
// ranked them, with what bars their dates.
func arrange(order []registry.Assessment, lines []registry.ReportLine, wanted func(*registry.Assessment) bool, reach reach) []registry.ReportLine {
	byAnchor := make(map[uuid.UUID]*registry.ReportLine, len(lines))
	for i := range lines {
		if a := &lines[i].Assessment; a.Standing != registry.StandingRemoved && wanted(a) {
			byAnchor[a.AnchorID] = &lines[i]
		}
	}
	out := make([]registry.ReportLine, 0, len(order))
	for i := range order {
		if l := byAnchor[order[i].AnchorID]; l != nil {
			reach.fill(l, barInspection)
			out = append(out, *l)
		}
	}
	return out
}

// part reads the lines of a part of the ranking, and says how many there are on
// all parts.
func (k *ranking) part(ctx context.Context, p report.Part) ([]registry.ReportLine, int, error) {
	order, err := k.narrow(ctx, p.Show)
	if err != nil {
		return nil, 0, err
	}
	from, to := p.Of(len(order))
	lines, err := k.read(ctx, order[from:to])
	return lines, len(order), err
}

// shows says of each part of Today but what is new which anchors are in it.
var shows = map[report.Show]func(*registry.Assessment) bool{
	report.ShowUnmarked:   isUnmarked,
	report.ShowMarked:     func(a *registry.Assessment) bool { return isOutOfUse(a) && !isUnmarked(a) },
	report.ShowSuspect:    func(a *registry.Assessment) bool { return !isOutOfUse(a) },
	report.ShowOverdue:    isOverdue,
	report.ShowFirstRound: func(a *registry.Assessment) bool { return !isOverdue(a) },
}

// narrow returns those of the ranking that are shown; all, if nothing that is
// known is to be shown.
func (k *ranking) narrow(ctx context.Context, show report.Show) ([]registry.Assessment, error) {
	if show == report.ShowNew {
		return k.seenLately(ctx)
	}
	is := shows[show]
	if is == nil {
		return k.order, nil
	}
	var out []registry.Assessment
	for i := range k.order {
		if is(&k.order[i]) {
			out = append(out, k.order[i])
		}
	}
	return out, nil
}

// newDays is for how many days something seen counts as new; default of this
// project.
const newDays = 30

// seenLately returns the anchors in doubt, but not out of use, of which something
// that weighs was seen lately.
func (k *ranking) seenLately(ctx context.Context) ([]registry.Assessment, error) {
	seen, err := k.seen(ctx)
	if err != nil {
		return nil, err
	}
	isNew := make(map[uuid.UUID]bool, len(seen))
	for _, id := range seen {
		isNew[id] = true
	}
	return slices.DeleteFunc(slices.Clone(k.order), func(a registry.Assessment) bool { return isOutOfUse(&a) || !isNew[a.AnchorID] }), nil
}

func newAmong(order []registry.Assessment) []uuid.UUID {
	var out []uuid.UUID
	for i := range order {
		if isNew(&order[i]) {
			out = append(out, order[i].AnchorID)
		}
	}
	return out
}

// isNew says whether something that weighs watch or more was seen within newDays
// before the day of the assessment.
func isNew(a *registry.Assessment) bool {
	for i := range a.Findings {
		f := &a.Findings[i]
		on, err := calendar.ParseDate(f.Values.Text("seen_on"))
		if err == nil && f.Weighs().Rank() >= registry.Watch.Rank() && on.AddDays(newDays) >= a.AsOf {
			return true
		}
	}
	return false
}

func (k *ranking) count(is func(*registry.Assessment) bool) int {
	n := 0
	for i := range k.order {
		if is(&k.order[i]) {
			n++
		}
	}
	return n
}

func isOverdue(a *registry.Assessment) bool { return a.DueState == registry.Overdue }

func isOutOfUse(a *registry.Assessment) bool { return a.Standing == registry.StandingOutOfUse }

// isUnmarked says that an anchor is out of use without a marking at the rock.
func isUnmarked(a *registry.Assessment) bool { return isOutOfUse(a) && a.Band == registry.BandNow }

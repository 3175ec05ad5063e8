package assess

import (
	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/schedule"
)

// dating says how a plan stands to a day.
type dating struct {
	plan    *schedule.Plan
	dueSoon int // days
}

// state returns the due state on a day. An anchor whose date was raised awaits
// its first round until that ends.
func (d *dating) state(asOf calendar.Date) registry.DueState {
	switch due := d.plan.DueOn; {
	case due < asOf:
		return registry.Overdue
	case d.plan.Raised:
		return registry.AwaitingFirstRound
	case due.AddDays(-d.dueSoon) <= asOf:
		return registry.DueSoon
	}
	return registry.NotDue
}

// longOverdue says whether the anchor is late by more than half its interval.
func (d *dating) longOverdue(asOf calendar.Date) bool { return asOf > d.plan.HalfLate() }

// validUntil returns the day before the first day after asOf on which, with no
// new fact, something may change; zero if nothing ever does. It may be a day
// too early, never too late: being late by half its interval is no news for an
// anchor that is suspect, nor every new environment for every metal.
func (d *dating) validUntil(f *registry.Facts, r *houserules.Rules, x *exposing, asOf calendar.Date) calendar.Date {
	n := next{after: asOf}
	due := d.plan.DueOn
	n.offer(due + 1)
	n.offer(d.plan.HalfLate() + 1)
	n.offer(d.otherInterval(f, r, asOf))
	if !d.plan.Raised {
		n.offer(due.AddDays(-d.dueSoon))
	}
	n.offer(x.out.CoatingGoneOn)
	n.offer(x.out.SectionWatchOn)
	n.offer(x.out.SectionSuspectOn)
	n.offer(x.out.ServiceEndsOn)
	n.offerFacts(f)
	return n.first.AddDays(-1)
}

// otherInterval returns the first day after asOf on which the anchor's age
// gives it another interval, or the same for another reason; "no date" if none
// does.
func (d *dating) otherInterval(f *registry.Facts, r *houserules.Rules, asOf calendar.Date) calendar.Date {
	for _, day := range houserules.Birthdays(f.SetDay().From, asOf) {
		if r.ForAge(d.plan.AtAnyAge, f, day) != d.plan.Interval {
			return day
		}
	}
	return 0
}

// next finds the first of the days offered that lies after a day.
type next struct{ after, first calendar.Date }

func (n *next) offer(day calendar.Date) {
	if day > n.after && (n.first.IsZero() || day < n.first) {
		n.first = day
	}
}

// offerFacts offers the days on which what is said of the place, a settlement,
// an event, a notice or a fitting begins or ends.
func (n *next) offerFacts(f *registry.Facts) {
	for k := range f.Environments {
		n.offer(f.Environments[k].From)
		n.offer(f.Environments[k].Until.AddDays(1))
	}
	for k := range f.Settlements {
		n.offer(f.Settlements[k].Until.AddDays(1))
	}
	for k := range f.Events {
		n.offer(f.Events[k].EndedOn)
	}
	for k := range f.Notices {
		if f.HitBy(&f.Notices[k]) != "" {
			n.offer(f.Notices[k].EndedOn)
		}
	}
	for k := range f.Fittings {
		n.offer(f.Fittings[k].EndedOn)
	}
}

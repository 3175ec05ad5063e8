package demo

import (
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// stance is where the n-th anchor stands: its group and the numbers of its site,
// sector and route in the whole register.
type stance struct {
	n, at               int // in the register, in its group
	group               int
	site, sector, route int
}

// sitesBefore gives the sites of each group numbers of their own.
func (s *Synthetic) sitesBefore(group int) int {
	return group * ((s.perGroup + siteAnchors - 1) / siteAnchors)
}

func (s *Synthetic) stance(n int) stance {
	group := n / s.perGroup
	at := n - group*s.perGroup
	site := s.sitesBefore(group) + at/siteAnchors
	return stance{
		n: n, at: at, group: group, site: site,
		sector: site*siteSectors + at%siteAnchors*siteSectors/siteAnchors,
		route:  site*siteRoutes + at%siteAnchors/routeAnchors,
	}
}

// traits are what is invented of one anchor.
type traits struct {
	fashion
	product   int // of the group's, from 0
	setOn     calendar.Date
	removedOn calendar.Date // zero: in the rock
	visits    []calendar.Date
	person    int // of the group's
	batch     int // of the group's; of a bonded anchor
	adhesive  bool
	imported  bool

	standing   registry.Standing
	dueOn      calendar.Date
	dueState   registry.DueState
	band       registry.Band
	validUntil calendar.Date
	role       registry.PositionRole
}

// firstSet is how many years back the oldest anchors were set.
const firstSet = 32

func (s *Synthetic) traits(n int) traits {
	m := chanceOf(sortAnchor, n)
	t := traits{setOn: s.AsOf.AddDays(-m.between(40, firstSet*365)), person: m.between(0, groupPersons-1), batch: m.between(0, groupBatches-1)}
	year, _, _ := t.setOn.Civil()
	for t.product = 0; cragFashions[t.product].until < year; t.product++ {
	}
	t.fashion = cragFashions[t.product]
	t.adhesive, t.imported = t.form.Bonded(), m.oneIn(3)
	t.role = pick(m, []registry.PositionRole{registry.Runner, registry.Runner, registry.Runner, registry.Runner, registry.Belay, registry.LowerOff})
	for on := t.setOn.AddDays(m.between(300, 900)); on < s.AsOf && len(t.visits) < 4; on = on.AddDays(m.between(700, 2500)) {
		t.visits = append(t.visits, on)
	}
	if m.oneIn(30) && t.setOn < s.AsOf.AddYears(-2) {
		t.removedOn, t.visits = s.AsOf.AddDays(-m.between(10, 600)), nil
		t.standing = registry.StandingRemoved
		return t
	}
	s.stand(&t, m)
	return t
}

// stand invents how an anchor stands: about one in nine is overdue, one in
// twenty-five suspect or out of use.
func (s *Synthetic) stand(t *traits, m *maker) {
	late := m.between(-80, 640)
	t.dueOn, t.dueState, t.band = s.AsOf.AddDays(late), registry.NotDue, registry.BandWhenPassing
	switch {
	case late < 0:
		t.dueState, t.band = registry.Overdue, registry.BandThisSeason
	case late <= 60:
		t.dueState, t.band = registry.DueSoon, registry.BandThisYear
	}
	t.validUntil = s.AsOf.AddDays(m.between(1, 500))
	switch roll := m.between(1, 100); {
	case roll == 1:
		t.standing, t.band = registry.StandingOutOfUse, registry.BandNow
	case roll <= 4:
		t.standing, t.band = registry.StandingSuspect, registry.BandNow
	case roll <= 16:
		t.standing = registry.StandingWatch
	default:
		t.standing = registry.NoProblem
	}
}

// severity is that of the finding behind a standing; empty: none.
func (t *traits) severity() registry.Severity {
	switch t.standing {
	case registry.StandingOutOfUse:
		return registry.OutOfUse
	case registry.StandingSuspect:
		return registry.Suspect
	case registry.StandingWatch:
		return registry.Watch
	}
	return ""
}

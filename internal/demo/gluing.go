package demo

import (
	"fmt"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// gluings invents two gluing sessions: the one of last week, whose anchors
// nobody has allowed to be used yet, and the latest one before it. All else that
// was glued was put down anchor by anchor, as the group did until then.
func (s *scene) gluings() {
	m := newMaker(s.asOf, 4)
	lastWeek := s.asOf.AddDays(-6)
	s.gluing(m, s.gluedOn(lastWeek), "7")
	var before calendar.Date
	for k := range s.change.Installations {
		if on := s.change.Installations[k].DoneOn.From; on > before && on < lastWeek && len(s.gluedOn(on)) > 2 {
			before = on
		}
	}
	s.gluing(m, s.gluedOn(before), "6")
}

// gluedOn lists the installations of a day, by index, that name a batch.
func (s *scene) gluedOn(day calendar.Date) []int {
	var out []int
	for k := range s.change.Installations {
		if i := &s.change.Installations[k]; i.DoneOn.From == day && i.BatchID != nil {
			out = append(out, k)
		}
	}
	return out
}

// gluing puts installations of one day and site into a session of one cartridge:
// that of the first.
func (s *scene) gluing(m *maker, set []int, cartridge string) {
	if len(set) == 0 {
		return
	}
	first := s.change.Installations[set[0]]
	day, yes, no := first.DoneOn.From, true, false
	g := registry.GluingSession{
		ID: m.id(), SiteID: s.anchorOf(first.AnchorID).SiteID, DoneOn: first.DoneOn,
		AdhesiveID: first.AdhesiveID, BatchID: first.BatchID, ExpiresOn: s.expiry(*first.BatchID), Cartridge: cartridge,
		NozzleNew: &yes, OpenedAt: around(day, 10, 0, "about 10"), FirstMixDiscarded: &yes,
		RockC:   &registry.Reading{C: 9, How: registry.Measured},
		AirC:    &registry.Reading{C: 12, How: registry.Measured},
		NightC:  &registry.Reading{C: 4, How: registry.Assumed},
		SetByID: &s.persons[0], SupervisedByID: &s.persons[4], CheckedByID: &s.persons[2],
		MethodStatement: "Invented method statement, issue 2", SampleKept: &yes, SampleWhere: "In the lunch tin by the lower-off", SampleAtRock: &no,
		Words: "Invented for the demonstration.", Origin: registry.Recorded, RecordedAt: day.Time().Add(20 * time.Hour),
	}
	s.change.Sessions = append(s.change.Sessions, g)
	for n, k := range set {
		i := &s.change.Installations[k]
		if s.anchorOf(i.AnchorID).SiteID != g.SiteID {
			continue
		}
		i.SessionID, i.AdhesiveID, i.BatchID, i.PersonID = &g.ID, nil, nil, nil
		s.describe(m, i, n)
	}
}

// describe fills in what the card asks of the n-th anchor of a session.
func (s *scene) describe(m *maker, i *registry.Installation, n int) {
	yes, cycles, full := true, 4, 66.0
	a := s.anchorOf(i.AnchorID)
	i.Form, i.HardwareID = a.Form, a.ProductID
	i.CleaningCycles, i.Moisture = &cycles, pick(m, []registry.Moisture{registry.HoleDry, registry.HoleDry, registry.HoleDamp})
	i.SetAt = around(i.DoneOn.From, 10, 20*(n+1), fmt.Sprintf("about %s", clock(10, 20*(n+1))))
	i.EdgeDistance, i.Embedded = millimetres(float64(m.between(15, 40)*10)), a.Length
	i.DryFit, i.FromBottom, i.FillPct, i.AsDrawn, i.SurplusWiped = &yes, &yes, &full, &yes, &yes
	i.Hole = registry.HoleNew
}

// around is half an hour either way of a time of day, UTC.
func around(day calendar.Date, hour, minute int, words string) calendar.Moment {
	at := day.Time().Add(time.Duration(hour)*time.Hour + time.Duration(minute)*time.Minute)
	return calendar.Moment{From: at.Add(-30 * time.Minute), To: at.Add(30 * time.Minute), Words: words}
}

func clock(hour, minute int) string { return fmt.Sprintf("%02d:%02d", hour+minute/60, minute%60) }

func (s *scene) anchorOf(id uuid.UUID) *registry.Anchor {
	for k := range s.change.Anchors {
		if s.change.Anchors[k].ID == id {
			return &s.change.Anchors[k]
		}
	}
	return &registry.Anchor{}
}

func (s *scene) expiry(batch uuid.UUID) calendar.Date {
	for k := range s.change.Batches {
		if s.change.Batches[k].ID == batch {
			return s.change.Batches[k].ExpiresOn
		}
	}
	return 0
}

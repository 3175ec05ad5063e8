package app_test

import (
	"testing"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// around is from one to another time of the day, in hours after its beginning by
// UTC, which is also the clock of the group's place then.
func around(day calendar.Date, from, to float64) calendar.Moment {
	hours := func(h float64) time.Time { return day.Time().Add(time.Duration(h * float64(time.Hour))) }
	return calendar.Moment{From: hours(from), To: hours(to)}
}

// settingSent is a session with its one installation, on their way.
type settingSent struct {
	s *registry.GluingSession
	i *registry.Installation
}

// A time is of the day of its record and has come. The clock stands at noon of
// the first day.
func TestTimesOfASetting(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	yesterday := calendar.Exactly(firstDay - 1)
	for _, c := range []struct {
		name  string
		edit  func(*settingSent)
		field string
		code  fault.Code
	}{
		{"set an hour from now", func(s *settingSent) { s.i.SetAt = around(firstDay, 13, 13) }, "installations[0].set_at", fault.DateAhead},
		{"set about now", func(s *settingSent) { s.i.SetAt = around(firstDay, 11.5, 12.5) }, "", ""},
		{"set a year before its day", func(s *settingSent) { s.i.SetAt = around(firstDay-365, 9, 9) }, "installations[0].set_at", fault.Mismatch},
		{"set a minute before its day", func(s *settingSent) {
			s.i.SetAt = around(firstDay-1, 23.9, 23.95)
		}, "installations[0].set_at", fault.Mismatch},
		{"set in the last minute of its day", func(s *settingSent) {
			s.s.DoneOn, s.i.DoneOn, s.i.SetAt = yesterday, yesterday, around(firstDay-1, 23.99, 23.99)
		}, "", ""},
		{"set at the midnight after its day", func(s *settingSent) {
			s.s.DoneOn, s.i.DoneOn, s.i.SetAt = yesterday, yesterday, around(firstDay, 0, 0)
		}, "installations[0].set_at", fault.Mismatch},
		{"set about midnight", func(s *settingSent) {
			s.s.DoneOn, s.i.DoneOn, s.i.SetAt = yesterday, yesterday, around(firstDay-1, 23, 25)
		}, "", ""},
		{"opened after it was set", func(s *settingSent) {
			s.s.OpenedAt, s.i.SetAt = around(firstDay, 10, 10), around(firstDay, 9, 9)
		}, "installations[0].set_at", fault.Order},
		{"opened perhaps before it was set", func(s *settingSent) {
			s.s.OpenedAt, s.i.SetAt = around(firstDay, 9.5, 10.5), around(firstDay, 9, 10)
		}, "", ""},
		{"opened the day before", func(s *settingSent) { s.s.OpenedAt = around(firstDay-1, 9, 9) }, "", ""},
		{"opened an hour from now", func(s *settingSent) { s.s.OpenedAt = around(firstDay, 13, 13) }, "opened_at", fault.DateAhead},
		{"opened the day after the session", func(s *settingSent) {
			s.s.DoneOn, s.i.DoneOn, s.s.OpenedAt = yesterday, yesterday, around(firstDay, 9, 9)
		}, "opened_at", fault.Mismatch},
		{"set on another day than the session", func(s *settingSent) { s.s.DoneOn = yesterday }, "installations[0].done_on", fault.Mismatch},
		{"set on one day of the session", func(s *settingSent) { s.s.DoneOn.From = firstDay - 1 }, "", ""},
		{"no day of its own", func(s *settingSent) { s.i.DoneOn = calendar.Span{} }, "", ""},
	} {
		g := w.gluing(w.addPosition(t, c.name))
		g.Session.OpenedAt, g.BatchText = calendar.Moment{}, ""
		c.edit(&settingSent{s: &g.Session, i: &g.Installations[0]})
		_, _, err := w.RecordGluing(t.Context(), w.who, g)
		if c.code != "" {
			violated(t, c.name, err, c.field, c.code)
		} else if err != nil {
			t.Errorf("%s: %v, want it taken", c.name, err)
		}
	}
}

// What is recorded after a setting does not come before it.
func TestTimesAfterASetting(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	g := w.gluing(w.positions[0])
	g.Session.OpenedAt, g.Installations[0].SetAt = around(firstDay, 8, 8), around(firstDay, 9, 9)
	if _, _, err := w.RecordGluing(t.Context(), w.who, g); err != nil {
		t.Fatal(err)
	}
	record := func() registry.Record {
		return registry.Record{ID: sample.ID(), AnchorID: g.Anchors[0].ID, DoneOn: calendar.Exactly(firstDay), PersonID: &w.person.ID}
	}
	loaded := func(at calendar.Moment) error {
		_, _, err := w.RecordCure(t.Context(), w.who, registry.Cure{Record: record(), LoadedAt: at})
		return err
	}
	violated(t, "loaded before it was set", loaded(around(firstDay, 8, 8.9)), "loaded_at", fault.Order)
	violated(t, "loaded an hour from now", loaded(around(firstDay, 13, 13)), "loaded_at", fault.DateAhead)
	if err := loaded(around(firstDay, 8.5, 9.5)); err != nil {
		t.Errorf("loaded perhaps after it was set: %v", err)
	}
	right := registry.Gluing{Session: g.Session}
	right.Session.ID, right.Session.Replaces, right.Session.OpenedAt = sample.ID(), &g.Session.ID, around(firstDay, 10, 10)
	_, _, err := w.RecordGluing(t.Context(), w.who, right)
	violated(t, "corrected to be opened after it was set", err, "opened_at", fault.Order)
	late := w.installation(w.standing.ID)
	late.SessionID, late.SetAt = &g.Session.ID, around(firstDay, 7, 7)
	_, _, err = w.RecordInstallation(t.Context(), w.who, late)
	violated(t, "set before its session's cartridge was opened", err, "set_at", fault.Order)
	bolt := add(t, w.house, registry.Anchor{PositionID: w.positions[1].ID, Form: registry.ThroughBolt, SetOn: calendar.Exactly(firstDay - 2)}, w.AddAnchor)
	use := registry.FirstUse{Record: record(), At: around(firstDay-1, 9, 9)}
	use.AnchorID = bolt.ID
	_, _, err = w.RecordFirstUse(t.Context(), w.who, use)
	violated(t, "used first at a time of another day", err, "at", fault.Mismatch)
}

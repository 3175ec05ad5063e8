package app

import (
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/sheetcheck"
)

// onDay refuses a moment that lies wholly outside the day of its record, which
// runs from midnight to midnight in the group's zone. What began before midnight
// and ended after it is of either day. What is not known refuses nothing.
func onDay(c *fault.Checks, field string, m calendar.Moment, day calendar.Span, zone *time.Location) {
	if m.Known() && day.Known() {
		within := !m.To.Before(midnight(day.From, zone)) && m.From.Before(midnight(day.To+1, zone))
		c.Require(within, field, fault.Mismatch, "with", "done_on")
	}
}

// midnight is the instant at which a day begins.
func midnight(day calendar.Date, zone *time.Location) time.Time {
	y, m, d := day.Civil()
	return time.Date(y, m, d, 0, 0, 0, 0, zone)
}

// come refuses a moment that surely lies ahead.
func come(c *fault.Checks, field string, m calendar.Moment, now time.Time) {
	c.Require(!m.From.After(now), field, fault.DateAhead, "now", now.UTC().Format(time.RFC3339))
}

// setTime wants an installation to be set on its day, not ahead, and not surely
// before its session's cartridge was opened; and its day to be one that the
// session may have been on. session may be nil: it names none.
func setTime(c *fault.Checks, at *scene, i *registry.Installation, session *registry.GluingSession) {
	onDay(c, "set_at", i.SetAt, i.DoneOn, at.zone)
	come(c, "set_at", i.SetAt, at.now)
	if session == nil {
		return
	}
	apart := i.DoneOn.Known() && session.DoneOn.Known() && (i.DoneOn.From > session.DoneOn.To || i.DoneOn.To < session.DoneOn.From)
	ahead := i.DoneOn.To > at.asOf // is told already
	c.Require(!apart || ahead, "done_on", fault.Mismatch, "with", "session")
	c.Require(apart || !openedAfter(session, i), "set_at", fault.Order, "opened_at", session.OpenedAt.From.UTC().Format(time.RFC3339))
}

// openedAfter says whether a session's cartridge surely was opened only after an
// anchor was set.
func openedAfter(s *registry.GluingSession, i *registry.Installation) bool {
	return s.OpenedAt.Known() && i.SetAt.Known() && s.OpenedAt.From.After(i.SetAt.To)
}

// openedTime wants a session's cartridge not to be opened ahead, nor after the
// last day of the session. It may have been opened on an earlier day.
func openedTime(c *fault.Checks, at *scene, s *registry.GluingSession) {
	come(c, "opened_at", s.OpenedAt, at.now)
	if s.OpenedAt.Known() && s.DoneOn.Known() {
		c.Require(s.OpenedAt.From.Before(midnight(s.DoneOn.To+1, at.zone)), "opened_at", fault.Mismatch, "with", "done_on")
	}
}

// openedBefore wants what a session corrects not to make its cartridge be opened
// after an anchor was set with it.
func openedBefore(c *fault.Checks, f *registry.Facts, s *registry.GluingSession) {
	now := f.Current()
	for k := range now.Installations {
		i := &now.Installations[k]
		was := now.SessionOf(i)
		if was == nil || s.Replaces == nil || was.ID != *s.Replaces {
			continue
		}
		c.Require(!openedAfter(s, i), "opened_at", fault.Order, "first_set_at", i.SetAt.To.UTC().Format(time.RFC3339))
	}
}

// loadedTime wants an anchor to be loaded after it was set, and not ahead.
func loadedTime(c *fault.Checks, at *scene, r *registry.Cure) {
	come(c, "loaded_at", r.LoadedAt, at.now)
	now := at.facts.Current()
	set := settingOf(&now, at, r)
	if set == nil || !r.LoadedAt.Known() {
		return
	}
	since := set.SetAt.From
	if !set.SetAt.Known() && set.DoneOn.Known() {
		since = midnight(set.DoneOn.From, at.zone)
	}
	c.Require(!r.LoadedAt.To.Before(since), "loaded_at", fault.Order, "set_at", since.UTC().Format(time.RFC3339))
}

// settingOf finds the installation that a cure is about; nil: none on record.
func settingOf(now *registry.Facts, at *scene, r *registry.Cure) *registry.Installation {
	id := r.InstallationID
	if latest, ok := sheetcheck.Cure(now, &at.rules); ok && id == nil {
		id = &latest.InstallationID
	}
	for k := range now.Installations {
		if id != nil && now.Installations[k].ID == *id {
			return &now.Installations[k]
		}
	}
	return nil
}

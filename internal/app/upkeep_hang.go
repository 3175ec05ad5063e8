package app

import (
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// swapFittings lets fittings end and hang as the records of maintenance that
// count now, and no longer count, have it. fresh is one that the register does
// not know yet; nil: none.
func swapFittings(before, after *registry.Facts, fresh *registry.Fitting, c *registry.Change) {
	was, is := before.Current().Maintenance, after.Current().Maintenance
	s := swap{fittings: slices.Clone(after.Fittings), fresh: fresh, changed: make(map[uuid.UUID]bool)}
	for i := range was {
		if maintenanceIn(is, was[i].ID) == nil {
			s.undo(&was[i])
		}
	}
	for i := range is {
		if maintenanceIn(was, is[i].ID) == nil {
			s.do(&is[i])
		}
	}
	if len(s.changed) == 0 {
		return
	}
	after.Fittings = s.fittings
	for _, f := range s.fittings {
		if s.changed[f.ID] {
			c.Fittings = append(c.Fittings, f)
		}
	}
}

// swap is an anchor's fittings while they change.
type swap struct {
	fittings []registry.Fitting
	fresh    *registry.Fitting
	changed  map[uuid.UUID]bool
}

// do ends the fitting that was renewed or taken off, and hangs the new one.
func (s *swap) do(m *registry.Maintenance) {
	if old := s.of(m.FittingID); old != nil && m.Ends() && old.EndedOn.IsZero() {
		old.EndedOn = m.DoneOn.To
		s.changed[old.ID] = true
	}
	switch n := s.of(m.NewFittingID); {
	case n != nil && neverHung(n):
		n.EndedOn, n.SetOn = 0, m.DoneOn
		s.changed[n.ID] = true
	case n == nil && s.fresh != nil && sameID(m.NewFittingID, &s.fresh.ID):
		s.fittings = append(s.fittings, *s.fresh)
		s.changed[s.fresh.ID] = true
	}
}

// undo lets the old fitting hang again. The new one counts as never hung, unless
// it was ended since.
func (s *swap) undo(m *registry.Maintenance) {
	if old := s.of(m.FittingID); old != nil && endedBy(old, m) {
		old.EndedOn = 0
		s.changed[old.ID] = true
	}
	if n := s.of(m.NewFittingID); n != nil && n.EndedOn.IsZero() {
		n.EndedOn = n.SetOn.From
		s.changed[n.ID] = true
	}
}

// of finds a fitting; nil: none.
func (s *swap) of(id *uuid.UUID) *registry.Fitting {
	if id == nil {
		return nil
	}
	i := fittingIn(s.fittings, *id)
	if i < 0 {
		return nil
	}
	return &s.fittings[i]
}

// endedBy says whether a record of maintenance ended a fitting.
func endedBy(f *registry.Fitting, m *registry.Maintenance) bool {
	return m.Ends() && sameID(m.FittingID, &f.ID) && !f.EndedOn.IsZero() && f.EndedOn == m.DoneOn.To
}

// neverHung says that a fitting ended on the day it was hung: the record it came
// with was taken back.
func neverHung(f *registry.Fitting) bool { return !f.EndedOn.IsZero() && f.EndedOn == f.SetOn.From }

package demo

import (
	"math"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// Sections of fittings when new, mm.
const (
	ringSection    = 10
	maillonSection = 8
	leastLeft      = 0.8 // share of a ring's section at which the group changed it
)

// hang invents what hangs on an anchor: a hanger on whatever has no eye, a ring
// on a belay and a lower-off, a maillon between a hanger and its ring. It
// returns the ring that hangs there, nil where there is none.
func (s *scene) hang(a registry.Anchor, pos registry.Position, f fashion) *registry.Fitting {
	fitting := func(kind registry.FittingKind, section float64) registry.Fitting {
		out := registry.Fitting{
			ID: s.id(), AnchorID: a.ID, Kind: kind, Presence: registry.Present, Metal: f.metal, MetalWords: f.words, SetOn: a.SetOn,
		}
		if section > 0 {
			out.New = millimetres(section)
		}
		return out
	}
	bare := !a.Form.Bonded() || a.Form == registry.BondedStud
	if bare {
		s.change.Fittings = append(s.change.Fittings, fitting(registry.Hanger, 0))
	}
	if pos.Role != registry.Belay && pos.Role != registry.LowerOff {
		return nil
	}
	if bare {
		s.change.Fittings = append(s.change.Fittings, fitting(registry.Maillon, maillonSection))
	}
	ring := fitting(registry.Ring, ringSection)
	if changed := a.SetOn.From.AddYears(12); !a.Removed && changed < s.asOf.AddYears(-1) {
		old := ring
		old.EndedOn = changed
		s.change.Fittings = append(s.change.Fittings, old)
		ring.ID, ring.SetOn = s.id(), calendar.Exactly(changed)
	}
	s.change.Fittings = append(s.change.Fittings, ring)
	return &ring
}

// ringsIn returns what is left of each ring that hangs: as when it was last
// measured, or as new.
func ringsIn(c registry.Change) map[uuid.UUID]registry.Measurement {
	least := map[uuid.UUID]quantity.Length{} // by fitting
	for _, i := range c.Inspections {
		for _, m := range i.Measured {
			if left, ok := least[*m.FittingID]; !ok || m.Left < left {
				least[*m.FittingID] = m.Left
			}
		}
	}
	rings := map[uuid.UUID]registry.Measurement{}
	for _, f := range c.Fittings {
		if f.Kind != registry.Ring || !f.EndedOn.IsZero() {
			continue
		}
		left, ok := least[f.ID]
		if !ok {
			left = *f.New
		}
		id := f.ID
		rings[f.AnchorID] = registry.Measurement{FittingID: &id, Left: left}
	}
	return rings
}

// measured is what an inspector measured of a ring on a day, to a tenth of a
// millimetre; nothing of a ring that was not there yet.
func measured(ring *registry.Fitting, on calendar.Date, wear float64) []registry.Measurement {
	if ring == nil || on <= ring.SetOn.From {
		return nil
	}
	years := float64(on-ring.SetOn.From) / 365.25
	left := ring.New.Millimetres() * max(1-wear*years, leastLeft)
	id := ring.ID
	return []registry.Measurement{{FittingID: &id, Left: quantity.Length(math.Round(10*left) / 10)}}
}

package houserules

import (
	"math"
	"slices"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// Reading is the thinnest section of one point that one inspection measured.
type Reading struct {
	Inspection *registry.Inspection
	Left       quantity.Length
}

// WearPoint is a point that was measured, with all its readings.
type WearPoint struct {
	Fitting *registry.Fitting // nil: the anchor's eye
	New     *quantity.Length  // nil: not known
	// Readings begin with the thinnest, of two equal ones with the newer: metal
	// does not grow back, so that a thicker reading lifts no thinner one. There
	// is always one.
	Readings []Reading
}

// LostPct returns the share of the new thickness that is gone where that much
// is left, in per cent and never below 0; nil if the new thickness is not known.
// It is rounded to a millionth, so that a tenth is a tenth.
func (p *WearPoint) LostPct(left quantity.Length) *float64 {
	if p.New == nil || !(*p.New > 0) {
		return nil
	}
	lost := max(100*(1-float64(left / *p.New)), 0)
	lost = math.Round(lost*1e6) / 1e6
	return &lost
}

// WearPoints returns the points of the anchor and of the fittings that hang on
// it on a day for which an inspection on a known day has a reading: the eye
// first, then in the order of the facts. The new thickness is that of the
// fitting, or else the greatest that an inspection gave.
func WearPoints(f *registry.Facts, asOf calendar.Date) []WearPoint {
	measured := false
	for k := range f.Inspections {
		measured = measured || len(f.Inspections[k].Measured) > 0
	}
	if !measured {
		return nil
	}
	var points []WearPoint
	if p, ok := wearPoint(f, nil); ok {
		points = append(points, p)
	}
	for k := range f.Fittings {
		if !f.Fittings[k].Hangs(asOf) {
			continue
		}
		if p, ok := wearPoint(f, &f.Fittings[k]); ok {
			points = append(points, p)
		}
	}
	return points
}

// wearPoint gathers the readings of one fitting, or of the eye.
func wearPoint(f *registry.Facts, fitting *registry.Fitting) (WearPoint, bool) {
	p := WearPoint{Fitting: fitting}
	for k := range f.Inspections {
		i := &f.Inspections[k]
		if i.NotFound() || !i.DoneOn.Known() {
			continue
		}
		r, size := reading(i, fitting)
		if r.Inspection != nil {
			p.Readings = append(p.Readings, r)
		}
		p.New = greater(p.New, size)
	}
	if fitting != nil && fitting.New != nil {
		p.New = fitting.New
	}
	slices.SortFunc(p.Readings, thinnestFirst)
	return p, len(p.Readings) > 0
}

func thinnestFirst(a, b Reading) int {
	switch {
	case a.Left < b.Left:
		return -1
	case a.Left > b.Left || Newer(b.Inspection, a.Inspection):
		return 1
	case Newer(a.Inspection, b.Inspection):
		return -1
	}
	return 0
}

// reading returns the thinnest of an inspection's readings of a point, and the
// new thickness if it says that.
func reading(i *registry.Inspection, fitting *registry.Fitting) (Reading, *quantity.Length) {
	var r Reading
	var size *quantity.Length
	for k := range i.Measured {
		m := &i.Measured[k]
		if (m.FittingID == nil) != (fitting == nil) || fitting != nil && *m.FittingID != fitting.ID {
			continue
		}
		if r.Inspection == nil || m.Left < r.Left {
			r = Reading{i, m.Left}
		}
		size = greater(size, m.New)
	}
	return r, size
}

// greater returns the greater of two lengths, one that is known before one that
// is not.
func greater(a, b *quantity.Length) *quantity.Length {
	if a == nil || b != nil && *b > *a {
		return b
	}
	return a
}

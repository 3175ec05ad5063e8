package houserules

import (
	"math"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// Reading is the thinnest section of one point that one inspection measured.
type Reading struct {
	Inspection *registry.Inspection
	Left       quantity.Length
}

// WearPoint is a point that was measured, with its last readings.
type WearPoint struct {
	Fitting *registry.Fitting // nil: the anchor's eye
	New     *quantity.Length  // nil: not known
	Last    Reading
	Before  Reading // the one before; no inspection: none
}

// LostPct returns the share of the new thickness that is gone, in per cent and
// never below 0; nil if the new thickness is not known. It is rounded to a
// millionth, so that a tenth is a tenth.
func (p *WearPoint) LostPct() *float64 {
	if p.New == nil || !(*p.New > 0) {
		return nil
	}
	lost := max(100*(1-float64(p.Last.Left / *p.New)), 0)
	lost = math.Round(lost*1e6) / 1e6
	return &lost
}

// WearPoints returns the points of the anchor and of the fittings that hang on
// it on a day for which an inspection on a known day has a reading: the eye
// first, then in the order of the facts. The new thickness is that of the
// fitting, or else what the latest inspection that says it gave.
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
	var sized *registry.Inspection
	for k := range f.Inspections {
		i := &f.Inspections[k]
		if i.NotFound() || !i.DoneOn.Known() {
			continue
		}
		r, size := reading(i, fitting)
		if r.Inspection != nil {
			p.keep(r)
		}
		if size != nil && (sized == nil || Newer(i, sized)) {
			p.New, sized = size, i
		}
	}
	if fitting != nil && fitting.New != nil {
		p.New = fitting.New
	}
	return p, p.Last.Inspection != nil
}

// keep sorts a reading into the last two.
func (p *WearPoint) keep(r Reading) {
	switch {
	case p.Last.Inspection == nil || Newer(r.Inspection, p.Last.Inspection):
		p.Last, p.Before = r, p.Last
	case p.Before.Inspection == nil || Newer(r.Inspection, p.Before.Inspection):
		p.Before = r
	}
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
		if m.New != nil && (size == nil || *m.New > *size) {
			size = m.New
		}
	}
	return r, size
}

package houserules_test

import (
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/houserules"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// point is a WearPoint laid flat, with -1 for what is not known.
type point struct {
	fitting      uuid.UUID
	lost         float64
	last, before quantity.Length
}

func points(f *registry.Facts, asOf string) []point {
	var out []point
	for _, p := range houserules.WearPoints(f, day(asOf)) {
		flat := point{lost: -1, last: p.Last.Left, before: -1}
		if p.Fitting != nil {
			flat.fitting = p.Fitting.ID
		}
		if lost := p.LostPct(); lost != nil {
			flat.lost = *lost
		}
		if p.Before.Inspection != nil {
			flat.before = p.Before.Left
		}
		out = append(out, flat)
	}
	return out
}

func TestWearPoints(t *testing.T) {
	t.Parallel()
	ring, chain := uuid.UUID{1}, uuid.UUID{2}
	mm := func(v quantity.Length) *quantity.Length { return &v }
	measured := func(on string, list ...registry.Measurement) registry.Inspection {
		return inspection(on, func(i *registry.Inspection) { i.ID[0], i.Measured = byte(i.DoneOn.From), list })
	}
	f := registry.Facts{
		Fittings: []registry.Fitting{{ID: ring, New: mm(10)}, {ID: chain, EndedOn: day("2025-06-01")}},
		Inspections: []registry.Inspection{
			measured("2025-01-01", registry.Measurement{FittingID: &ring, Left: 9, New: mm(12)}, registry.Measurement{FittingID: &ring, Left: 9.5}),
			measured("2023-01-01", registry.Measurement{FittingID: &ring, Left: 10}, registry.Measurement{Left: 12, New: mm(12)}),
			measured("2024-01-01", registry.Measurement{FittingID: &ring, Left: 9.7}, registry.Measurement{FittingID: &chain, Left: 1}),
		},
	}
	got := points(&f, "2025-06-01")
	if len(got) != 2 || got[0].fitting != uuid.Nil || got[0].lost != 0 || got[1].fitting != ring {
		t.Fatalf("WearPoints = %+v, want the eye and the ring", got)
	}
	// 1 mm of the 10 mm on record, by the thinner of two readings
	if got[1].lost != 10 || got[1].last != 9 || got[1].before != 9.7 {
		t.Errorf("the ring = %+v, want 10 %% lost, 9 mm after 9.7 mm", got[1])
	}
	f.Inspections = f.Inspections[2:]
	if got := points(&f, "2025-05-31"); len(got) != 2 || got[1].lost != -1 || got[1].before != -1 {
		t.Errorf("WearPoints = %+v, want the chain, how thick it was not known", got)
	}
}

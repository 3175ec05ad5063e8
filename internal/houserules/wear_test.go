package houserules_test

import (
	"slices"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/houserules"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// point is a WearPoint laid flat, with -1 for what is not known.
type point struct {
	fitting  uuid.UUID
	lost     float64 // by the thinnest reading
	readings []quantity.Length
}

func points(f *registry.Facts, asOf string) []point {
	var out []point
	for _, p := range houserules.WearPoints(f, day(asOf)) {
		flat := point{lost: -1}
		if p.Fitting != nil {
			flat.fitting = p.Fitting.ID
		}
		if lost := p.LostPct(p.Readings[0].Left); lost != nil {
			flat.lost = *lost
		}
		for _, r := range p.Readings {
			flat.readings = append(flat.readings, r.Left)
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
	if got[1].lost != 10 || !slices.Equal(got[1].readings, []quantity.Length{9, 9.7, 10}) {
		t.Errorf("the ring = %+v, want 10 %% lost, the thinnest of 9, 9.7 and 10 mm first", got[1])
	}
	f.Inspections = f.Inspections[2:]
	if got := points(&f, "2025-05-31"); len(got) != 2 || got[1].lost != -1 || len(got[1].readings) != 1 {
		t.Errorf("WearPoints = %+v, want the chain, how thick it was not known", got)
	}
}

// Metal does not grow back: judgement of this project.
func TestTheThinnestReadingComesFirstAndTheGreatestNewThicknessCounts(t *testing.T) {
	t.Parallel()
	mm := func(v quantity.Length) *quantity.Length { return &v }
	eye := func(on string, left quantity.Length, size *quantity.Length) registry.Inspection {
		return inspection(on, func(i *registry.Inspection) {
			i.ID[0], i.Measured = byte(i.DoneOn.From), []registry.Measurement{{Left: left, New: size}}
		})
	}
	f := registry.Facts{Inspections: []registry.Inspection{
		eye("2023-01-01", 7.5, mm(10)), eye("2024-01-01", 9.5, nil), eye("2025-01-01", 7.5, mm(7.6)),
	}}
	got := houserules.WearPoints(&f, day("2025-06-01"))
	if len(got) != 1 || *got[0].LostPct(got[0].Readings[0].Left) != 25 || got[0].Readings[0].Inspection != &f.Inspections[2] {
		t.Errorf("WearPoints = %+v, want 25 %% of 10 mm lost, by the newer of two readings of 7.5 mm", got)
	}
}

package app_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/demo"
	"rockledger/internal/houserules"
	"rockledger/internal/pgtest"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/sample"
)

// BenchmarkInspection records inspections of one anchor, alone and with the
// anchor assessed anew: the difference is what re-assessing adds to a change.
// Its goal is under 2 ms.
func BenchmarkInspection(b *testing.B) {
	for name, assessed := range map[string]bool{"alone": false, "with re-assessment": true} {
		b.Run(name, func(b *testing.B) { benchmarkInspection(b, assessed) })
	}
}

func benchmarkInspection(b *testing.B, assessed bool) {
	store, who, anchor := oneAnchor(b)
	asOf := calendar.On(sample.At, time.UTC)
	i := 0
	for b.Loop() {
		i++
		inspection := sample.Inspection(anchor)
		inspection.ID, inspection.DoneOn = uuid.Must(uuid.NewV7()), calendar.Exactly(asOf.AddDays(-i%300))
		err := store.Change(b.Context(), who, []uuid.UUID{anchor.ID}, func(all []registry.Facts, rules houserules.Rules) (registry.Change, error) {
			c := registry.Change{What: "inspection", At: sample.At, Inspections: []registry.Inspection{inspection}}
			if assessed {
				f := all[0]
				f.Inspections = append(f.Inspections[:len(f.Inspections):len(f.Inspections)], inspection)
				c.Assessments = []registry.Assessment{assess.Anchor(f, rules, asOf)}
			}
			return c, nil
		})
		if err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLongList reads a synthetic list of 5,000 rows on 100 sites and enters
// it piece by piece into a group that is empty, then once more. Allocations and
// memory are those of the service.
func BenchmarkLongList(b *testing.B) {
	const rows, sites = 5000, 100
	data := demo.SyntheticList(rows, sites)
	for _, again := range []bool{false, true} {
		name := map[bool]string{false: "entered", true: "the same file again"}[again]
		b.Run(name, func(b *testing.B) {
			h := newHouse(b)
			if again {
				h.enterLong(b, h.who, data)
			}
			b.ReportAllocs()
			n := 0
			for b.Loop() {
				who := h.who
				if n++; !again {
					who = h.addGroup(b, fmt.Sprintf("group-%d", n))
				}
				h.enterLong(b, who, data)
			}
			b.ReportMetric(rows*float64(n)/b.Elapsed().Seconds(), "rows/s")
		})
	}
}

func (h *house) enterLong(b *testing.B, who registry.Actor, data []byte) {
	b.Helper()
	state, err := h.HandIn(b.Context(), who, parse(b, "long.csv", data))
	if err == nil {
		_, err = h.RunImport(b.Context(), who, state.ID, func(report.ImportState) {})
	}
	if err != nil {
		b.Fatal(err)
	}
}

// oneAnchor enters one anchor into a group of its own.
func oneAnchor(b *testing.B) (*postgres.Store, registry.Actor, registry.Anchor) {
	b.Helper()
	db := pgtest.New(b)
	group := sample.Group()
	rules, err := houserules.Default().JSON()
	if err != nil {
		b.Fatal(err)
	}
	if err := postgres.NewAdmin(db.Owner()).AddGroup(b.Context(), group, rules); err != nil {
		b.Fatal(err)
	}
	site := sample.Site()
	position := sample.Position(site)
	anchor := sample.Anchor(position)
	store, who := postgres.New(db.App), sample.Actor(group)
	err = store.Change(b.Context(), who, nil, func([]registry.Facts, houserules.Rules) (registry.Change, error) {
		return registry.Change{
			What: "entered", At: sample.At, Sites: []registry.Site{site}, Positions: []registry.Position{position}, Anchors: []registry.Anchor{anchor},
		}, nil
	})
	if err != nil {
		b.Fatal(err)
	}
	return store, who, anchor
}

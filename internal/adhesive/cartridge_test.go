package adhesive_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/adhesive"
	"rockledger/internal/fault"
)

// First-fit decreasing on small bin-packing sets, solved by hand and by
// exhaustion; the names of the sets are from memory. In the last two it needs
// one more than the optimum, 3: an upper estimate.
func TestPack(t *testing.T) {
	t.Parallel()
	for name, tc := range map[string]struct {
		ml    float64
		sizes []float64
		want  int
	}{
		"four, the optimum":      {100, []float64{70, 60, 50, 33, 33, 33, 11, 7, 3}, 4},
		"seven, the optimum":     {100, []float64{99, 94, 79, 64, 50, 46, 43, 37, 32, 19, 18, 7, 6, 3}, 7},
		"four, the optimum is 3": {100, []float64{49, 41, 34, 33, 29, 26, 26, 22, 20, 19}, 4},
		"order does not matter":  {10, []float64{2, 3, 5, 2, 3, 2, 3, 5, 2, 3}, 4},
		"nothing":                {10, nil, 0},
		"tenths":                 {3, []float64{0.1, 0.1, 0.1}, 1},
	} {
		lots := make([]adhesive.Lot, len(tc.sizes))
		for i, s := range tc.sizes {
			lots[i] = adhesive.Lot{ML: s, Holes: 1}
		}
		got, err := adhesive.Cartridge{ML: tc.ml, Nozzles: 1}.Pack(lots)
		if err != nil || got != tc.want {
			t.Errorf("%s: %d, %v, want %d", name, got, err, tc.want)
		}
	}
}

// By hand: 300 mL less 10 mL a nozzle, holes of 4.329 mL (3.330 mL with the
// default waste): 66 with one nozzle, 64 with two.
func TestHoles(t *testing.T) {
	t.Parallel()
	c := adhesive.DefaultCartridge()
	if got := c.Holes(4.329); got != 66 {
		t.Errorf("one nozzle: %d holes, want 66", got)
	}
	if c.Nozzles = 2; c.Holes(4.329) != 64 {
		t.Errorf("two nozzles: %d holes, want 64", c.Holes(4.329))
	}
	if got := (adhesive.Cartridge{ML: 3, Nozzles: 1}).Holes(0.1); got != 30 {
		t.Errorf("0.1 of 3: %d, want 30 in spite of float64", got)
	}
	if got := c.Holes(281); got != 0 {
		t.Errorf("a hole that takes more than a cartridge: %d, want 0", got)
	}
	n, err := c.Pack([]adhesive.Lot{{ML: 4.329, Holes: 64}, {ML: 4.329, Holes: 1}, {ML: 5, Holes: 0}})
	if err != nil || n != 2 {
		t.Errorf("65 holes at 64 a cartridge: %d, %v, want 2", n, err)
	}
}

func TestPackRejects(t *testing.T) {
	t.Parallel()
	for name, tc := range map[string]struct {
		c     adhesive.Cartridge
		field string
	}{
		"no size":             {adhesive.Cartridge{Nozzles: 1}, "cartridge_ml"},
		"size not a number":   {adhesive.Cartridge{ML: math.NaN(), Nozzles: 1}, "cartridge_ml"},
		"purge below zero":    {adhesive.Cartridge{ML: 300, PurgeML: -1, Nozzles: 1}, "purge_ml"},
		"no nozzle":           {adhesive.Cartridge{ML: 300}, "nozzles_per_cartridge"},
		"all purged":          {adhesive.Cartridge{ML: 300, PurgeML: 10, Nozzles: 30}, "purge_ml"},
		"hole takes too much": {adhesive.Cartridge{ML: 12, PurgeML: 10, Nozzles: 1}, "holes[1]"},
	} {
		n, err := tc.c.Pack([]adhesive.Lot{{ML: 1, Holes: 1}, {ML: 3, Holes: 1}})
		e, _ := fault.As(err)
		if n != 0 || e == nil || len(e.Violations) != 1 || e.Violations[0].Field != tc.field {
			t.Errorf("%s: %d, %v, want one violation of %s", name, n, err, tc.field)
		}
	}
}

// Never fewer cartridges than their content allows, fewer than one a hole at
// most, exact for one size; and one more hole of the same size never takes
// fewer.
func TestPackHoldsItsBounds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		c := adhesive.Cartridge{ML: rapid.Float64Range(100, 500).Draw(t, "ml"), PurgeML: 10, Nozzles: rapid.IntRange(1, 3).Draw(t, "nozzles")}
		var lots []adhesive.Lot
		sum, holes := 0.0, 0
		for range rapid.IntRange(1, 6).Draw(t, "lots") {
			l := adhesive.Lot{ML: rapid.Float64Range(1, 60).Draw(t, "hole"), Holes: rapid.IntRange(1, 30).Draw(t, "holes")}
			lots = append(lots, l)
			sum, holes = sum+l.ML*float64(l.Holes), holes+l.Holes
		}
		n, err := c.Pack(lots)
		if err != nil || float64(n) < sum/c.Usable()-1e-6 || n > holes {
			t.Fatalf("%+v of %+v: %d, %v", lots, c, n, err)
		}
		one := lots[:1]
		n, _ = c.Pack(one)
		if per := c.Holes(one[0].ML); n != (one[0].Holes+per-1)/per {
			t.Fatalf("%+v of %+v: %d", one, c, n)
		}
		if more, _ := c.Pack([]adhesive.Lot{{ML: one[0].ML, Holes: one[0].Holes + 1}}); more < n {
			t.Fatalf("one hole more takes %d after %d", more, n)
		}
	})
}

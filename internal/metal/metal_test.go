package metal_test

import (
	"math"
	"testing"

	"rockledger/internal/metal"
)

func TestPREN(t *testing.T) {
	t.Parallel()
	exactly := func(x float64) *metal.Range { return &metal.Range{Min: x, Max: x} }
	for _, tc := range []struct {
		name      string
		cr, mo, n float64
		want      float64
		published float64 // IMOA, "Stainless grades and properties", rounded there
	}{
		{"304", 18.1, 0, 0, 18.10, 18.1},
		{"K70: 316", 17.2, 2.1, 0, 24.13, 24.1},
		{"317L", 18.2, 3.1, 0, 28.43, 28.4},
		{"317LMN", 17.8, 4.1, 0.14, 33.57, 33.6},
		{"K74: 904L", 20, 4.3, 0, 34.19, 34.2},
		{"K73: 6 % Mo", 20, 6.1, 0.2, 43.33, 43.3},
		{"2304", 23, 0.3, 0.1, 25.59, 25.6},
		{"K71: 2205", 22, 3.1, 0.17, 34.95, 35.0},
		{"K72: 2507", 25, 4, 0.27, 42.52, 42.5},
	} {
		e := metal.Entry{Family: metal.Austenitic, Cr: exactly(tc.cr), Mo: exactly(tc.mo), N: exactly(tc.n)}
		lo, hi, ok := metal.PREN(e)
		if !ok || lo != hi || math.Abs(lo-tc.want) > 1e-9 || math.Abs(lo-tc.published) > 0.0501 {
			t.Errorf("PREN(%s) = %v to %v, %v, want %v (published %v)", tc.name, lo, hi, ok, tc.want, tc.published)
		}
	}
}

// Limits worked out by hand from EN 10088-1/-2/-3:2014 (partly from memory). K75:
// the lower limits of 1.4462, 1.4547 and 1.4529 (composition seen in open
// material data); the last two rows from memory.
func TestPRENFromLimits(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		grade  metal.Grade
		lo, hi float64
	}{
		{"1.4301", 17.5, 21.1},
		{"1.4307", 17.5, 21.1},
		{"1.4401", 23.1, 28.35},
		{"1.4404", 23.1, 28.35},
		{"1.4435", 25.25, 30.5},
		{"1.4462", 30.85, 38.07},
		{"1.4539", 32.2, 39.9},
		{"1.4547", 42.18, 47.6},
		{"1.4529", 41.2, 48.1},
		{"1.4410", 37.74, 46.45},
		{"1.4565", 42.0, 52.1},
		{"1.4362", 23.13, 29.18},
		{"1.4439", 31.62, 38.52},
	} {
		e, _ := metal.Lookup(tc.grade)
		lo, hi, ok := metal.PREN(e)
		if !ok || math.Abs(lo-tc.lo) > 1e-9 || math.Abs(hi-tc.hi) > 1e-9 {
			t.Errorf("PREN(%s) = %v to %v, %v, want %v to %v", tc.grade, lo, hi, ok, tc.lo, tc.hi)
		}
	}
}

func TestPRENHasNoAnswer(t *testing.T) {
	t.Parallel()
	full := &metal.Range{Min: 17, Max: 18}
	for _, g := range []metal.Grade{"1.4541", metal.Titanium2, metal.SteelBare} {
		e, ok := metal.Lookup(g)
		if !ok {
			t.Errorf("Lookup(%v) finds nothing", g)
		}
		if _, _, ok := metal.PREN(e); ok {
			t.Errorf("PREN(%v) has an answer", g)
		}
	}
	for _, f := range []metal.Family{metal.Ferritic, metal.TitaniumFamily} {
		if _, _, ok := metal.PREN(metal.Entry{Family: f, Cr: full, Mo: full, N: full}); ok {
			t.Errorf("PREN of a %v metal has an answer", f)
		}
	}
}

// EN 1993-1-4:2006+A1:2015, Table A.3, from memory.
func TestResistanceClasses(t *testing.T) {
	t.Parallel()
	listed := map[metal.Grade]int{}
	for class, grades := range [][]metal.Grade{
		1: {"1.4003", "1.4016", "1.4512"},
		2: {"1.4301", "1.4307", "1.4311", "1.4541", "1.4318", "1.4306", "1.4567", "1.4482"},
		3: {"1.4401", "1.4404", "1.4435", "1.4571", "1.4429", "1.4432", "1.4162", "1.4662", "1.4362", "1.4062", "1.4578"},
		4: {"1.4439", "1.4462", "1.4539"},
		5: {"1.4565", "1.4529", "1.4547", "1.4410", "1.4501", "1.4507"},
	} {
		for _, g := range grades {
			listed[g] = class
		}
	}
	for _, e := range metal.All() {
		if e.CRC != listed[e.Grade] {
			t.Errorf("class of %v = %v, want %v", e.Grade, e.CRC, listed[e.Grade])
		}
		delete(listed, e.Grade)
	}
	if len(listed) > 0 {
		t.Errorf("not in the table: %v", listed)
	}
}

func TestEntriesAreSound(t *testing.T) {
	t.Parallel()
	seen := map[metal.Grade]bool{}
	for _, e := range metal.All() {
		if seen[e.Grade] {
			t.Errorf("%v twice", e.Grade)
		}
		seen[e.Grade] = true
		if len(e.CommonNames) == 0 || e.Family == "" || e.Confidence == "" {
			t.Errorf("%v lacks a name, a family or a confidence", e.Grade)
		}
		if (e.Source == "") != (e.Confidence == metal.NoFigure) {
			t.Errorf("%v: source %q, confidence %q", e.Grade, e.Source, e.Confidence)
		}
		for _, r := range []*metal.Range{e.Cr, e.Ni, e.Mo, e.N} {
			if r != nil && (r.Min < 0 || r.Max < r.Min || r.Max > 100) {
				t.Errorf("%v: range %v", e.Grade, *r)
			}
		}
		for _, l := range e.Other {
			if l.Element == "" || l.Range.Min < 0 || l.Range.Max < l.Range.Min || l.Range.Max > 100 {
				t.Errorf("%v: limit %v", e.Grade, l)
			}
		}
		if got := e.Stainless(); got != metal.Stainless().Contains(e.Grade) {
			t.Errorf("%v: Stainless() = %v", e.Grade, got)
		}
	}
	if _, ok := metal.Lookup("1.9999"); ok {
		t.Error("Lookup(1.9999) finds something")
	}
}

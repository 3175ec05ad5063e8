package corrosion_test

import (
	"testing"

	"rockledger/internal/corrosion"
	"rockledger/internal/metal"
)

// K67: EN 1993-1-4:2006+A1:2015, Table A.4, from memory, confidence medium;
// agrees with what EN 13451-1 advises.
func TestPoolAllows(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		grade               metal.Grade
		cleaned, notCleaned bool
	}{
		{"1.4301", false, false},
		{"1.4404", true, false},
		{"1.4462", true, false},
		{"1.4410", true, false},
		{"1.4529", true, true}, // K67
		{"1.4162", false, false},
		{"1.4662", false, false},
		{"1.4362", false, false},
		{"1.4062", false, false},
		{"1.4539", true, false},
		{"1.4501", true, false},
		{"1.4507", true, false},
		{"1.4565", true, true},
		{"1.4547", true, true},
		{metal.Titanium2, false, false},
		{metal.SteelBare, false, false},
		{"1.9999", false, false},
	} {
		if got := corrosion.PoolAllows(tc.grade, corrosion.PoolCleaned); got != tc.cleaned {
			t.Errorf("PoolAllows(%v, cleaned) = %v, want %v", tc.grade, got, tc.cleaned)
		}
		if got := corrosion.PoolAllows(tc.grade, corrosion.PoolNotCleaned); got != tc.notCleaned {
			t.Errorf("PoolAllows(%v, not cleaned) = %v, want %v", tc.grade, got, tc.notCleaned)
		}
	}
}

// K68: EN 1993-1-4:2006+A1:2015, Table A.3, from memory, confidence medium.
func TestGradesFor(t *testing.T) {
	t.Parallel()
	three := corrosion.GradesFor(corrosion.ClassIII)
	for g, want := range map[metal.Grade]bool{"1.4301": false, "1.4404": true, "1.4462": true, "1.4303": false, "1.4436": true, metal.Titanium2: false} {
		if got := three.Contains(g); got != want {
			t.Errorf("GradesFor(III) holds %v: %v, want %v", g, got, want)
		}
	}
	for c := corrosion.ClassI; c < corrosion.ClassV; c++ {
		if !corrosion.GradesFor(c + 1).Within(corrosion.GradesFor(c)) {
			t.Errorf("GradesFor(%v) lacks grades of a higher class", c)
		}
	}
	if got := corrosion.ClassIV.String() + corrosion.Class(0).String() + corrosion.Class(6).String(); got != "IV" {
		t.Errorf("names of classes IV, none, none = %q", got)
	}
}

// Every stainless grade of the table has a class.
func TestClassOf(t *testing.T) {
	t.Parallel()
	for _, e := range metal.All() {
		if c, ok := corrosion.ClassOf(e.Grade); ok != e.Stainless() || ok && (c < corrosion.ClassI || c > corrosion.ClassV) {
			t.Errorf("ClassOf(%v) = %v, %v", e.Grade, c, ok)
		}
	}
}

// Judgement of this project, upon Table A.3.
func TestFitOf(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		grade    metal.Grade
		required corrosion.Class
		want     corrosion.Fit
	}{
		{"1.4404", corrosion.ClassII, corrosion.AboveClass},
		{"1.4404", corrosion.ClassIII, corrosion.OfClass},
		{"1.4404", corrosion.ClassIV, corrosion.OneShort},
		{"1.4404", corrosion.ClassV, corrosion.TwoOrMoreShort},
		{"1.4016", corrosion.ClassV, corrosion.TwoOrMoreShort},
		{metal.Titanium2, corrosion.ClassV, corrosion.AboveClass},
		{metal.SteelBare, corrosion.ClassII, corrosion.NotRated},
		{"1.9999", corrosion.ClassII, corrosion.NotRated},
		{"1.4404", 0, corrosion.NotRated},
		{metal.Titanium2, 0, corrosion.NotRated},
	} {
		if got := corrosion.FitOf(tc.grade, tc.required); got != tc.want {
			t.Errorf("FitOf(%v, %v) = %v, want %v", tc.grade, tc.required, got, tc.want)
		}
	}
}

package metal_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rockledger/internal/fault"
	"rockledger/internal/metal"
)

func TestNewSetSortsAndKeepsItsArguments(t *testing.T) {
	t.Parallel()
	given := []metal.Grade{"1.4404", "1.4301", "1.4404"}
	got := metal.NewSet(given...)
	if diff := cmp.Diff(metal.Set{"1.4301", "1.4404"}, got); diff != "" {
		t.Errorf("NewSet (-want +got):\n%s", diff)
	}
	if given[0] != "1.4404" || given[1] != "1.4301" {
		t.Errorf("NewSet changed its arguments: %v", given)
	}
}

func TestSetAnswers(t *testing.T) {
	t.Parallel()
	a4 := metal.NewSet("1.4401", "1.4404")
	if g, ok := metal.NewSet("1.4404").Single(); !ok || g != "1.4404" {
		t.Errorf("Single() = %v, %v, want 1.4404", g, ok)
	}
	if g, ok := a4.Single(); ok {
		t.Errorf("Single() of two = %v", g)
	}
	for name, bad := range map[string]bool{
		"contains its own":       !a4.Contains("1.4404"),
		"not another":            a4.Contains("1.4301"),
		"known":                  !a4.Known(),
		"empty is not known":     metal.NewSet().Known(),
		"part within whole":      !metal.NewSet("1.4404").Within(a4),
		"whole not within part":  a4.Within(metal.NewSet("1.4404")),
		"not known within any":   !metal.Set(nil).Within(a4),
		"equal":                  !a4.Equal(metal.NewSet("1.4404", "1.4401")),
		"unequal":                a4.Equal(metal.NewSet("1.4404")),
		"nil strings":            metal.Set(nil).Strings() == nil,
		"strings there and back": !metal.SetFromStrings(a4.Strings()).Equal(a4),
	} {
		if bad {
			t.Errorf("%s: does not hold", name)
		}
	}
}

func TestSetUnion(t *testing.T) {
	t.Parallel()
	grades := rapid.SliceOf(rapid.SampledFrom([]metal.Grade{"1.4301", "1.4401", "1.4404", metal.Titanium2, metal.SteelBare}))
	rapid.Check(t, func(t *rapid.T) {
		a, b := metal.NewSet(grades.Draw(t, "a")...), metal.NewSet(grades.Draw(t, "b")...)
		u := a.Union(b)
		if !u.Equal(b.Union(a)) || !a.Within(u) || !b.Within(u) || !slices.IsSorted(u) || !u.Union(u).Equal(u) {
			t.Errorf("Union(%v, %v) = %v", a, b, u)
		}
	})
}

func TestSetValidate(t *testing.T) {
	t.Parallel()
	e, ok := fault.As(metal.NewSet("1.4404", "1.9999", "tin").Validate())
	if !ok {
		t.Fatal("Validate() = nil, want two violations")
	}
	want := []fault.Violation{
		{Field: "[1]", Code: fault.Unknown, Values: map[string]string{"grade": "1.9999"}},
		{Field: "[2]", Code: fault.Unknown, Values: map[string]string{"grade": "tin"}},
	}
	if diff := cmp.Diff(want, e.Violations); diff != "" {
		t.Errorf("Validate() (-want +got):\n%s", diff)
	}
	if err := metal.NewSet("1.4404").Validate(); err != nil {
		t.Errorf("Validate() of a grade in the table = %v", err)
	}
}

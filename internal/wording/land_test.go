package wording_test

import (
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestOnParcels(t *testing.T) {
	t.Parallel()
	for want, parcels := range map[string][]registry.Parcel{
		"3 anchors in the rock.":                                     nil,
		"3 anchors in the rock, on North Field.":                     {{Name: "North Field"}},
		"3 anchors in the rock, on North Field, Moor and Mill Wood.": {{Name: "North Field"}, {Name: "Moor"}, {Name: "Mill Wood"}},
	} {
		if got := wording.OnParcels(3, parcels); got != want {
			t.Errorf("OnParcels(3, %v) = %q, want %q", parcels, got, want)
		}
	}
}

func TestProblemDone(t *testing.T) {
	t.Parallel()
	if got, want := wording.ProblemDone(wording.Done{Settled: 1, Inspected: 2, Open: 3}), "1 settled by a person; 2 inspected in the period, and the problem stands; 3 open."; got != want {
		t.Errorf("ProblemDone = %q, want %q", got, want)
	}
}

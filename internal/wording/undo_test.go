package wording_test

import (
	"strings"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/wording"
)

func TestInTheWayNamesPlaceAndRemedy(t *testing.T) {
	t.Parallel()
	general := wording.Fault(fault.InUse, nil)
	for _, what := range []string{
		"installation", "first use", "inspection", "maintenance", "marking", "removal", "settlement", "notice", "fitting", "changed", "anchor", "assembly", "corrected",
	} {
		got := wording.Fault(fault.InUse, map[string]string{"what": what, "place": "Fell End, B1", "detail": "3 May 2026"})
		if got == general || strings.Contains(got, "{") || strings.Count(got, ".") < 2 {
			t.Errorf("%s: %q, want what stands in the way and what to do", what, got)
		}
		if named := strings.Contains(got, "Fell End, B1"); named != (what != "assembly") {
			t.Errorf("%s: %q, place named: %v", what, got, named)
		}
	}
	for name, want := range map[string]string{"in_the_way": "12 in the way", "undone": "undone already", "open": "still being entered"} {
		if got := wording.Fault(fault.InUse, map[string]string{name: "12"}); !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q in it", name, got, want)
		}
	}
}

func TestCellChange(t *testing.T) {
	t.Parallel()
	if got, want := wording.CellChange(" ", "spins"), "“spins” instead of nothing"; got != want {
		t.Errorf("CellChange = %q, want %q", got, want)
	}
}

package wording_test

import (
	"testing"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestLandRecord(t *testing.T) {
	t.Parallel()
	on := calendar.Exactly(calendar.NewDate(2026, 5, 3))
	for want, r := range map[string]registry.LandRecord{
		"Inspected on 3 May 2026; verdict: keep. “Nut tightened.”": {Kind: "inspection", DoneOn: on, Verdict: registry.Keep, Words: "Nut tightened."},
		"Removed on 3 May 2026.":   {Kind: "removal", DoneOn: on},
		"Load test on 3 May 2026.": {Kind: "load-test", DoneOn: on},
	} {
		if got := wording.LandRecord(r); got != want {
			t.Errorf("LandRecord(%+v) = %q, want %q", r, got, want)
		}
	}
}

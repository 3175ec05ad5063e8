package wording_test

import (
	"testing"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestLegalHold(t *testing.T) {
	t.Parallel()
	day := calendar.NewDate(2026, time.May, 3)
	for _, tt := range []struct {
		hold registry.LegalHold
		want string
	}{
		{registry.LegalHold{Over: registry.HoldAll}, "Over everything, until it is lifted."},
		{registry.LegalHold{Over: registry.HoldSite, Until: day}, "Over a site, until 3 May 2026."},
		{registry.LegalHold{Over: registry.HoldAnchor, Until: day, LiftedOn: day - 1}, "Over an anchor, lifted on 2 May 2026."},
	} {
		if got := wording.LegalHold(tt.hold); got != tt.want {
			t.Errorf("LegalHold() = %q, want %q", got, tt.want)
		}
	}
	for _, over := range registry.HoldOvers() {
		if wording.HoldOver(over) == "" {
			t.Errorf("%s has no name", over)
		}
	}
}

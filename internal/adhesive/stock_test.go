package adhesive_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/adhesive"
	"rockledger/internal/calendar"
)

// First expired, first out: common practice, no source.
func TestDrawFrom(t *testing.T) {
	t.Parallel()
	day := func(m time.Month, d int) calendar.Date { return calendar.NewDate(2026, m, d) }
	n := func(v int) *int { return &v }
	shelf := []adhesive.Stock{
		0: {OnHand: n(9)},                                                     // expiry not known: last
		1: {ExpiresOn: day(time.August, 1), OnHand: n(2)},                     // second
		2: {ExpiresOn: day(time.May, 2), OnHand: n(5)},                        // expired yesterday
		3: {ExpiresOn: day(time.May, 3), OnHand: n(1)},                        // its last day
		4: {ExpiresOn: day(time.August, 1), ReceivedOn: day(time.January, 1)}, // not counted; received known: before 1
		5: {ExpiresOn: day(time.June, 1), OnHand: n(0)},                       // used up
	}
	for name, tc := range map[string]struct {
		need int
		want adhesive.Drawing
	}{
		"less than there is": {2, adhesive.Drawing{Order: []adhesive.Draw{{3, 1}, {4, 0}, {1, 1}, {0, 0}}, Expired: []int{2}}},
		"more than there is": {15, adhesive.Drawing{Order: []adhesive.Draw{{3, 1}, {4, 0}, {1, 2}, {0, 9}}, Expired: []int{2}, Short: 3}},
		"nothing":            {0, adhesive.Drawing{Order: []adhesive.Draw{{3, 0}, {4, 0}, {1, 0}, {0, 0}}, Expired: []int{2}}},
		"less than nothing":  {-1, adhesive.Drawing{Order: []adhesive.Draw{{3, 0}, {4, 0}, {1, 0}, {0, 0}}, Expired: []int{2}}},
	} {
		if d := cmp.Diff(tc.want, adhesive.DrawFrom(shelf, tc.need, day(time.May, 3))); d != "" {
			t.Errorf("%s (-want +got):\n%s", name, d)
		}
	}
	if d := adhesive.DrawFrom(nil, 3, day(time.May, 3)); d.Short != 3 || d.Order != nil {
		t.Errorf("an empty shelf: %+v", d)
	}
}

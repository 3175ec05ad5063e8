package exchange_test

import (
	"slices"
	"testing"

	"rockledger/internal/registry"
)

// A check before the anchor was set is doubted in the list's own terms: no day
// is made up where it names a year or a season.
func TestCheckedBeforeSetQuotesTheList(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ set, want string }{
		{"2013", "2013"},
		{"summer 2013", "summer 2013"},
		{"c. 2015", "c. 2015"},
		{"05.03.2013", "2013-03-05"},
		{"2012", ""}, // the check may be of a later day of that year
	} {
		list := rows(t, "Crag,Bolt,Placed,Last checked", "Low Tor,B1,"+c.set+",2012-05-02")
		got := ""
		for _, d := range list.Doubts {
			if d.Code == registry.DoubtCheckedFirst {
				got = d.Values[slices.IndexFunc(d.Values, func(v registry.Value) bool { return v.Name == "set_on" })].Text
			}
		}
		if got != c.want {
			t.Errorf("set %q: doubted as %q, want %q", c.set, got, c.want)
		}
	}
}

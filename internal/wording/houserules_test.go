package wording_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestRulesMade(t *testing.T) {
	t.Parallel()
	since := time.Date(2026, time.May, 3, 17, 30, 0, 0, time.UTC)
	for want, v := range map[string]registry.RulesVersion{
		"In force since 3 May 2026, 18:30.":                                                    {},
		"In force since 3 May 2026, 18:30, by An Example.":                                     {Who: "account:1", Name: "An Example"},
		"In force since 3 May 2026, 18:30, by the token “sync”.":                               {Who: "token:1", Name: "sync"},
		"In force since 3 May 2026, 18:30, by somebody who is no longer a member (account:1).": {Who: "account:1"},
		"In force since 3 May 2026, 18:30, by command line: warden.":                           {Who: "command line: warden"},
	} {
		v.Since = since
		if got := wording.RulesMade(v, time.FixedZone("BST", 3600)); got != want {
			t.Errorf("RulesMade(%+v) = %q, want %q", v, got, want)
		}
	}
}

func TestRulePathNamesTablesAndRow(t *testing.T) {
	t.Parallel()
	for path, want := range map[string]string{
		"due_soon_days":                                      "Due soon, before the date",
		"longest_interval_months.form.piton":                 "Longest interval, form, piton",
		"resets.interval.hands-on":                           "Which inspection resets what, interval, hands-on",
		"longest_interval_months.metal.atmosphere.coated-c3": "Longest interval, metal, atmosphere, coated, C3",
	} {
		if got := wording.RulePath(path); got != want {
			t.Errorf("RulePath(%q) = %q, want %q", path, got, want)
		}
	}
}

// Nothing that follows is said where nothing does; a date that would be none is
// named; a finding that stands either way is not.
func TestWouldStand(t *testing.T) {
	t.Parallel()
	held := registry.Assessment{
		Standing: registry.StandingWatch, DueOn: calendar.NewDate(2026, time.May, 1),
		Findings: []registry.Finding{{Rule: "rust"}, {Rule: "loose-nut"}, {Rule: "loose-nut"}},
	}
	if got := wording.WouldStand(held, held); got != nil {
		t.Errorf("nothing follows as %v", got)
	}
	free := registry.Assessment{Standing: registry.StandingRemoved, Findings: []registry.Finding{{Rule: "rust"}}}
	want := []string{
		"It would stand as “removed”; now it stands as “watch”.",
		"It would have no date any more; now it is “inspect by 1 May 2026”.",
		"No longer held against it: loose nut.",
	}
	if d := cmp.Diff(want, wording.WouldStand(held, free)); d != "" {
		t.Errorf("what follows (-want +got):\n%s", d)
	}
}

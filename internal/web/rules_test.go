package web

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestHouseRulesAreShownWithUnitsAndSources(t *testing.T) {
	t.Parallel()
	got, err := rulesParts([]byte(rulesText))
	if err != nil {
		t.Fatal(err)
	}
	want := []rulesPart{
		{"rules-1", "Longest interval", []rulesTable{
			{"Metal, Environment not known", "an invented source", []ruleRow{{Name: "Titanium", Value: "60 months", Path: "longest_interval_months.metal.environment-not-known.titanium", Raw: "60", Unit: "months"}}},
			{"Form", "", []ruleRow{
				{Name: "Piton", Value: "12 months", Source: "another", Path: "longest_interval_months.form.piton", Raw: "12", Unit: "months"},
				{Name: "Glue-in, staple", Value: "60 months", Source: "a fifth", Path: "longest_interval_months.form.staple", Raw: "60", Unit: "months"},
			}},
		}, false},
		{"rules-2", "In general", []rulesTable{{"", "a third", []ruleRow{{Name: "Due soon, before the date", Value: "60 days", Path: "due_soon_days", Raw: "60", Unit: "days"}}}}, false},
		{"rules-3", "Which inspection resets what", []rulesTable{{"Interval", "a fourth", []ruleRow{{Name: "Hands-on", Value: "yes", Path: "resets.interval.hands-on", Raw: "yes", Options: ruleOptions("resets.interval.hands-on")}}}}, false},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("rulesParts (-want +got):\n%s", diff)
	}
}

func TestHouseRulesThatAreNone(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"", "{", `{"a": {`} {
		if _, err := rulesParts([]byte(text)); err == nil {
			t.Errorf("rulesParts(%q) gives no error", text)
		}
	}
}

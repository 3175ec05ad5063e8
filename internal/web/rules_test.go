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
			{"Metal, Environment not known", "an invented source", []ruleRow{{"Titanium", "60 months", ""}}},
			{"Form", "", []ruleRow{{"Piton", "12 months", "another"}, {"Glue-in, staple", "60 months", "a fifth"}}},
		}, false},
		{"rules-2", "In general", []rulesTable{{"", "a third", []ruleRow{{"Due soon, before the date", "60 days", ""}}}}, false},
		{"rules-3", "Which inspection resets what", []rulesTable{{"Interval", "a fourth", []ruleRow{{"Hands-on", "yes", ""}}}}, false},
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

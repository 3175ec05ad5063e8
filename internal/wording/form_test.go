package wording_test

import (
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestRuleName(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{
		"due_soon_days":           "Due soon, before the date",
		"longest_interval_months": "Longest interval",
		"environment-not-known":   "Environment not known",
		"coated-c1-c2":            "Coated, C1 or C2",
		"coated-c5-cx":            "Coated, C5 or CX",
		"imported-rust":           "Rust, by the list it came from",
		"hands-on":                "Hands-on",
	} {
		if got := wording.RuleName(name); got != want {
			t.Errorf("RuleName(%q) = %q, want %q", name, got, want)
		}
	}
}

func TestEveryLevelSaysWhatItTakes(t *testing.T) {
	t.Parallel()
	for _, l := range registry.Levels() {
		if got := wording.LevelMeaning(l); got == wording.Label(l) {
			t.Errorf("LevelMeaning(%s) = %q, want what it takes", l, got)
		}
	}
}

package assess_test

import (
	"slices"
	"testing"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// An anchor without a day of its own counts from that of its setting, and one
// with a day from that: what follows is the same. House rules, default of this
// project.
func TestSettingSaysWhenItWasSet(t *testing.T) {
	t.Parallel()
	asOf := day("2024-06-01")
	undated := func(f *registry.Facts) { f.Anchor.SetOn = calendar.Span{} }
	want := anchor(runner(glued), asOf)
	got := anchor(runner(glued, undated), asOf)
	bare := anchor(runner(undated), asOf)
	if got.OldestOn != day("2010-06-02") || got.OldestOn != want.OldestOn || !bare.OldestOn.IsZero() {
		t.Errorf("oldest on %s, want %s by the setting and by the anchor, and none without either: %q", got.OldestOn, want.OldestOn, bare.OldestOn)
	}
	if got.DueOn != want.DueOn || got.SoonestOn != want.SoonestOn || got.Reason.Rule != want.Reason.Rule || got.Reason.On != want.Reason.On {
		t.Errorf("due %s, soonest %s by %s; want %s, %s by %s", got.DueOn, got.SoonestOn, got.Reason.Rule, want.DueOn, want.SoonestOn, want.Reason.Rule)
	}
	const rule = "set-date-not-recorded"
	raised := func(a registry.Assessment) bool {
		return slices.ContainsFunc(a.Findings, func(f registry.Finding) bool { return f.Rule == rule })
	}
	if raised(got) || !raised(bare) {
		t.Errorf("%s: raised %v with a setting, %v without one", rule, raised(got), raised(bare))
	}
}

package wording_test

import (
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestFindingsOfListsAndForms(t *testing.T) {
	t.Parallel()
	listed := registry.Values{{Name: "seen_on", Text: "2019-05-02"}, {Name: "seen_level", Text: "glance"}}
	here := registry.Values{{Name: "seen_on", Text: "2025-05-02"}, {Name: "seen_level", Text: "hands-on"}}
	for _, c := range []struct {
		finding       registry.Finding
		want, settles string
	}{
		{
			registry.Finding{Rule: "imported-called-unsafe", Values: listed, Settles: "hands-on-inspection"},
			"The list it came from calls it unsafe (checked on 2 May 2019), in its own words.",
			"A hands-on inspection recorded here that gives a verdict and does not find it again settles this; or a named person settles it with a reason.",
		},
		{
			registry.Finding{Rule: "imported-state-not-understood", Settles: "hands-on-inspection"},
			"The list it came from says something of its state that was not understood; its words are kept.",
			"A hands-on inspection recorded here that gives a verdict and does not find it again settles this; or a named person settles it with a reason.",
		},
		{
			registry.Finding{Rule: "bond-perhaps-lost", Values: here, Settles: "form-or-replacement"},
			"It turns, seen hands-on on 2 May 2025, and how it holds is not recorded: if it is bonded, it has lost its bond.",
			"No inspection settles this: find out how it holds and record its form, or take it out or replace it; or a named person settles it with a reason.",
		},
	} {
		if got := wording.Finding(c.finding); got != c.want {
			t.Errorf("Finding(%s) = %q, want %q", c.finding.Rule, got, c.want)
		}
		if got := wording.Settles(c.finding); got != c.settles {
			t.Errorf("Settles(%s) = %q, want %q", c.finding.Rule, got, c.settles)
		}
	}
}

package wording_test

import (
	"strings"
	"testing"

	"rockledger/internal/houserules"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestKit(t *testing.T) {
	t.Parallel()
	shank := quantity.Length(12)
	for _, c := range []struct {
		line registry.KitLine
		want string
	}{
		{
			registry.KitLine{Kind: registry.KitAnchor, Form: registry.Staple, Metal: metal.NewSet("1.4404"), Shank: &shank, Count: 2},
			"2 anchors: glue-in, staple; stainless steel 1.4404 (316L); shank 12 mm",
		},
		{registry.KitLine{Kind: registry.KitAnchor, MetalOpen: true, Count: 1}, "1 anchor: form to be chosen at the rock; metal open until the environment of its place is recorded"},
		{registry.KitLine{Kind: registry.KitFitting, Fitting: registry.Maillon, Count: 3}, "3 maillons"},
		{registry.KitLine{Kind: registry.KitTools, Count: 1}, "1 anchor to inspect: tools for a hands-on inspection"},
		{registry.KitLine{Kind: registry.KitMending, Count: 1}, "1 anchor to repair: tools, and what its findings ask for"},
		{registry.KitLine{Kind: registry.KitNut, Count: 1}, "1 nut with its washer"},
		{registry.KitLine{Kind: registry.KitHole, Count: 1}, "1 hole to drill, and the old one to fill"},
	} {
		if got := wording.Kit(c.line); got != c.want {
			t.Errorf("Kit(%+v) = %q, want %q", c.line, got, c.want)
		}
	}
}

func TestEveryKitAndWorkKindIsNamed(t *testing.T) {
	t.Parallel()
	for _, k := range registry.KitKinds() {
		if got := wording.Kit(registry.KitLine{Kind: k, Fitting: registry.Ring, Count: 2}); got == "2 "+wording.Label(k) {
			t.Errorf("Kit of kind %s has no name of its own: %q", k, got)
		}
	}
	for _, k := range registry.WorkKinds() {
		if got := wording.Work(k); got != wording.Label(k) {
			t.Errorf("Work(%s) = %q, want %q", k, got, wording.Label(k))
		}
	}
}

func TestLandWork(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind string
		n    int
		want string
	}{{"inspection", 1, "1 inspection"}, {"removal", 2, "2 removals"}, {"load-test", 2, "2 load tests"}} {
		if got := wording.LandWork(c.kind, c.n); got != c.want {
			t.Errorf("LandWork(%q, %d) = %q, want %q", c.kind, c.n, got, c.want)
		}
	}
	for id, want := range map[string]string{"loose-nut": "Loose nut", "imported-loose-nut": "Loose nut, by the list it came from"} {
		if got := wording.Rule(id); got != want {
			t.Errorf("Rule(%q) = %q, want %q", id, got, want)
		}
	}
}

func TestAlso(t *testing.T) {
	t.Parallel()
	got := wording.Also([]registry.Finding{{Rule: "loose-nut"}, {Rule: "worn"}, {Rule: "worn"}})
	if want := "Also: loose nut; worn."; got != want {
		t.Errorf("Also = %q, want %q", got, want)
	}
}

// A kind of finding is named in words that stand in a list, which a comma would
// break; "short of what" is said.
func TestRuleIsNamedInWords(t *testing.T) {
	t.Parallel()
	for id, want := range map[string]string{
		"loose-nut":               "Loose nut",
		"one-class-short":         "Steel resists corrosion one class less than its place asks for",
		"stress-corrosion-medium": "Some risk of stress-corrosion cracking",
		"verdict-take-out-of-use": "An inspector took it out of use",
		"imported-called-unsafe":  "Called unsafe, by the list it came from",
	} {
		if got := wording.Rule(id); got != want {
			t.Errorf("Rule(%q) = %q, want %q", id, got, want)
		}
	}
	for id := range houserules.Default().Findings {
		if got := wording.Rule(id); !strings.HasPrefix(id, "imported-") && strings.ContainsAny(got, ",;") {
			t.Errorf("Rule(%q) = %q: it stands in lists", id, got)
		}
	}
}

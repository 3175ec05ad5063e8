package app_test

import (
	"fmt"
	"strings"
	"testing"

	"rockledger/internal/registry"
)

// Words that condemn an anchor never end as "no problem on record", nor those
// that are not understood. What they mean is common practice, no source.
func TestImportGraveWords(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	words := map[string]registry.Standing{}
	for _, w := range []string{
		"do not use", "DANGEROUS", "condemned", "out of use", "snapped", "bolt failed", "unsafe", "cracked",
		"corroded through", "not ok", "bad", "needs replacing", "nut missing", "hanger missing", "taped off",
		"retired", "spins badly, hanger gone", "out", "pulled", "stripped", "poor", "replace soon",
	} {
		words[w] = registry.StandingSuspect
	}
	for _, w := range []string{"odd colour", "replaced hanger 2019", "replaced nut", "replaced maillon 2020", "ok?"} {
		words[w] = registry.StandingWatch
	}
	var csv strings.Builder
	csv.WriteString("Crag,Bolt,Type,Metal,State\n")
	for w := range words {
		fmt.Fprintf(&csv, "Tarn Edge,%q,wedge anchor,1.4404,%q\n", "at "+w, w)
	}
	h.enter(t, csv.String())
	lines := h.anchors(t, registry.AnchorFilter{})
	if len(lines) != len(words) {
		t.Errorf("%d anchors, want %d: none was replaced", len(lines), len(words))
	}
	for _, l := range lines {
		if want := words[strings.TrimPrefix(l.Label, "at ")]; l.Standing != want {
			t.Errorf("%q: %v, want %v", l.Label, l.Standing, want)
		}
	}
}

package registry_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/registry"
)

// Whatever stands in a text, its words are those that strings.Fields finds.
func TestTidyJoinsWords(t *testing.T) {
	t.Parallel()
	letters := []rune("ab Z9-\t\n\u00a0é\u2003\x7f\x00")
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.SampledFrom(letters)).Draw(t, "text")
		want := strings.Join(strings.Fields(text), " ")
		if got := registry.Tidy(text); got != want {
			t.Errorf("Tidy(%q) = %q, want %q", text, got, want)
		}
		if got := registry.Fold(text); got != strings.ToLower(want) {
			t.Errorf("Fold(%q) = %q, want %q", text, got, strings.ToLower(want))
		}
	})
}

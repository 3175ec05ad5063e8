package wording_test

import (
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestSheetNote(t *testing.T) {
	t.Parallel()
	got := wording.SheetNote("rated-axial", registry.Values{{Name: "given", Text: "14.9"}, {Name: "least", Text: "15"}}, "EN 959:2018")
	want := "The sheet's axial load is 14.9 kN, below the least of 15 kN that a product is type tested for in concrete (EN 959:2018). " +
		"Ask the maker. This is never asked of an anchor in service."
	if got != want {
		t.Errorf("SheetNote = %q, want %q", got, want)
	}
}

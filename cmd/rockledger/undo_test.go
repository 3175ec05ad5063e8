package main

import (
	"strings"
	"testing"

	"rockledger/internal/wording"
)

func TestImportUndo(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	var doc struct {
		ID      string
		Entered int
	}
	args := []string{"import", list("anchor-list.csv"), "--group", "fell-end", "--format", "json", s.app}
	decode(t, must(t, args...), &doc)
	undo := []string{"import", "--undo", doc.ID, "--group", "fell-end", s.app}
	if out := must(t, undo...); !strings.Contains(out, "anchor-list.csv") || !strings.Contains(out, wording.Caution) {
		t.Errorf("undo printed %q", out)
	}
	if _, err := command(t, undo...); err == nil || !strings.Contains(explain(err), "undone already") {
		t.Errorf("undone again: %v, want it refused", err)
	}
	decode(t, must(t, args...), &doc)
	if doc.Entered != 332 {
		t.Errorf("entered %d once undone, want 332", doc.Entered)
	}
	for _, args := range [][]string{
		{"import", "--group", "fell-end", s.app},
		{"import", list("anchor-list.csv"), "--undo", doc.ID, "--group", "fell-end", s.app},
		{"import", "--undo", "rock", "--group", "fell-end", s.app},
	} {
		if _, err := command(t, args...); err == nil {
			t.Errorf("%q: no error, want one", args)
		}
	}
}

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rockledger/internal/app"
	"rockledger/internal/demo"
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

// told runs one command line and returns what it printed, and what it said
// meanwhile.
func told(t *testing.T, args ...string) (out, said string, err error) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	err = run(t.Context(), args, &stdout, &stderr)
	return stdout.String(), stderr.String(), err
}

// A long list is tried, entered and undone by the command itself, which says how
// far it is.
func TestLongImportTriedAndUndone(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	file := filepath.Join(t.TempDir(), "long.csv")
	text := demo.SyntheticList(60, 3)
	rows := strings.SplitAfter(string(text), "\n")
	text = append(text, strings.Repeat(rows[1], app.MostAtOnce)...)
	if err := os.WriteFile(file, text, 0o600); err != nil {
		t.Fatal(err)
	}
	args := []string{"import", file, "--group", "fell-end", "--format", "json", s.app}
	var tried, doc struct {
		ID      string
		Entered int
		DryRun  bool `json:"dry_run"`
	}
	out, said, err := told(t, append(args, "--dry-run")...)
	if err != nil || !strings.Contains(said, "rows tried") {
		t.Fatalf("dry run: %v, said %q, want how far it is", err, said)
	}
	decode(t, out, &tried)
	decode(t, must(t, args...), &doc)
	if !tried.DryRun || tried.ID != "" || tried.Entered == 0 || doc.Entered != tried.Entered {
		t.Errorf("tried %+v, then entered %+v", tried, doc)
	}
	undo := []string{"import", "--undo", doc.ID, "--group", "fell-end", s.app}
	out, said, err = told(t, undo...)
	if err != nil || !strings.Contains(said, wording.ImportUndoWaits) || !strings.Contains(out, "long.csv") || !strings.Contains(out, wording.Caution) {
		t.Errorf("undo printed %q, said %q, %v", out, said, err)
	}
	if _, err := command(t, undo...); err == nil || !strings.Contains(explain(err), "undone already") {
		t.Errorf("undone again: %v, want it refused", err)
	}
}

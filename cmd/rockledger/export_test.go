package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rockledger/internal/wording"
)

func TestExport(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	export := func(args ...string) string {
		return must(t, append([]string{"export", "--group", "fell-end", s.app}, args...)...)
	}
	if out := export(); !strings.HasPrefix(out, "site,") || strings.Count(out, wording.Caution) != 1 || strings.Count(out, "\n") != 2 {
		t.Errorf("an empty register = %q, want headings and the caution", out)
	}
	if _, err := command(t, "export", "--group", "fell-end", "--own", s.app); err == nil || !strings.Contains(explain(err), "No list was taken over") {
		t.Errorf("own headings without a list: %v, want it to say that there is none", err)
	}
	var done struct{ ID string }
	text := must(t, "import", list("cave-list.tsv"), "--group", "fell-end", "--format", "json", s.app)
	if err := json.Unmarshal([]byte(text), &done); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	for _, args := range [][]string{{"--own"}, {"--import", done.ID}} {
		if out := export(args...); !strings.HasPrefix(out, "Cave\tPassage\tPitch\t") || !strings.Contains(out, "\tRemarks\tid\tcaution\n") {
			t.Errorf("%q = %.200q, want the list's headings", args, out)
		}
	}
	file := filepath.Join(t.TempDir(), "back.csv")
	if out := export("--out", file); out != "" {
		t.Errorf("with --out it printed %q", out)
	}
	if got := string(content(t, file)); got != export() {
		t.Errorf("the file differs from what is printed: %.200q", got)
	}
}

// A list that cannot be written leaves the file that was there.
func TestExportKeepsTheOldFile(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	folder := t.TempDir()
	file := filepath.Join(folder, "back.csv")
	if err := os.WriteFile(file, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := command(t, "export", "--group", "fell-end", "--own", "--out", file, s.app); err == nil {
		t.Error("own headings without a list were written")
	}
	if _, err := command(t, "export", "--group", "fell-end", "--import", "seven", "--out", file, s.app); err == nil || !strings.Contains(err.Error(), "--import") {
		t.Errorf("an id that is none: %v, want it to name the flag", err)
	}
	entries, err := os.ReadDir(folder)
	if err != nil || len(entries) != 1 || string(content(t, file)) != "old" {
		t.Errorf("the folder holds %v, %v, want the old file alone", entries, err)
	}
}

func content(t *testing.T, file string) []byte {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

package pglocal

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// These tests change the environment and the folders looked into, so none of
// them runs beside another.

func TestChoose(t *testing.T) {
	old, middling, newest := fake(t, "15.3"), fake(t, "16.1"), fake(t, "19beta1")
	look(t, old, newest, middling)
	tests := []struct {
		name  string
		major int
		want  string
	}{
		{"the newest for a new folder", 0, newest},
		{"the version that made the folder", 15, old},
	}
	for _, tt := range tests {
		got, err := choose(tt.major)
		if err != nil || got.dir != tt.want {
			t.Errorf("%s: choose(%v) = %v, %v, want %v", tt.name, tt.major, got.dir, err, tt.want)
		}
	}
}

func TestChooseRejects(t *testing.T) {
	tests := []struct {
		name  string
		found []string
		bin   string
		major int
		want  string
	}{
		{"nothing installed", nil, "", 0, "no PostgreSQL server found: install it"},
		{"only an old version", []string{"14.9"}, "", 0, "PostgreSQL 15 or newer is needed, and "},
		{"another version than the folder's", []string{"17.2"}, "", 16, "made by PostgreSQL 16, and this machine has only 17 in "},
		{"PG_BIN without binaries", []string{"17.2"}, "/nowhere", 0, "PG_BIN: /nowhere holds no initdb: name the folder"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var dirs []string
			for _, v := range tt.found {
				dirs = append(dirs, fake(t, v))
			}
			look(t, dirs...)
			t.Setenv("PG_BIN", tt.bin)
			got, err := choose(tt.major)
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("choose(%v) = %v, %v, want an error with %q", tt.major, got, err, tt.want)
			}
		})
	}
}

func TestChoosePrefersPGBIN(t *testing.T) {
	look(t, fake(t, "18.1"))
	mine := fake(t, "16.4")
	t.Setenv("PG_BIN", mine)
	if got, err := choose(0); err != nil || got.dir != mine || got.major != 16 {
		t.Errorf("choose(0) = %v, %v, want version 16 in %v", got, err, mine)
	}
}

// look makes the folders the only ones looked into.
func look(t *testing.T, dirs ...string) {
	t.Helper()
	before := versionFolders
	versionFolders = dirs
	t.Cleanup(func() { versionFolders = before })
	t.Setenv("PATH", "/bin-of-nothing")
	t.Setenv("PG_BIN", "")
}

// fake makes a folder whose postgres only tells its version.
func fake(t *testing.T, version string) string {
	t.Helper()
	dir := t.TempDir()
	script := "#!/bin/sh\necho 'postgres (PostgreSQL) " + version + " (invented)'\n"
	for _, name := range []string{"initdb", "postgres"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(script), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

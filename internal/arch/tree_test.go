package arch_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// topLevel is what may stand beside the dotfiles. "rockledger" is what
// go build ./cmd/rockledger leaves there.
var topLevel = []string{
	"api/", "cmd/", "deploy/", "internal/", "migrations/", "openapi/", "testdata/",
	"CHANGELOG.md", "DEVELOPERS.md", "LICENSE", "README.md", "docker-compose.yml", "go.mod", "go.sum", "rockledger",
}

func TestTopLevel(t *testing.T) {
	t.Parallel()
	entries, err := os.ReadDir(root(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		name := e.Name()
		if strings.HasPrefix(name, ".") {
			continue
		}
		if e.IsDir() {
			name += "/"
		}
		if !slices.Contains(topLevel, name) {
			t.Errorf("%s stands at the top level: want only %s and dotfiles", name, strings.Join(topLevel, ", "))
		}
	}
}

// TestSources holds that each file under testdata says where it comes from.
func TestSources(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(root(t), "testdata")
	sources, err := os.ReadFile(filepath.Join(dir, "SOURCES.md"))
	if err != nil && len(files(t, dir)) > 0 {
		t.Fatal(err)
	}
	for _, name := range files(t, dir) {
		if name != "SOURCES.md" && !strings.Contains(string(sources), "`"+name+"`") {
			t.Errorf("testdata/SOURCES.md does not name `%s`, want its origin", name)
		}
	}
}

// root returns the folder that holds go.mod.
func root(t *testing.T) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		if dir == filepath.Dir(dir) {
			t.Fatal("no go.mod above this test")
		}
		dir = filepath.Dir(dir)
	}
}

// files lists the files under dir, with slashes and relative to it, without
// git's own. A folder that does not exist has none.
func files(t *testing.T, dir string) []string {
	t.Helper()
	var names []string
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		switch {
		case os.IsNotExist(err):
			return nil
		case err != nil:
			return err
		case e.IsDir() && e.Name() == ".git":
			return fs.SkipDir
		case !e.Type().IsRegular() || e.Name() == ".git": // a linked work tree has a file of that name
			return nil
		}
		name, err := filepath.Rel(dir, path)
		names = append(names, filepath.ToSlash(name))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

package pglocal

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
)

// dataDir is where a kept cluster lies, and the major version that made it
// (0: nothing is there yet). The zero value stands for a throw-away cluster.
type dataDir struct {
	path     string
	version  int
	settings []string // of the server that works on it
}

func (d dataDir) kept() bool { return d.path != "" }

// openDataDir looks at a kept folder without changing anything. A folder that
// holds something else than a cluster is refused.
func openDataDir(path string) (dataDir, error) {
	if path == "" {
		return dataDir{}, nil
	}
	path, err := filepath.Abs(path)
	if err != nil {
		return dataDir{}, err
	}
	text, err := os.ReadFile(filepath.Join(path, "PG_VERSION")) //nolint:gosec // the folder is the caller's choice
	if errors.Is(err, fs.ErrNotExist) {
		return dataDir{path: path}, refuseForeign(path)
	}
	if err != nil {
		return dataDir{}, fmt.Errorf("look into data folder: %w", err)
	}
	major, err := strconv.Atoi(strings.TrimSpace(string(text)))
	if err != nil {
		return dataDir{}, fmt.Errorf("the folder %s says that it was made by PostgreSQL %q, which is not understood: choose another data folder", path, text)
	}
	return dataDir{path: path, version: major}, nil
}

func refuseForeign(path string) error {
	entries, err := os.ReadDir(path)
	if errors.Is(err, fs.ErrNotExist) || err == nil && len(entries) == 0 {
		return nil
	}
	if err != nil {
		return fmt.Errorf("look into data folder: %w", err)
	}
	return fmt.Errorf("the folder %s is not empty and holds no PostgreSQL data: choose another data folder, or empty it", path)
}

// explain names the folder in an error about its version.
func (d dataDir) explain(err error) error {
	if other := (otherVersion{}); errors.As(err, &other) {
		return fmt.Errorf("the data folder %s was %w", d.path, err)
	}
	return err
}

// create makes the cluster when there is none, and returns its folder. A kept
// one is made beside its place and moved there when it is whole, so that an
// interrupted start leaves nothing that looks like a cluster.
func (d dataDir) create(ctx context.Context, who account, bin binaries, run runFolder) (string, error) {
	if d.version != 0 {
		return d.path, who.reaches(d.path)
	}
	if !d.kept() {
		path := filepath.Join(run.path, "data")
		return path, initdb(ctx, bin, who, run.path, path, "--no-sync")
	}
	if err := initdb(ctx, bin, who, run.path, run.half, "--data-checksums"); err != nil {
		return "", err
	}
	err := syscall.Rename(run.half, d.path) // takes the place of an empty folder, as os.Rename does not
	if errors.Is(err, fs.ErrExist) || errors.Is(err, syscall.ENOTEMPTY) {
		return d.path, nil // another start was quicker; launch tells whether it still runs
	}
	return d.path, err
}

func initdb(ctx context.Context, bin binaries, who account, cwd, data string, extra ...string) error {
	args := append([]string{
		"-D", data, "-U", Superuser, "-A", "trust", "-E", "UTF8", "--locale=" + locale, "--no-instructions",
	}, extra...)
	out, err := runPinned(command(ctx, who, cwd, syscall.SIGKILL, bin.initdb(), args...))
	if err != nil && ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		return fmt.Errorf("make a database cluster in %s: %w: %s", data, err, lastLine(out))
	}
	return nil
}

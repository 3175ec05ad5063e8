package pglocal

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// oldest is the oldest major version that the register runs on.
const oldest = 15

// versionFolders are where packagers put several major versions side by side.
var versionFolders = []string{
	"/usr/lib/postgresql/*/bin",          // Debian and its kin
	"/usr/pgsql-*/bin",                   // Red Hat and its kin
	"/opt/homebrew/opt/postgresql@*/bin", // Homebrew
	"/Applications/Postgres.app/Contents/Versions/*/bin",
}

var errNoBinaries = errors.New("no PostgreSQL server found: install it (Debian and Ubuntu: apt-get install postgresql), " +
	"or set PG_BIN to the folder that holds initdb and postgres")

// binaries is one installed version of PostgreSQL's server.
type binaries struct {
	dir   string
	major int
}

// Found reports whether this machine has server binaries of a version that
// will do, so that Start with a throw-away cluster can be expected to work.
func Found() bool {
	_, err := choose(0)
	return err == nil
}

// choose returns the newest binaries, or those of the major version that made
// a data folder; major 0 means that there is no folder yet.
func choose(major int) (binaries, error) {
	all, err := installed()
	if err != nil {
		return binaries{}, err
	}
	best := all[0]
	if major != 0 {
		i := slices.IndexFunc(all, func(b binaries) bool { return b.major == major })
		if i < 0 {
			return binaries{}, otherVersion{want: major, found: all}
		}
		best = all[i]
	}
	if best.major < oldest {
		return binaries{}, fmt.Errorf("PostgreSQL %d or newer is needed, and %s holds version %d: install a newer one, or set PG_BIN to its folder",
			oldest, best.dir, best.major)
	}
	return best, nil
}

// otherVersion says that no binaries of a data folder's own version are there.
type otherVersion struct {
	want  int
	found []binaries
}

func (e otherVersion) Error() string {
	var have []string
	for _, b := range e.found {
		have = append(have, fmt.Sprintf("%d in %s", b.major, b.dir))
	}
	return fmt.Sprintf("made by PostgreSQL %d, and this machine has only %s: install PostgreSQL %d (or set PG_BIN to its folder), or choose another data folder",
		e.want, strings.Join(have, ", "), e.want)
}

// installed returns the binaries found, newest first: PG_BIN alone where it is
// set, otherwise the version folders, otherwise PATH. It never returns none
// without an error.
func installed() ([]binaries, error) {
	if dir := os.Getenv("PG_BIN"); dir != "" {
		b, err := inspect(dir)
		if err != nil {
			return nil, fmt.Errorf("PG_BIN: %w", err)
		}
		return []binaries{b}, nil
	}
	var all []binaries
	for _, dir := range candidates() {
		if b, err := inspect(dir); err == nil {
			all = append(all, b)
		}
	}
	if len(all) == 0 {
		return nil, errNoBinaries
	}
	slices.SortStableFunc(all, func(a, b binaries) int { return b.major - a.major })
	return all, nil
}

func candidates() []string {
	var dirs []string
	for _, pattern := range versionFolders {
		match, _ := filepath.Glob(pattern) // the patterns are well-formed
		dirs = append(dirs, match...)
	}
	if path, err := exec.LookPath("initdb"); err == nil {
		dirs = append(dirs, filepath.Dir(path))
	}
	return dirs
}

// versionLimit is how long a program may take to tell its version.
const versionLimit = 10 * time.Second

var versionLine = regexp.MustCompile(`\(PostgreSQL\) (\d+)`)

// inspect asks the server in dir for its version.
func inspect(dir string) (binaries, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return binaries{}, err
	}
	if _, err := os.Stat(filepath.Join(dir, "initdb")); err != nil { //nolint:gosec // the folder is the user's choice
		return binaries{}, fmt.Errorf("%s holds no initdb: name the folder that holds PostgreSQL's initdb and postgres", dir)
	}
	ctx, cancel := context.WithTimeout(context.Background(), versionLimit)
	defer cancel()
	out, err := exec.CommandContext(ctx, filepath.Join(dir, "postgres"), "--version").Output() //nolint:gosec // as above
	if err != nil {
		return binaries{}, fmt.Errorf("ask %s/postgres for its version: %w", dir, err)
	}
	m := versionLine.FindSubmatch(out)
	if m == nil {
		return binaries{}, fmt.Errorf("%s/postgres gives no version that is understood: %q", dir, out)
	}
	major, err := strconv.Atoi(string(m[1]))
	if err != nil {
		return binaries{}, fmt.Errorf("version of %s/postgres: %w", dir, err)
	}
	return binaries{dir: dir, major: major}, nil
}

func (b binaries) initdb() string { return filepath.Join(b.dir, "initdb") }

func (b binaries) postgres() string { return filepath.Join(b.dir, "postgres") }

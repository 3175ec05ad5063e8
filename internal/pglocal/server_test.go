package pglocal_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"rockledger/internal/pglocal"
)

// childVar makes this test binary a child that starts a server, prints its URL
// and waits to be killed. Its value is the data folder, or "throw-away".
const childVar = "ROCKLEDGER_PGLOCAL_CHILD"

func TestMain(m *testing.M) {
	if dir := os.Getenv(childVar); dir != "" {
		os.Exit(child(dir))
	}
	os.Exit(m.Run())
}

func child(dir string) int {
	if dir == "throw-away" {
		dir = ""
	}
	s, err := pglocal.Start(context.Background(), pglocal.Options{DataDir: dir})
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	fmt.Println(s.URL(pglocal.Superuser, "postgres"))
	_, _ = io.Copy(io.Discard, os.Stdin)
	return 0
}

func TestStartThrowAway(t *testing.T) {
	t.Parallel()
	s := start(t, pglocal.Options{
		Roles:    `CREATE ROLE keeper LOGIN`,
		Database: "register", Owner: "keeper",
	})
	const settings = `SELECT current_user || ' ' || current_database() || ' ' || current_setting('fsync') ||
		' ' || current_setting('listen_addresses') || ' ' || current_setting('TimeZone')`
	if got, want := ask(t, s.URL("keeper", "register"), settings), "keeper register off  UTC"; got != want {
		t.Errorf("settings = %q, want %q", got, want)
	}

	folder := socketFolder(t, s)
	info, err := os.Stat(folder)
	if err != nil || info.Mode().Perm() != 0o700 {
		t.Errorf("Stat(%v) = %v, %v, want mode 0700", folder, info, err)
	}
	if err := s.Stop(); err != nil {
		t.Errorf("Stop() = %v, want nil", err)
	}
	if _, err := os.Stat(folder); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("after Stop, Stat(%v) = %v, want not exist", folder, err)
	}
	if err := s.Stop(); err != nil {
		t.Errorf("second Stop() = %v, want nil", err)
	}
}

func TestStartKept(t *testing.T) {
	t.Parallel()
	o := pglocal.Options{
		DataDir:  keptFolder(t),
		Roles:    `DO $$ BEGIN IF to_regrole('keeper') IS NULL THEN CREATE ROLE keeper LOGIN; END IF; END $$`,
		Database: "register", Owner: "keeper",
	}
	first := start(t, o)
	const safeguards = `SELECT current_setting('fsync') || ' ' || current_setting('full_page_writes') || ' ' ||
		current_setting('data_checksums') || ' ' || current_setting('autovacuum')`
	if got, want := ask(t, first.URL("keeper", "register"), safeguards), "on on on on"; got != want {
		t.Errorf("safeguards = %q, want %q", got, want)
	}
	ask(t, first.URL("keeper", "register"), `CREATE TABLE kept AS SELECT 7 AS n; SELECT ''`)

	_, err := pglocal.Start(t.Context(), o)
	wantSentence(t, err, "in use by another server: stop the one that was started first")

	if err := first.Stop(); err != nil {
		t.Fatalf("Stop() = %v, want nil", err)
	}
	second := start(t, o)
	if got := ask(t, second.URL("keeper", "register"), `SELECT n::text FROM kept`); got != "7" {
		t.Errorf("kept row after a second start = %q, want 7", got)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(o.DataDir), ".*-new-*")); len(left) > 0 {
		t.Errorf("half-made folders left: %v", left)
	}
}

func TestStartTakesAnEmptyFolder(t *testing.T) {
	t.Parallel()
	o := pglocal.Options{DataDir: keptFolder(t)}
	if err := os.MkdirAll(o.DataDir, 0o750); err != nil {
		t.Fatal(err)
	}
	s := start(t, o)
	if got := ask(t, s.URL(pglocal.Superuser, "postgres"), `SELECT 'here'`); got != "here" {
		t.Errorf("answer = %q", got)
	}
}

func TestStartRefusesFolders(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, file, text, want string
	}{
		{"made by another version", "PG_VERSION", "9\n", "was made by PostgreSQL 9, and this machine has only"},
		{"version not understood", "PG_VERSION", "x\n", "which is not understood: choose another data folder"},
		{"somebody else's files", "letter.txt", "dear", "is not empty and holds no PostgreSQL data"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			if err := os.WriteFile(filepath.Join(dir, tt.file), []byte(tt.text), 0o600); err != nil {
				t.Fatal(err)
			}
			_, err := pglocal.Start(t.Context(), pglocal.Options{DataDir: dir})
			wantSentence(t, err, tt.want)
		})
	}
}

func TestStartLeavesNothingWhenCancelled(t *testing.T) {
	t.Parallel()
	dir := keptFolder(t)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := pglocal.Start(ctx, pglocal.Options{DataDir: dir})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("Start with a cancelled context = %v, want context.Canceled", err)
	}
	entries, err := os.ReadDir(filepath.Dir(dir))
	if err != nil || len(entries) > 0 {
		t.Errorf("left beside the data folder: %v, %v, want nothing", entries, err)
	}
}

func TestStartReportsBadRoles(t *testing.T) {
	t.Parallel()
	_, err := pglocal.Start(t.Context(), pglocal.Options{Roles: `CREATE ROLE`})
	wantSentence(t, err, "make the roles")
}

// A server that nobody holds any more still runs, with its folder, until the
// process ends: the collector must not take what keeps the folder.
func TestForgottenServerRuns(t *testing.T) {
	t.Parallel()
	url := forget(t)
	for range 3 {
		runtime.GC()
	}
	if got := ask(t, url, `SELECT 'here'`); got != "here" {
		t.Errorf("server after a collection answers %q, want here", got)
	}
}

func forget(t *testing.T) string {
	t.Helper()
	s, err := pglocal.Start(t.Context(), pglocal.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s.URL(pglocal.Superuser, "postgres")
}

func TestDefaultDataDir(t *testing.T) {
	t.Setenv("XDG_DATA_HOME", "/somewhere/data")
	want := "/somewhere/data/rockledger/demo"
	if os.Geteuid() == 0 {
		want = "/var/lib/rockledger/demo"
	}
	if got, err := pglocal.DefaultDataDir(); got != want || err != nil {
		t.Errorf("DefaultDataDir() = %q, %v, want %q", got, err, want)
	}
}

func start(t *testing.T, o pglocal.Options) *pglocal.Server {
	t.Helper()
	s, err := pglocal.Start(t.Context(), o)
	if err != nil {
		t.Fatalf("Start(%+v) = %v, want a server", o, err)
	}
	t.Cleanup(func() { _ = s.Stop() })
	return s
}

// keptFolder returns a path for a data folder that does not exist yet, in a
// folder that user postgres may enter (t.TempDir's own are closed to others).
func keptFolder(t *testing.T) string {
	t.Helper()
	above, err := os.MkdirTemp("", "rockledger-test-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(above) })
	if err := os.Chmod(above, 0o755); err != nil {
		t.Fatal(err)
	}
	return filepath.Join(above, "demo")
}

func socketFolder(t *testing.T, s *pglocal.Server) string {
	t.Helper()
	u, err := url.Parse(s.URL("x", "y"))
	if err != nil {
		t.Fatalf("parse URL: %v", err)
	}
	return u.Query().Get("host")
}

func ask(t *testing.T, url, query string) string {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatalf("connect to %s: %v", url, err)
	}
	defer func() { _ = conn.Close(context.Background()) }()
	results, err := conn.PgConn().Exec(t.Context(), query).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	return string(results[len(results)-1].Rows[0][0])
}

// wantSentence wants an error of one line that holds the words.
func wantSentence(t *testing.T, err error, words string) {
	t.Helper()
	if err == nil || !strings.Contains(err.Error(), words) || strings.Contains(err.Error(), "\n") {
		t.Errorf("error = %v, want one line with %q", err, words)
	}
}

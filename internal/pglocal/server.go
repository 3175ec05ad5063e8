// Package pglocal runs a private PostgreSQL server from the machine's own
// binaries: for the demonstration, for measuring and for tests. The server
// opens no TCP port; its socket lies in a folder that only its own system user
// (and root) may enter. It never outlives the process that started it, however
// that process ends.
//
// It is no way to run a register that matters: that takes a server of its own,
// with backups. It works where there are Unix sockets; that a killed parent
// takes its server along holds on Linux only.
package pglocal

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
	"time"
)

// Superuser is the database role that owns a private cluster.
const Superuser = "postgres"

// How long a server may take, generously: a kept one may have to recover.
const (
	startLimit = 60 * time.Second
	stopLimit  = 60 * time.Second
	inUseLimit = 6 * time.Second // for a server that is just shutting down
)

// Options say what Start makes. The zero value is a throw-away cluster.
type Options struct {
	// DataDir is the folder of a kept cluster, made when missing. Empty: a
	// throw-away cluster in the temporary folder, without fsync, removed by
	// Stop or when the process ends.
	DataDir string
	// Roles is SQL that makes the roles, run at each start as the superuser,
	// so it must be safe to repeat. Empty: none.
	Roles string
	// Database is created when missing. Empty: none.
	Database string
	// Owner is the role that owns Database. Empty: the superuser.
	Owner string
	// Settings are settings of the server, each "name=value", that go before
	// those that Start chooses by itself.
	Settings []string
}

// Server is a running private PostgreSQL. Its methods may be called from
// several goroutines.
type Server struct {
	bin     binaries
	run     runFolder
	process *process

	once sync.Once
	err  error
}

// Start starts a private server and returns once it answers. Each error that a
// person can do something about is one sentence that says what: no binaries, a
// version before 15, a folder in use, made by another version, or out of reach.
// When ctx ends before the server answers, Start stops it and returns ctx's error.
func Start(ctx context.Context, o Options) (*Server, error) {
	who, err := runAs()
	if err != nil {
		return nil, err
	}
	data, err := openDataDir(o.DataDir)
	if err != nil {
		return nil, err
	}
	data.settings = o.Settings
	bin, err := choose(data.version)
	if err != nil {
		return nil, data.explain(err)
	}
	if err := who.reaches(bin.dir); err != nil {
		return nil, err
	}
	run, err := newRunFolder(ctx, who, data)
	if err != nil {
		return nil, err
	}
	s, err := start(ctx, who, bin, run, data)
	if err != nil {
		run.remove()
		return nil, err
	}
	if err := s.prepare(ctx, o); err != nil {
		_ = s.Stop() // the first error is the one to tell
		return nil, err
	}
	return s, nil
}

func start(ctx context.Context, who account, bin binaries, run runFolder, data dataDir) (*Server, error) {
	path, err := data.create(ctx, who, bin, run)
	if err != nil {
		return nil, err
	}
	p, err := launch(ctx, bin, who, run.path, path, data)
	if err != nil {
		return nil, err
	}
	go func() { // a caller may forget the server; its folder must stay while it runs
		<-p.done
		runtime.KeepAlive(run.janitor)
	}()
	return &Server{bin: bin, run: run, process: p}, nil
}

// URL returns the connection URL of a role and a database of this server. It
// needs no password: whoever may enter the socket's folder may connect.
func (s *Server) URL(role, database string) string {
	return socketURL(s.run.path, role, database)
}

func socketURL(folder, role, database string) string {
	u := url.URL{
		Scheme:   "postgres",
		User:     url.User(role),
		Path:     "/" + database,
		RawQuery: url.Values{"host": {folder}, "port": {port}}.Encode(),
	}
	return u.String()
}

// Tool returns the path of a program of PostgreSQL's that lies beside the
// server's own, such as pgbench, or else on PATH; "" where there is none.
func (s *Server) Tool(name string) string {
	path := filepath.Join(s.bin.dir, name)
	if _, err := os.Stat(path); err == nil {
		return path
	}
	path, err := exec.LookPath(name)
	if err != nil {
		return ""
	}
	return path
}

// Stop ends the server and waits for it: a kept cluster in good order, after a
// checkpoint; a throw-away one at once, with its folder. Calling it again
// returns what the first call returned.
func (s *Server) Stop() error {
	s.once.Do(func() {
		s.err = s.process.stop()
		s.run.remove()
	})
	return s.err
}

// DefaultDataDir returns where a kept cluster lies unless told otherwise:
// /var/lib/rockledger/demo for root, otherwise rockledger/demo in the user's
// data folder ($XDG_DATA_HOME, or ~/.local/share). It makes nothing.
func DefaultDataDir() (string, error) {
	if os.Geteuid() == 0 {
		return "/var/lib/rockledger/demo", nil
	}
	if dir := os.Getenv("XDG_DATA_HOME"); dir != "" {
		return dir + "/rockledger/demo", nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", fmt.Errorf("no home folder to keep the data in: name one with --data: %w", err)
	}
	return home + "/.local/share/rockledger/demo", nil
}

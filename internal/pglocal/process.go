package pglocal

import (
	"context"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
)

// port names the socket file; nothing listens on a TCP port.
const port = "5432"

// errInUse says that another server holds the data folder.
var errInUse = errors.New("in use")

// process is the running postgres.
type process struct {
	cmd  *exec.Cmd
	kept bool
	log  *tail
	done chan struct{} // closed when the process has been waited for
}

// command builds a command for the account with next to no environment and a
// process group of its own. When this process dies, it gets onDeath.
func command(ctx context.Context, who account, cwd string, onDeath syscall.Signal, name string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, name, args...) //nolint:gosec // the binaries that were found
	cmd.Dir = cwd                                  // the caller's own may be closed to the account
	cmd.Env = []string{"LC_ALL=" + locale, "TZ=UTC", "PATH=" + filepath.Dir(name) + ":/usr/bin:/bin"}
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	if who.drop {
		cmd.SysProcAttr.Credential = &syscall.Credential{Uid: who.uid, Gid: who.gid}
	}
	signalOnDeath(cmd.SysProcAttr, onDeath)
	return cmd
}

// pinned starts the command and waits for it in one goroutine that keeps its
// thread: the signal at the parent's death is tied to the thread that forked,
// so neither another goroutine nor a thread that ends early will do.
func pinned(cmd *exec.Cmd, started chan<- error) error {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	err := cmd.Start()
	started <- err
	if err != nil {
		return err
	}
	return cmd.Wait()
}

// runPinned runs a command to its end and returns what it printed.
func runPinned(cmd *exec.Cmd) (string, error) {
	out := &tail{}
	cmd.Stdout, cmd.Stderr = out, out
	ended := make(chan error, 1)
	go func() { ended <- pinned(cmd, make(chan error, 1)) }()
	err := <-ended
	return out.String(), err
}

// launch starts postgres on a data folder and waits until it answers. Where
// another server holds the folder it waits a little, since that one may be on
// its way out.
func launch(ctx context.Context, bin binaries, who account, socket, data string, as dataDir) (*process, error) {
	ctx, cancel := context.WithTimeout(ctx, startLimit)
	defer cancel()
	patience := time.After(inUseLimit)
	for {
		p, err := startProcess(bin, who, socket, data, as)
		if err != nil {
			return nil, err
		}
		err = p.ready(ctx, socketURL(socket, Superuser, "postgres"))
		if err == nil {
			return p, nil
		}
		_ = p.stop() // the first error is the one to tell
		if !errors.Is(err, errInUse) {
			return nil, err
		}
		select {
		case <-patience:
			return nil, fmt.Errorf("the data folder %s is %w by another server: stop the one that was started first, or choose another data folder", data, errInUse)
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(200 * time.Millisecond):
		}
	}
}

func startProcess(bin binaries, who account, socket, data string, as dataDir) (*process, error) {
	onDeath := syscall.SIGQUIT
	if as.kept() {
		onDeath = syscall.SIGINT
	}
	// The server's life is Stop's business, not that of the start's context.
	cmd := command(context.Background(), who, socket, onDeath, bin.postgres(), arguments(socket, data, as)...)
	p := &process{cmd: cmd, kept: as.kept(), log: &tail{}, done: make(chan struct{})}
	cmd.Stdout, cmd.Stderr = p.log, p.log
	started := make(chan error, 1)
	go func() {
		defer close(p.done)
		_ = pinned(cmd, started) // how postgres ended is read from its log
	}()
	if err := <-started; err != nil {
		return nil, fmt.Errorf("start %s: %w", bin.postgres(), err)
	}
	return p, nil
}

// arguments are postgres's settings. A throw-away cluster gives up every
// safeguard for speed; a kept one gives up none.
func arguments(socket, data string, as dataDir) []string {
	settings := []string{
		"listen_addresses=", "port=" + port, "unix_socket_directories=" + socket,
		"timezone=UTC", "jit=off", "max_connections=200", "logging_collector=off", "log_destination=stderr",
	}
	if as.kept() {
		settings = append(settings, "fsync=on", "full_page_writes=on", "synchronous_commit=on", "autovacuum=on", "shared_buffers=128MB")
	} else {
		settings = append(settings, "fsync=off", "full_page_writes=off", "synchronous_commit=off", "autovacuum=off",
			"shared_buffers=64MB", "wal_level=minimal", "max_wal_senders=0")
	}
	args := []string{"-D", data}
	for _, s := range append(settings, as.settings...) { // the last one counts
		args = append(args, "-c", s)
	}
	return args
}

// ready waits until the server answers, ends, or ctx does.
func (p *process) ready(ctx context.Context, url string) error {
	for {
		conn, err := pgx.Connect(ctx, url)
		if err == nil {
			return conn.Close(ctx)
		}
		select {
		case <-p.done:
			return p.why()
		case <-ctx.Done():
			return fmt.Errorf("wait for PostgreSQL to answer: %w: %s", ctx.Err(), lastLine(p.log.String()))
		case <-time.After(15 * time.Millisecond):
		}
	}
}

// why reads from postgres's log why it ended.
func (p *process) why() error {
	text := p.log.String()
	if strings.Contains(text, "postmaster.pid") && strings.Contains(text, "already exists") ||
		strings.Contains(text, "pre-existing shared memory block") {
		return errInUse
	}
	return fmt.Errorf("PostgreSQL ended at its start: %s", lastLine(text))
}

// stop ends postgres: a kept cluster by a fast shutdown (SIGINT), which writes
// a checkpoint; a throw-away one, or a kept one that takes too long, at once
// (SIGQUIT), which is as safe as a power cut.
func (p *process) stop() error {
	signals := []syscall.Signal{syscall.SIGQUIT, syscall.SIGKILL}
	if p.kept {
		signals = []syscall.Signal{syscall.SIGINT, syscall.SIGQUIT}
	}
	for _, s := range signals {
		_ = p.cmd.Process.Signal(s) // it may have ended already
		select {
		case <-p.done:
			return nil
		case <-time.After(stopLimit):
		}
	}
	return fmt.Errorf("PostgreSQL (process %d) does not end: %s", p.cmd.Process.Pid, lastLine(p.log.String()))
}

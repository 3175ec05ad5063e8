package pglocal

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
)

// socketPathLimit is the longest path of a Unix socket: 107 bytes on Linux,
// 103 on the BSDs (sun_path in sys/un.h); the shorter one serves both.
const socketPathLimit = 103

// runFolder is a private folder of one run: it holds the socket, and the data
// of a throw-away cluster.
type runFolder struct {
	path    string
	half    string // where a kept cluster is made before it is moved; empty: none to make
	janitor io.Closer
}

// newRunFolder makes the folder, and where a kept cluster is to be made the
// folder beside its place; a janitor sees to it that neither outlives this
// process.
func newRunFolder(ctx context.Context, who account, data dataDir) (runFolder, error) {
	var run runFolder
	path, err := os.MkdirTemp(temporary(who), "rockledger-pg-")
	if err != nil {
		return run, fmt.Errorf("make a folder for the socket: %w", err)
	}
	run.path = path
	if data.kept() && data.version == 0 {
		run.half, err = besides(data.path)
	}
	if err == nil {
		run.janitor, err = newJanitor(ctx, run.path, run.half)
	}
	if err == nil {
		err = who.own(run.path)
	}
	if err == nil && run.half != "" {
		err = errors.Join(who.own(run.half), who.reaches(filepath.Dir(run.half)))
	}
	if err != nil {
		run.remove()
		return run, err
	}
	return run, nil
}

// besides makes an empty folder next to path, and the folders above it.
func besides(path string) (string, error) {
	above := filepath.Dir(path)
	if err := os.MkdirAll(above, 0o755); err != nil { //nolint:gosec // the server's own user must pass through
		return "", fmt.Errorf("make the folder above the data: %w", err)
	}
	half, err := os.MkdirTemp(above, "."+filepath.Base(path)+"-new-")
	if err != nil {
		return "", fmt.Errorf("the data folder is made in %s, which must be writable: %w", above, err)
	}
	return half, nil
}

// temporary returns the temporary folder, or /tmp where that one is too long a
// path for a socket or closed to the account.
func temporary(who account) string {
	dir := os.TempDir()
	const socket = "/rockledger-pg-0123456789/.s.PGSQL." + port
	if len(dir)+len(socket) > socketPathLimit || who.reaches(dir) != nil {
		return "/tmp"
	}
	return dir
}

// remove removes the folders; on a folder that was never made it does nothing.
func (r runFolder) remove() {
	if r.janitor != nil {
		_ = r.janitor.Close() // the removal below is what counts
	}
	for _, dir := range []string{r.path, r.half} {
		if dir != "" {
			_ = os.RemoveAll(dir) // the janitor has most likely been quicker
		}
	}
}

// janitor is a shell that removes folders once its standard input closes,
// which it does when this process ends, even by kill -9.
type janitor struct {
	cmd   *exec.Cmd
	stdin io.Closer
}

const removeAtEnd = `cat >/dev/null; for i in 1 2 3 4 5; do rm -rf -- "$@" 2>/dev/null && exit; sleep 0.2; done`

func newJanitor(ctx context.Context, dirs ...string) (io.Closer, error) {
	args := []string{"-c", removeAtEnd, "sh"}
	for _, dir := range dirs {
		if dir != "" {
			args = append(args, dir)
		}
	}
	cmd := exec.CommandContext(context.WithoutCancel(ctx), "/bin/sh", args...)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // Ctrl-C is not for it
	stdin, err := cmd.StdinPipe()
	if err != nil {
		return nil, fmt.Errorf("start the folder's janitor: %w", err)
	}
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("start the folder's janitor: %w", err)
	}
	return janitor{cmd: cmd, stdin: stdin}, nil
}

// Close lets the janitor do its work and waits for it.
func (j janitor) Close() error {
	return errors.Join(j.stdin.Close(), j.cmd.Wait())
}

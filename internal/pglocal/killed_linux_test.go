package pglocal_test

import (
	"bufio"
	"bytes"
	"errors"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rockledger/internal/pglocal"
)

func TestNothingSurvivesKill(t *testing.T) {
	t.Parallel()
	kept := keptFolder(t)
	for name, dir := range map[string]string{"kept": kept, "throw-away": "throw-away"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			server := startChild(t, dir)
			pid := postmaster(t, server)
			kill(t, server)
			if dir == kept { // the old server may be writing its checkpoint still
				start(t, pglocal.Options{DataDir: kept})
			}
			eventually(t, "process "+pid+" gone", func() bool { return ended(pid) })
			eventually(t, "folder of the socket gone", func() bool {
				_, err := os.Stat(server.socket)
				return errors.Is(err, os.ErrNotExist)
			})
		})
	}
}

type childServer struct {
	cmd         *exec.Cmd
	url, socket string
}

func startChild(t *testing.T, dir string) childServer {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), self)
	cmd.Env = append(os.Environ(), childVar+"="+dir)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		_ = cmd.Wait()
		t.Fatalf("child said %q: %v: %s", line, err, stderr.String())
	}
	u, err := url.Parse(strings.TrimSpace(line))
	if err != nil {
		t.Fatal(err)
	}
	return childServer{cmd: cmd, url: u.String(), socket: u.Query().Get("host")}
}

func kill(t *testing.T, c childServer) {
	t.Helper()
	if err := c.cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = c.cmd.Wait() // killed, as it should be
}

// postmaster returns the id of the server's first process.
func postmaster(t *testing.T, c childServer) string {
	t.Helper()
	data := ask(t, c.url, `SHOW data_directory`)
	text, err := os.ReadFile(filepath.Join(data, "postmaster.pid"))
	if err != nil {
		t.Fatal(err)
	}
	pid, _, _ := strings.Cut(string(text), "\n")
	if ended(pid) {
		t.Fatalf("process %s has ended before the kill", pid)
	}
	return pid
}

// ended reports whether a process is gone, or only waits for somebody to
// notice its end (a container's first process may never do so).
func ended(pid string) bool {
	stat, err := os.ReadFile("/proc/" + pid + "/stat")
	if err != nil {
		return true
	}
	_, state, _ := strings.Cut(string(stat), ") ")
	return strings.HasPrefix(state, "Z")
}

func eventually(t *testing.T, what string, holds func() bool) {
	t.Helper()
	deadline := time.After(20 * time.Second)
	for !holds() {
		select {
		case <-deadline:
			t.Fatalf("not within 20 s: %s", what)
		case <-time.After(20 * time.Millisecond):
		}
	}
}

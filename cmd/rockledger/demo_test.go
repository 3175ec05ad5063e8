package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rockledger/internal/pglocal"
	"rockledger/internal/wording"
)

// demoLimit is how long a demo may take to start or stop.
const demoLimit = 2 * time.Minute

// needsBinaries skips a test on a laptop without PostgreSQL, and fails it with
// CI=true.
func needsBinaries(t *testing.T) {
	t.Helper()
	switch {
	case pglocal.Found():
	case os.Getenv("CI") == "true":
		t.Fatal("needs PostgreSQL's server binaries")
	default:
		t.Skip("needs PostgreSQL's server binaries")
	}
}

// demoFolder returns a folder for a demo's database that PostgreSQL may enter
// where it runs as another user.
func demoFolder(t *testing.T) string {
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

// demoProcess is a demo in a process of its own.
type demoProcess struct {
	cmd    *exec.Cmd
	page   demoPage
	stderr *bytes.Buffer
}

// startDemo starts a demo and reads what it prints once it is ready.
func startDemo(t *testing.T, dir string) *demoProcess {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), demoLimit)
	t.Cleanup(cancel)
	d := &demoProcess{cmd: exec.CommandContext(ctx, self, "demo", "--data", dir, "--addr", "127.0.0.1:0", "--print", "json"), stderr: &bytes.Buffer{}}
	d.cmd.Env, d.cmd.Stderr = append(os.Environ(), asMain+"=1"), d.stderr
	out, err := d.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := d.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = d.cmd.Process.Kill() }) // one that has ended answers an error
	if err := json.NewDecoder(out).Decode(&d.page); err != nil {
		_ = d.cmd.Wait()
		t.Fatalf("demo: %v: %s", err, d.stderr)
	}
	return d
}

// stop ends a demo as Ctrl-C does.
func (d *demoProcess) stop(t *testing.T) {
	t.Helper()
	if err := d.cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	if err := d.cmd.Wait(); err != nil {
		t.Errorf("demo ended with %v: %s", err, d.stderr)
	}
}

// get reads a path of the API with a role's token.
func (d *demoProcess) get(t *testing.T, role, path string) (int, string) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, d.page.Address+path, nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Authorization", "Bearer "+d.page.Tokens[role])
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = answer.Body.Close() }()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, string(body)
}

// A demo has a key for each role and data to look at; the next start has the
// same data and other keys.
func TestDemo(t *testing.T) {
	t.Parallel()
	needsBinaries(t)
	dir := demoFolder(t)
	first := startDemo(t, dir)
	if len(first.page.Tokens) != 4 || len(first.page.Logins) != 4 || first.page.Caution != wording.Caution {
		t.Errorf("demo printed %+v, want a token and a sign-in for each of four roles, and the caution", first.page)
	}
	if !strings.HasPrefix(first.page.Address, "http://127.0.0.1:") {
		t.Errorf("demo listens on %s, want loopback", first.page.Address)
	}
	status, before := first.get(t, "reader", "/v1/anchors?limit=500")
	if status != http.StatusOK || !strings.Contains(before, "Varrow Scar") {
		t.Errorf("anchors: %d %.200s", status, before)
	}
	first.stop(t)

	again := startDemo(t, dir)
	if _, after := again.get(t, "reader", "/v1/anchors?limit=500"); after != before {
		t.Error("the second start has other anchors")
	}
	if again.page.Tokens["reader"] == first.page.Tokens["reader"] {
		t.Error("the second start has the keys of the first")
	}
	again.page.Tokens["reader"] = first.page.Tokens["reader"]
	if status, _ := again.get(t, "reader", "/v1/anchors"); status != http.StatusUnauthorized {
		t.Errorf("a key of the first start: %d, want %d", status, http.StatusUnauthorized)
	}
	again.stop(t)
}

func TestDemoWantsBothURLs(t *testing.T) {
	t.Parallel()
	if _, err := command(t, "demo", "--database-url", "postgres://a"); err == nil || !strings.Contains(err.Error(), "both") {
		t.Errorf("demo with one URL: %v, want it to ask for both", err)
	}
}

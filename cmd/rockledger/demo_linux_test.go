package main

import (
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A demo that is killed takes its database with it, and can be started again.
func TestDemoKilled(t *testing.T) {
	t.Parallel()
	needsBinaries(t)
	dir := demoFolder(t)
	d := startDemo(t, dir)
	pid := serverOf(t, dir)
	if err := d.cmd.Process.Signal(syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	_ = d.cmd.Wait() // killed, as it should be
	deadline := time.After(demoLimit)
	for !ended(pid) {
		select {
		case <-deadline:
			t.Fatalf("the database, process %s, lives on", pid)
		case <-time.After(20 * time.Millisecond):
		}
	}
	again := startDemo(t, dir)
	if status, _ := again.get(t, "reader", "/v1/reports/work"); status != http.StatusOK {
		t.Errorf("after the kill: %d, want %d", status, http.StatusOK)
	}
	again.stop(t)
}

// serverOf returns the id of the first process of the database in dir.
func serverOf(t *testing.T, dir string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, "postmaster.pid"))
	if err != nil {
		t.Fatal(err)
	}
	pid, _, _ := strings.Cut(string(text), "\n")
	return pid
}

// ended reports whether a process is gone, or only waits for somebody to notice
// its end.
func ended(pid string) bool {
	stat, err := os.ReadFile("/proc/" + pid + "/stat")
	if err != nil {
		return true
	}
	_, state, _ := strings.Cut(string(stat), ") ")
	return strings.HasPrefix(state, "Z")
}

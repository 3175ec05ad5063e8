package bench

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// repeat runs pgbench on what was rehearsed and returns the mean time of a
// transaction, the time to connect aside.
func (b *bench) repeat(ctx context.Context, e *entry) (took time.Duration, err error) {
	dir, err := os.MkdirTemp("", "rockledger-bench-")
	if err != nil {
		return 0, fmt.Errorf("make a folder for pgbench: %w", err)
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	clients := b.Clients
	if e.calls > 0 {
		clients = 1
	}
	args := []string{"--no-vacuum", "--protocol=prepared", fmt.Sprintf("--client=%d", clients), fmt.Sprintf("--jobs=%d", clients)}
	if e.calls > 0 {
		args = append(args, fmt.Sprintf("--transactions=%d", e.calls))
	} else {
		args = append(args, fmt.Sprintf("--time=%d", b.Seconds))
	}
	for i, script := range e.scripts {
		path := filepath.Join(dir, fmt.Sprintf("script-%d.sql", i))
		if err := os.WriteFile(path, []byte(script), 0o600); err != nil {
			return 0, fmt.Errorf("write a script for pgbench: %w", err)
		}
		args = append(args, "--file="+path)
	}
	perSecond, err := b.runPgbench(ctx, append(args, e.url))
	if err != nil {
		return 0, err
	}
	return time.Duration(float64(clients) / perSecond * float64(time.Second)), nil
}

// runPgbench returns the transactions a second.
func (b *bench) runPgbench(ctx context.Context, args []string) (float64, error) {
	cmd := exec.CommandContext(ctx, b.pgbench, args...) //nolint:gosec // the program that was found beside the server's
	cmd.Env = append(os.Environ(), "LC_ALL=C")
	var complaints strings.Builder
	cmd.Stderr = &complaints
	out, err := cmd.Output()
	if err != nil {
		return 0, fmt.Errorf("pgbench: %w: %s", err, strings.TrimSpace(complaints.String()))
	}
	return perSecond(string(out))
}

var (
	rateLine   = regexp.MustCompile(`(?m)^tps = ([0-9.]+) \(without initial connection time\)$`)
	failedLine = regexp.MustCompile(`(?m)^number of failed transactions: ([0-9]+)`)
)

// perSecond reads the rate from what pgbench prints.
func perSecond(out string) (float64, error) {
	if m := failedLine.FindStringSubmatch(out); m != nil && m[1] != "0" {
		return 0, fmt.Errorf("pgbench: %s transactions failed", m[1])
	}
	m := rateLine.FindStringSubmatch(out)
	if m == nil {
		return 0, fmt.Errorf("pgbench gave no rate that is understood: %q", out)
	}
	rate, err := strconv.ParseFloat(m[1], 64)
	if err != nil || rate <= 0 {
		return 0, fmt.Errorf("pgbench gave the rate %q", m[1])
	}
	return rate, nil
}

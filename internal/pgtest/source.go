package pgtest

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"

	"rockledger/internal/pglocal"
)

// errNoServer says that this machine has nothing to run a database with.
var errNoServer = errors.New("set TEST_DATABASE_URL, install PostgreSQL's server, or start a Docker engine")

// server returns a superuser's URL of the server that tests use.
func server(ctx context.Context) (string, error) {
	address := os.Getenv("TEST_DATABASE_URL")
	switch forced := os.Getenv("ROCKLEDGER_TEST_DB"); {
	case forced == "url" && address == "":
		return "", errors.New("ROCKLEDGER_TEST_DB=url, but TEST_DATABASE_URL is not set")
	case forced == "url", forced == "" && address != "":
		return address, nil
	case forced == "local", forced == "" && pglocal.Found():
		return local(ctx)
	case forced == "container":
		return container(ctx)
	case forced == "":
		address, err := container(ctx)
		if err != nil {
			return "", fmt.Errorf("%w (%w)", errNoServer, err)
		}
		return address, nil
	default:
		return "", fmt.Errorf("ROCKLEDGER_TEST_DB=%s: want url, local or container", forced)
	}
}

// local starts a private throw-away server, which ends with this process.
func local(ctx context.Context) (string, error) {
	s, err := pglocal.Start(ctx, pglocal.Options{})
	if err != nil {
		return "", err
	}
	return s.URL(pglocal.Superuser, "postgres"), nil
}

// container runs the command that starts a container and reads the URL it
// prints. The command ends when its standard input closes, which it does when
// this process ends. It is a command, and no import, because its many packages
// would otherwise stand in every test binary.
func container(ctx context.Context) (string, error) {
	cmd := exec.CommandContext(context.WithoutCancel(ctx), "go", "run", "rockledger/cmd/testpostgres")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	if _, err := cmd.StdinPipe(); err != nil { // held open while this process lives
		return "", err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return "", err
	}
	if err := cmd.Start(); err != nil {
		return "", fmt.Errorf("start a container: %w", err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		_ = cmd.Wait() // what it said tells more than how it ended
		return "", fmt.Errorf("start a container: %s", firstLine(stderr.String()))
	}
	go func() { _ = cmd.Wait() }() // holds the pipe open for as long as this process lives
	return strings.TrimSpace(line), nil
}

func firstLine(text string) string {
	line, _, _ := strings.Cut(strings.TrimSpace(text), "\n")
	return line
}

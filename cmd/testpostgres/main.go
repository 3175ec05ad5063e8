// Command testpostgres starts PostgreSQL in a container for tests, prints a
// superuser's URL on one line, and ends, with the container, when its standard
// input closes. ROCKLEDGER_TEST_IMAGE names another image than postgres:17.
// It stands apart so that its many packages stay out of every test binary.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/netip"
	"os"
	"os/signal"
	"syscall"
	"time"

	"github.com/moby/moby/api/types/container"
	"github.com/moby/moby/api/types/network"
	"github.com/testcontainers/testcontainers-go"
	"github.com/testcontainers/testcontainers-go/modules/postgres"
	"github.com/testcontainers/testcontainers-go/wait"
)

const (
	// defaultImage is a supported major version of the official image.
	defaultImage = "postgres:17"
	// startLimit is how long a container may take until it answers, once its
	// image is there.
	startLimit = time.Minute
	// port is where PostgreSQL listens in the container.
	port = "5432/tcp"
)

func main() {
	// However the tests end, the container must go: Ctrl-C in a terminal reaches
	// this process too, and what is said while the container goes, to a reader
	// that is gone, must not end it.
	signal.Ignore(syscall.SIGPIPE)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	err := run(ctx, os.Stdin, os.Stdout)
	stop()
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// run returns, the container gone, when stdin or ctx ends.
func run(ctx context.Context, stdin io.Reader, stdout io.Writer) (err error) {
	image := defaultImage
	if named := os.Getenv("ROCKLEDGER_TEST_IMAGE"); named != "" {
		image = named
	}
	c, err := postgres.Run(ctx, image,
		testcontainers.WithHostConfigModifier(onLoopback), testcontainers.WithWaitStrategy(answers()))
	defer func() { err = errors.Join(err, testcontainers.TerminateContainer(c)) }()
	if err != nil {
		return fmt.Errorf("start a container from %s: %w", image, err)
	}
	url, err := c.ConnectionString(ctx, "sslmode=disable")
	if err != nil {
		return fmt.Errorf("address of the container: %w", err)
	}
	if _, err := fmt.Fprintln(stdout, url); err != nil {
		return err
	}
	return ended(ctx, stdin)
}

// onLoopback keeps the test database, whose password is no secret, off the
// network; so the engine must run on this machine.
func onLoopback(c *container.HostConfig) {
	loopback := netip.AddrFrom4([4]byte{127, 0, 0, 1})
	c.PortBindings = network.PortMap{network.MustParsePort(port): {{HostIP: loopback}}}
}

// answers waits until the server takes connections from inside, over TCP, and
// then until the engine passes them on. The log will not do: some images say
// "ready" twice, because they start once to set themselves up, others once.
func answers() wait.Strategy {
	ready := wait.ForExec([]string{"pg_isready", "--quiet", "--host=127.0.0.1"})
	return wait.ForAll(ready, wait.ForListeningPort(port)).WithDeadline(startLimit)
}

// ended waits until whoever started this is gone.
func ended(ctx context.Context, stdin io.Reader) error {
	closed := make(chan error, 1)
	go func() {
		_, err := io.Copy(io.Discard, stdin)
		closed <- err
	}()
	select {
	case <-ctx.Done():
		return nil
	case err := <-closed:
		return err
	}
}

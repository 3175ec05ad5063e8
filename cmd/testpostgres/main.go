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
	"os"

	"github.com/testcontainers/testcontainers-go"
	"github.com/testcontainers/testcontainers-go/modules/postgres"
)

// defaultImage is a supported major version of the official image.
const defaultImage = "postgres:17"

func main() {
	if err := run(context.Background(), os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(ctx context.Context, stdin io.Reader, stdout io.Writer) (err error) {
	image := defaultImage
	if named := os.Getenv("ROCKLEDGER_TEST_IMAGE"); named != "" {
		image = named
	}
	c, err := postgres.Run(ctx, image, postgres.BasicWaitStrategies())
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
	_, err = io.Copy(io.Discard, stdin) // until whoever started this is gone
	return err
}

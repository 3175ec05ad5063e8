package main

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"time"

	"rockledger/internal/config"
)

// readyWithin is how long a service may take to say that it is ready: longer
// than it gives its own database, so that its answer comes through.
const readyWithin = 4 * time.Second

// runReady asks the service at an address whether it is ready and returns an
// error if it is not, or cannot be reached: a health check for machines that
// have no other program to ask with.
func runReady(ctx context.Context, c config.Ready, stdout io.Writer) error {
	ctx, stop := context.WithTimeout(ctx, readyWithin)
	defer stop()
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+c.Addr+"/readyz", http.NoBody)
	if err != nil {
		return fmt.Errorf("ask %s: %w", c.Addr, err)
	}
	answer, err := http.DefaultClient.Do(request)
	if err != nil {
		return fmt.Errorf("not ready: %w", err)
	}
	defer func() { _ = answer.Body.Close() }()
	if answer.StatusCode != http.StatusOK {
		return fmt.Errorf("not ready: %s answers %s", c.Addr, answer.Status)
	}
	_, err = fmt.Fprintln(stdout, "ready")
	return err
}

package server

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"
)

// Limits of a connection, defaults of this project: a list of 20 MB over a
// slow line fits, a connection that says nothing does not stay.
const (
	headerWithin = 10 * time.Second
	readWithin   = 3 * time.Minute
	writeWithin  = 5 * time.Minute
	idleWithin   = 2 * time.Minute
	maxHeader    = 64 << 10
	// drainWithin is how long requests under way may take once it is time to
	// stop.
	drainWithin = 10 * time.Second
)

// Run answers on addr until ctx ends, then takes no new request, lets those
// under way finish for up to ten seconds, and returns nil. onReady is called
// once the address is open, with the address as it came out; an error it
// returns stops the server and is returned.
func Run(ctx context.Context, e *echo.Echo, addr string, onReady func(net.Addr) error) error {
	var lc net.ListenConfig
	l, err := lc.Listen(ctx, "tcp", addr)
	if err != nil {
		return fmt.Errorf("listen on %s: %w", addr, err)
	}
	s := &http.Server{
		Handler:           e,
		ReadHeaderTimeout: headerWithin,
		ReadTimeout:       readWithin,
		WriteTimeout:      writeWithin,
		IdleTimeout:       idleWithin,
		MaxHeaderBytes:    maxHeader,
	}
	served := make(chan error, 1)
	go func() { served <- s.Serve(l) }()

	if err := onReady(l.Addr()); err != nil {
		return errors.Join(err, s.Close())
	}
	select {
	case err := <-served:
		return fmt.Errorf("serve on %s: %w", addr, err)
	case <-ctx.Done():
	}
	return drain(ctx, s)
}

// drain ends s; what is still under way after drainWithin is cut off.
func drain(ctx context.Context, s *http.Server) error {
	ctx, stop := context.WithTimeout(context.WithoutCancel(ctx), drainWithin)
	defer stop()
	err := s.Shutdown(ctx)
	if errors.Is(err, context.DeadlineExceeded) {
		err = s.Close()
	}
	if err != nil {
		return fmt.Errorf("stop the server: %w", err)
	}
	return nil
}

package server_test

import (
	"context"
	"errors"
	"io"
	"net"
	"net/http"
	"testing"

	"github.com/labstack/echo/v4"

	"rockledger/internal/server"
)

// TestRunDrains holds that a request under way is answered after the stop, and
// that Run then returns without an error and the address is closed.
func TestRunDrains(t *testing.T) {
	t.Parallel()
	e := bare(io.Discard, nil)
	ctx, stop := context.WithCancel(t.Context())
	e.GET("/slow", func(c echo.Context) error {
		stop()
		<-ctx.Done()
		return c.String(http.StatusOK, "done")
	})
	addr := make(chan net.Addr, 1)
	ended := make(chan error, 1)
	go func() {
		ended <- server.Run(ctx, e, "127.0.0.1:0", func(a net.Addr) error { addr <- a; return nil })
	}()
	at := <-addr
	r, err := http.Get("http://" + at.String() + "/slow") //nolint:noctx // the server is the test's own
	if err != nil {
		t.Fatalf("GET /slow during the stop: %v", err)
	}
	defer closed(t, r.Body)
	if r.StatusCode != http.StatusOK {
		t.Errorf("GET /slow during the stop = %d, want 200", r.StatusCode)
	}
	if err := <-ended; err != nil {
		t.Errorf("Run = %v, want nil", err)
	}
	if c, err := (&net.Dialer{}).DialContext(t.Context(), "tcp", at.String()); err == nil {
		closed(t, c)
		t.Error("the address still answers after Run has returned")
	}
}

func TestRunRefuses(t *testing.T) {
	t.Parallel()
	e := bare(io.Discard, nil)
	no := errors.New("nobody listens")
	if err := server.Run(t.Context(), e, "127.0.0.1:0", func(net.Addr) error { return no }); !errors.Is(err, no) {
		t.Errorf("Run = %v, want the error of onReady", err)
	}
	l, err := (&net.ListenConfig{}).Listen(t.Context(), "tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer closed(t, l)
	if err := server.Run(t.Context(), e, l.Addr().String(), nil); err == nil {
		t.Error("Run on an address in use = nil, want an error")
	}
}

func closed(t *testing.T, c io.Closer) {
	t.Helper()
	if err := c.Close(); err != nil {
		t.Errorf("close: %v", err)
	}
}

package server_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/alexedwards/scs/v2/memstore"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/auth"
	"rockledger/internal/fault"
	"rockledger/internal/server"
	"rockledger/internal/web"
)

// bare is a server without a database: nothing that is asked of it here gets
// as far as that.
func bare(log io.Writer, ready error) *echo.Echo {
	logger := slog.New(slog.NewTextHandler(log, nil))
	service := app.New(nil, time.Now)
	return server.New(server.Options{
		Service: service,
		Pages: web.New(web.Options{
			Service: service, Sessions: memstore.NewWithCleanupInterval(0), Log: logger,
			Cost: auth.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1},
		}),
		Ready: func(context.Context) error { return ready },
		Spec:  []byte("openapi: 3.0.3\n"),
		Log:   logger,
	})
}

func get(t *testing.T, e *echo.Echo, target string) *httptest.ResponseRecorder {
	t.Helper()
	return ask(e, httptest.NewRequestWithContext(t.Context(), http.MethodGet, target, http.NoBody))
}

func ask(e *echo.Echo, r *http.Request) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	e.ServeHTTP(w, r)
	return w
}

// TestEverythingAsksForToken holds that nothing under /v1 says whether it is
// there to one who may not ask.
func TestEverythingAsksForToken(t *testing.T) {
	t.Parallel()
	e := bare(io.Discard, nil)
	var first string
	for _, target := range []string{"/v1", "/v1/", "/v1/sites", "/v1/nowhere", "/v1/sites/7", "/v1/anchors?limit=0"} {
		for _, method := range []string{http.MethodGet, http.MethodPost, http.MethodDelete} {
			w := ask(e, httptest.NewRequestWithContext(t.Context(), method, target, http.NoBody))
			if w.Code != http.StatusUnauthorized {
				t.Errorf("%s %s = %d, want 401", method, target, w.Code)
			}
			if got := w.Header().Get("WWW-Authenticate"); !strings.HasPrefix(got, "Bearer") {
				t.Errorf("%s %s: WWW-Authenticate = %q, want Bearer", method, target, got)
			}
			if got := w.Header().Get("Content-Type"); got != "application/problem+json" {
				t.Errorf("%s %s: type %q, want a problem", method, target, got)
			}
			if first == "" {
				first = w.Body.String()
			}
			if w.Body.String() != first {
				t.Errorf("%s %s = %s, want the same as everywhere: %s", method, target, w.Body, first)
			}
		}
	}
}

func TestHealth(t *testing.T) {
	t.Parallel()
	e := bare(io.Discard, nil)
	for _, target := range []string{"/healthz", "/readyz", "/openapi.yaml"} {
		if w := get(t, e, target); w.Code != http.StatusOK {
			t.Errorf("GET %s = %d, want 200", target, w.Code)
		}
	}
	var log bytes.Buffer
	down := bare(&log, errors.New("no connection to 10.0.0.7"))
	if w := get(t, down, "/healthz"); w.Code != http.StatusOK {
		t.Errorf("GET /healthz while the database is down = %d, want 200", w.Code)
	}
	w := get(t, down, "/readyz")
	if w.Code != http.StatusServiceUnavailable || strings.Contains(w.Body.String(), "10.0.0.7") {
		t.Errorf("GET /readyz while the database is down = %d %s, want 503 without the reason", w.Code, w.Body)
	}
	if !strings.Contains(log.String(), "10.0.0.7") {
		t.Errorf("log = %s, want the reason", log.String())
	}
}

// TestErrorsInTheirForm holds that a failure is a page for people and a problem
// for programs.
func TestErrorsInTheirForm(t *testing.T) {
	t.Parallel()
	e := bare(io.Discard, nil)
	w := get(t, e, "/nowhere")
	if w.Code != http.StatusNotFound || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/html") {
		t.Errorf("GET /nowhere = %d %s, want a page of 404", w.Code, w.Header().Get("Content-Type"))
	}
	w = get(t, e, "/ogc/nowhere")
	if w.Code != http.StatusNotFound || w.Header().Get("Content-Type") != "application/problem+json" {
		t.Errorf("GET /ogc/nowhere = %d %s, want a problem of 404", w.Code, w.Header().Get("Content-Type"))
	}
}

func TestHeaders(t *testing.T) {
	t.Parallel()
	for _, target := range []string{"/healthz", "/nowhere", "/v1/sites"} {
		h := get(t, bare(io.Discard, nil), target).Header()
		if got := h.Get("Content-Security-Policy"); !strings.HasPrefix(got, "default-src 'self';") {
			t.Errorf("GET %s: policy %q", target, got)
		}
		for name, want := range map[string]string{
			"X-Content-Type-Options": "nosniff", "Referrer-Policy": "same-origin",
		} {
			if got := h.Get(name); got != want {
				t.Errorf("GET %s: %s = %q, want %q", target, name, got, want)
			}
		}
		if target != "/nowhere" && h.Get("Cache-Control") != "no-store" { // pages say it their own way
			t.Errorf("GET %s: Cache-Control = %q, want no-store", target, h.Get("Cache-Control"))
		}
		if h.Get("X-Request-Id") == "" {
			t.Errorf("GET %s: no request id", target)
		}
	}
}

// TestPanic holds that a panic is answered like any fault of ours, its text and
// stack in the log alone, and neither query nor token in any line.
func TestPanic(t *testing.T) {
	t.Parallel()
	var log bytes.Buffer
	e := bare(&log, nil)
	e.GET("/ogc/break", func(echo.Context) error { panic("out of rope") })
	r := httptest.NewRequestWithContext(t.Context(), http.MethodGet, "/ogc/break?secret=1", http.NoBody)
	r.Header.Set("Authorization", "Bearer topsecret")
	w := ask(e, r)
	var p struct{ Code string }
	if err := json.Unmarshal(w.Body.Bytes(), &p); err != nil || w.Code != http.StatusInternalServerError || p.Code != "internal" {
		t.Errorf("panic = %d %s, want a problem of 500", w.Code, w.Body)
	}
	if strings.Contains(w.Body.String(), "rope") {
		t.Errorf("panic is told: %s", w.Body)
	}
	text := log.String()
	if !strings.Contains(text, "out of rope") || !strings.Contains(text, "route=/ogc/break") {
		t.Errorf("log = %s, want the panic with its route", text)
	}
	if strings.Contains(text, "secret") {
		t.Errorf("log = %s, want neither query nor token", text)
	}
}

// TestBrokenStream holds that an answer that fails half way is cut off.
func TestBrokenStream(t *testing.T) {
	t.Parallel()
	e := bare(io.Discard, nil)
	e.GET("/ogc/stream", func(c echo.Context) error {
		if err := c.String(http.StatusOK, "half"); err != nil {
			return err
		}
		return errors.New("the rest is lost")
	})
	s := httptest.NewServer(e)
	defer s.Close()
	r, err := http.Get(s.URL + "/ogc/stream") //nolint:noctx // a test's own server
	if err == nil {
		defer closed(t, r.Body)
		_, err = io.ReadAll(r.Body)
	}
	if err == nil {
		t.Errorf("GET of a stream that broke = %d, want it cut off", r.StatusCode)
	}
}

// TestStatuses holds that each kind of failure has its status.
func TestStatuses(t *testing.T) {
	t.Parallel()
	e := bare(io.Discard, nil)
	var err error
	e.GET("/ogc/fail", func(echo.Context) error { return err })
	for _, c := range []struct {
		err  error
		want int
	}{
		{errors.New("not classified"), 500},
		{fault.New(fault.Internal, ""), 500},
		{fault.New(fault.Invalid, ""), 422},
		{fault.Reject(fault.Malformed, ""), 400},
		{fault.New(fault.Unauthenticated, ""), 401},
		{fault.New(fault.Forbidden, ""), 403},
		{fault.New(fault.NotFound, ""), 404},
		{fault.New(fault.Conflict, ""), 409},
		{fault.New(fault.Stale, ""), 412},
		{fault.New(fault.Unstated, ""), 428},
		{fault.New(fault.TooLarge, ""), 413},
		{&http.MaxBytesError{Limit: 1}, 413},
		{fault.New(fault.TooMany, ""), 429},
		{fault.New(fault.Busy, ""), 503},
		{context.DeadlineExceeded, 503},
		{echo.ErrUnsupportedMediaType, 415},
	} {
		err = c.err
		if w := get(t, e, "/ogc/fail"); w.Code != c.want {
			t.Errorf("%v = %d, want %d", c.err, w.Code, c.want)
		}
	}
}

func TestLimitBody(t *testing.T) {
	t.Parallel()
	e := bare(io.Discard, nil)
	e.POST("/ogc/body", func(c echo.Context) error {
		_, err := io.Copy(io.Discard, c.Request().Body)
		return err
	})
	long := strings.NewReader(strings.Repeat("x", 33<<20))
	if w := ask(e, httptest.NewRequestWithContext(t.Context(), http.MethodPost, "/ogc/body", long)); w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("33 MiB = %d, want 413", w.Code)
	}
	r := httptest.NewRequestWithContext(t.Context(), http.MethodPost, "/ogc/body", strings.NewReader(strings.Repeat("x", 33<<20)))
	r.ContentLength = -1
	if w := ask(e, r); w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("33 MiB of unknown length = %d, want 413", w.Code)
	}
}

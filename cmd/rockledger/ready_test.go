package main

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"rockledger/internal/config"
)

func TestReady(t *testing.T) {
	t.Parallel()
	for code, want := range map[int]string{http.StatusOK: "", http.StatusServiceUnavailable: "503"} {
		mux := http.NewServeMux()
		mux.HandleFunc("GET /readyz", func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(code) })
		service := httptest.NewServer(mux)
		defer service.Close()
		var out bytes.Buffer
		err := runReady(t.Context(), config.Ready{Addr: service.Listener.Addr().String()}, &out)
		switch {
		case want == "" && (err != nil || out.String() != "ready\n"):
			t.Errorf("ready of a service that answers %d = %q, %v, want ready", code, out.String(), err)
		case want != "" && (err == nil || !strings.Contains(err.Error(), want)):
			t.Errorf("ready of a service that answers %d = %v, want an error with %s", code, err, want)
		}
	}
}

func TestReadyWithoutService(t *testing.T) {
	t.Parallel()
	gone := httptest.NewServer(http.NotFoundHandler())
	addr := gone.Listener.Addr().String()
	gone.Close()
	if err := runReady(t.Context(), config.Ready{Addr: addr}, &bytes.Buffer{}); err == nil || !strings.Contains(err.Error(), addr) {
		t.Errorf("ready without a service = %v, want an error that names %s", err, addr)
	}
}

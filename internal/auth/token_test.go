package auth_test

import (
	"bytes"
	"context"
	"encoding/hex"
	"errors"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/labstack/echo/v4"

	"rockledger/internal/auth"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// TestHashToken takes its value from FIPS 180-2, appendix B.1: SHA-256 of
// "abc".
func TestHashToken(t *testing.T) {
	t.Parallel()
	const want = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	if got := hex.EncodeToString(auth.HashToken("abc")); got != want {
		t.Errorf("HashToken(abc) = %s, want %s", got, want)
	}
}

func TestNewToken(t *testing.T) {
	t.Parallel()
	a, hash := auth.NewToken()
	b, _ := auth.NewToken()
	if a == b {
		t.Errorf("NewToken twice = %q both times", a)
	}
	if !bytes.Equal(hash, auth.HashToken(a)) {
		t.Errorf("NewToken hash = %x, want that of its text", hash)
	}
	if len(a) < 43 { // 256 bits in base64
		t.Errorf("NewToken = %d characters, want 43 or more", len(a))
	}
}

// keys knows one token, and fails for another.
type keys struct{ good, broken string }

var errDown = errors.New("database is down")

func (k keys) TokenActor(_ context.Context, hash []byte) (registry.Actor, error) {
	switch {
	case bytes.Equal(hash, auth.HashToken(k.good)):
		return registry.Actor{Group: "fell-end", Role: registry.RoleReader}, nil
	case bytes.Equal(hash, auth.HashToken(k.broken)):
		return registry.Actor{}, errDown
	}
	return registry.Actor{}, fault.New(fault.NotFound, "token")
}

func TestBearer(t *testing.T) {
	t.Parallel()
	good, _ := auth.NewToken()
	broken, _ := auth.NewToken()
	for _, c := range []struct {
		name    string
		headers []string
		kind    fault.Kind
		in      bool
	}{
		{"a token", []string{"Bearer " + good}, 0, true},
		{"the scheme in another case", []string{"bearer " + good}, 0, true}, // RFC 9110, section 11.1
		{"no header", nil, fault.Unauthenticated, false},
		{"another token", []string{"Bearer " + good + "x"}, fault.Unauthenticated, false},
		{"another scheme", []string{"Basic " + good}, fault.Unauthenticated, false},
		{"no token", []string{"Bearer "}, fault.Unauthenticated, false},
		{"two headers", []string{"Bearer " + good, "Bearer " + good}, fault.Unauthenticated, false},
		{"a token without end", []string{"Bearer " + strings.Repeat("x", 5000)}, fault.Unauthenticated, false},
		{"a store that fails is not the caller's fault", []string{"Bearer " + broken}, fault.Internal, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			r := httptest.NewRequestWithContext(t.Context(), http.MethodGet, "/v1/sites", http.NoBody)
			for _, h := range c.headers {
				r.Header.Add("Authorization", h)
			}
			in := false
			err := auth.Bearer(keys{good, broken})(func(c echo.Context) error {
				who, ok := auth.ActorFrom(c.Request().Context())
				in = ok && who.Group == "fell-end"
				return nil
			})(echo.New().NewContext(r, httptest.NewRecorder()))
			if in != c.in || (err == nil) != c.in || err != nil && fault.KindOf(err) != c.kind {
				t.Errorf("Bearer(%q) let in %v with %v, want %v, %v", c.headers, in, err, c.in, c.kind)
			}
		})
	}
}

func TestActorFromNothing(t *testing.T) {
	t.Parallel()
	if who, ok := auth.ActorFrom(context.Background()); ok {
		t.Errorf("ActorFrom(empty context) = %v, want nobody", who)
	}
}

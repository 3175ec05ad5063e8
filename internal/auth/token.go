package auth

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"strings"

	"github.com/labstack/echo/v4"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// tokenBytes is how many random bytes a token holds: 256 bits, so that a plain
// hash is enough to keep it by.
const tokenBytes = 32

// tokenPrefix marks a token, so that one that slipped into a file can be found.
const tokenPrefix = "rl_"

// maxToken is the longest token looked up, in bytes.
const maxToken = 200

// NewToken returns a new access token and the hash to keep. The plain text is
// shown once and stored nowhere.
func NewToken() (plain string, hash []byte) {
	b := make([]byte, tokenBytes)
	rand.Read(b) // never fails: see crypto/rand
	plain = tokenPrefix + base64.RawURLEncoding.EncodeToString(b)
	return plain, HashToken(plain)
}

// HashToken returns the SHA-256 of a token's text, 32 bytes.
func HashToken(plain string) []byte {
	h := sha256.Sum256([]byte(plain))
	return h[:]
}

// Tokens finds who a token belongs to.
type Tokens interface {
	// TokenActor returns the actor of the token with this hash. A hash that is
	// not there is fault.NotFound or fault.Unauthenticated.
	TokenActor(ctx context.Context, hash []byte) (registry.Actor, error)
}

// Bearer lets a request through only with the bearer token of a group (RFC
// 6750, header only) and puts its actor into the request's context. Otherwise
// it returns fault.Unauthenticated, which says nothing of the reason.
func Bearer(store Tokens) echo.MiddlewareFunc {
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			who, err := bearerActor(c, store)
			if err != nil {
				return err
			}
			r := c.Request()
			c.SetRequest(r.WithContext(WithActor(r.Context(), who)))
			return next(c)
		}
	}
}

func bearerActor(c echo.Context, store Tokens) (registry.Actor, error) {
	token, ok := bearerToken(c.Request().Header.Values(echo.HeaderAuthorization))
	if !ok {
		return registry.Actor{}, fault.New(fault.Unauthenticated, "no bearer token")
	}
	who, err := store.TokenActor(c.Request().Context(), HashToken(token))
	switch fault.KindOf(err) {
	case fault.NotFound, fault.Unauthenticated:
		return registry.Actor{}, fault.New(fault.Unauthenticated, "bearer token not known")
	}
	if err != nil {
		return registry.Actor{}, fmt.Errorf("look up bearer token: %w", err)
	}
	return who, nil
}

// bearerToken reads the only Authorization header.
func bearerToken(headers []string) (string, bool) {
	if len(headers) != 1 {
		return "", false
	}
	scheme, token, ok := strings.Cut(headers[0], " ")
	token = strings.TrimSpace(token)
	if !ok || !strings.EqualFold(scheme, "Bearer") || token == "" || len(token) > maxToken {
		return "", false
	}
	return token, true
}

package auth

import (
	"context"
	"crypto/rand"
	"encoding/base64"
	"fmt"

	"github.com/alexedwards/argon2id"
	"golang.org/x/crypto/argon2"

	"rockledger/internal/fault"
)

// MaxPassword is the longest password taken, in bytes: more would only serve
// to keep the machine busy.
const MaxPassword = 1024

// MinPassword is the shortest password that may be chosen, in characters; a
// default of this project.
const MinPassword = 12

// hashesAtOnce is how many passwords are hashed at the same time; each takes
// the memory of its Cost. Others wait.
const hashesAtOnce = 2

// Cost is how much work one password hash takes.
type Cost struct {
	MemoryKiB uint32
	Passes    uint32
	Lanes     uint8
}

// UsualCost is the second recommended option of RFC 9106, section 4: three
// passes over 64 MiB in four lanes.
func UsualCost() Cost { return Cost{MemoryKiB: 64 * 1024, Passes: 3, Lanes: 4} }

// TestCost is the least that Argon2id takes (RFC 9106, section 3.1: eight
// times the lanes, in KiB). It protects nothing and is for tests only.
func TestCost() Cost { return Cost{MemoryKiB: 8, Passes: 1, Lanes: 1} }

// Lengths of salt and tag in bytes, as RFC 9106, section 4 recommends.
const (
	saltLength = 16
	tagLength  = 32
)

// Hasher hashes passwords with Argon2id, a few at a time.
type Hasher struct {
	params *argon2id.Params
	slots  chan struct{}
	decoy  string
}

// NewHasher returns a hasher of the given cost.
func NewHasher(cost Cost) *Hasher {
	return &Hasher{
		params: &argon2id.Params{
			Memory: cost.MemoryKiB, Iterations: cost.Passes, Parallelism: cost.Lanes,
			SaltLength: saltLength, KeyLength: tagLength,
		},
		slots: make(chan struct{}, hashesAtOnce),
		decoy: decoy(cost),
	}
}

// HashPassword returns the hash of a password at the usual cost, with the
// errors of Hasher.Hash.
func HashPassword(ctx context.Context, password string) (string, error) {
	return NewHasher(UsualCost()).Hash(ctx, password)
}

// decoy is a hash that no password is known for. Comparing with it takes as
// long as comparing with a real one.
func decoy(cost Cost) string {
	random := make([]byte, saltLength+tagLength)
	rand.Read(random) // never fails: see crypto/rand
	text := base64.RawStdEncoding.EncodeToString
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version,
		cost.MemoryKiB, cost.Passes, cost.Lanes, text(random[:saltLength]), text(random[saltLength:]))
}

// Hash returns the hash of password with its salt and cost, in the usual text
// form. Errors are Invalid for a password that is blank or longer than
// MaxPassword, and Busy if ctx ends while waiting for a turn.
func (h *Hasher) Hash(ctx context.Context, password string) (string, error) {
	var c fault.Checks
	c.Require(password != "", "password", fault.Blank)
	c.Require(len(password) <= MaxPassword, "password", fault.TooLong)
	if err := c.Err(); err != nil {
		return "", err
	}
	done, err := h.turn(ctx)
	if err != nil {
		return "", err
	}
	defer done()
	hash, err := argon2id.CreateHash(password, h.params)
	if err != nil {
		return "", fmt.Errorf("hash password: %w", err)
	}
	return hash, nil
}

// Matches reports whether password belongs to hash. An empty hash, as of an
// account that does not exist, matches nothing and takes as long. Errors are
// Busy if ctx ends while waiting for a turn, and Internal for a hash that is
// none.
func (h *Hasher) Matches(ctx context.Context, password, hash string) (bool, error) {
	known := hash != "" && len(password) <= MaxPassword
	if !known {
		password, hash = "decoy", h.decoy
	}
	done, err := h.turn(ctx)
	if err != nil {
		return false, err
	}
	defer done()
	ok, err := argon2id.ComparePasswordAndHash(password, hash)
	if err != nil {
		return false, fmt.Errorf("compare password: %w", err)
	}
	return ok && known, nil
}

// turn waits until another password may be hashed.
func (h *Hasher) turn(ctx context.Context) (done func(), err error) {
	select {
	case h.slots <- struct{}{}:
		return func() { <-h.slots }, nil
	case <-ctx.Done():
		return nil, fault.Wrap(fault.Busy, ctx.Err(), "wait to hash a password")
	}
}

package auth_test

import (
	"context"
	"strings"
	"testing"

	"rockledger/internal/auth"
	"rockledger/internal/fault"
)

func TestHasher(t *testing.T) {
	t.Parallel()
	h := auth.NewHasher(auth.TestCost())
	hash, err := h.Hash(t.Context(), "a rope of sand")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, password, hash string
		want                 bool
	}{
		{"right password", "a rope of sand", hash, true},
		{"wrong password", "a rope of silt", hash, false},
		{"no password", "", hash, false},
		{"account that does not exist", "a rope of sand", "", false},
		{"decoy of an account that does not exist", "decoy", "", false},
		{"password longer than any", strings.Repeat("a", auth.MaxPassword+1), hash, false},
	} {
		got, err := h.Matches(t.Context(), c.password, c.hash)
		if err != nil || got != c.want {
			t.Errorf("%s: Matches(%.20q) = %v, %v, want %v", c.name, c.password, got, err, c.want)
		}
	}
}

// The text form and its cost: RFC 9106, section 4, second recommended option.
func TestUsualCost(t *testing.T) {
	t.Parallel()
	hash, err := auth.NewHasher(auth.UsualCost()).Hash(t.Context(), "a rope of sand")
	if want := "$argon2id$v=19$m=65536,t=3,p=4$"; err != nil || !strings.HasPrefix(hash, want) {
		t.Errorf("Hash = %q, %v, want it to begin with %q", hash, err, want)
	}
}

func TestHashRejects(t *testing.T) {
	t.Parallel()
	h := auth.NewHasher(auth.TestCost())
	for _, password := range []string{"", strings.Repeat("a", auth.MaxPassword+1)} {
		if _, err := h.Hash(t.Context(), password); fault.KindOf(err) != fault.Invalid {
			t.Errorf("Hash(%.20q) = %v, want an Invalid error", password, err)
		}
	}
}

func TestMatchesRejectsWhatIsNoHash(t *testing.T) {
	t.Parallel()
	_, err := auth.NewHasher(auth.TestCost()).Matches(t.Context(), "a rope of sand", "plain text")
	if err == nil || fault.KindOf(err) != fault.Internal {
		t.Errorf("Matches with a broken hash = %v, want an Internal error", err)
	}
}

func TestHashersWaitTheirTurn(t *testing.T) {
	t.Parallel()
	h := auth.NewHasher(auth.TestCost())
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	free := auth.TakeTurns(h)
	if _, err := h.Hash(ctx, "a rope of sand"); fault.KindOf(err) != fault.Busy {
		t.Errorf("Hash while others are at it, context ended = %v, want a Busy error", err)
	}
	free()
	if _, err := h.Hash(t.Context(), "a rope of sand"); err != nil {
		t.Errorf("Hash after the others have gone = %v, want none", err)
	}
}

package registry

import (
	"net/mail"
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/fault"
)

// Account is who can sign in on the pages. It belongs to no group: its
// memberships do.
type Account struct {
	ID           uuid.UUID
	Email        string // as given; looked up with case folded
	Name         string // shown to the account's holder only
	PasswordHash string // argon2id in its own text form, never the password
}

// MaxEmail is what RFC 5321 leaves for an address, in bytes: section
// 4.5.3.1.3 allows a path of 256 with its angle brackets.
const MaxEmail = 254

// Validate reports every violation, keyed by the column's name.
func (a *Account) Validate() error {
	var c fault.Checks
	parsed, err := mail.ParseAddress(a.Email)
	c.Require(err == nil && parsed.Address == a.Email, "email", fault.Malformed, "value", a.Email, "wanted", "someone@example.org")
	c.Require(len(a.Email) <= MaxEmail, "email", fault.TooLong)
	c.Require(strings.TrimSpace(a.Name) != "", "name", fault.Blank)
	c.Require(len(a.Name) <= MaxName, "name", fault.TooLong)
	return c.Err()
}

// Membership is what an account may do in one group.
type Membership struct {
	AccountID uuid.UUID
	Group     Group
	Role      Role
}

// Member is an account that a group has let in.
type Member struct {
	Account Account // without its password's hash
	Role    Role
}

// Token lets a program ask in the name of one group. Only the hash of the
// secret is kept.
type Token struct {
	ID        uuid.UUID
	GroupID   uuid.UUID
	Name      string // what it is for
	Role      Role
	Hash      []byte // SHA-256 of the secret, 32 bytes
	CreatedAt time.Time
}

package registry

import (
	"time"

	"github.com/google/uuid"
)

// Account is who can sign in on the pages. It belongs to no group: its
// memberships do.
type Account struct {
	ID           uuid.UUID
	Email        string // as given; looked up with case folded
	Name         string // shown to the account's holder only
	PasswordHash string // argon2id in its own text form, never the password
}

// Membership is what an account may do in one group.
type Membership struct {
	AccountID uuid.UUID
	Group     Group
	Role      Role
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

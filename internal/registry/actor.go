package registry

import "github.com/google/uuid"

// Role is what a member may do; each role includes those before it.
type Role string

// The roles, from least to most.
const (
	RoleReader   Role = "reader"
	RoleRecorder Role = "recorder"
	RoleSteward  Role = "steward"
	RoleOwner    Role = "owner"
)

// Roles lists the roles from least to most.
func Roles() []Role { return []Role{RoleReader, RoleRecorder, RoleSteward, RoleOwner} }

// Rank orders roles: a higher rank may do all that a lower one may. It is 0
// for a role that does not exist, which may do nothing.
func (r Role) Rank() int { return rankOf(r, Roles()) + 1 }

// Actor is who is asking: a member by web session, a token, or the command
// line. It belongs to one group.
type Actor struct {
	GroupID uuid.UUID
	Group   string // the group's slug
	// TimeZone is the group's IANA zone: "today" is the date there.
	TimeZone string
	Role     Role
	// Who is a reference for the ledger, never a person's name:
	// "account:<id>", "token:<id>" or "command line: <system user>".
	Who string
}

// Group is one anchor-replacement group, the owner of everything it records.
type Group struct {
	ID       uuid.UUID
	Slug     string
	Name     string
	TimeZone string // IANA name; "today" is the date there
}

// rankOf returns the index of v in order, or -1.
func rankOf[T comparable](v T, order []T) int {
	for i, o := range order {
		if o == v {
			return i
		}
	}
	return -1
}

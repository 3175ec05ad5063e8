package registry

import (
	"regexp"
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/fault"
)

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
	// ReadOnly is of somebody who only looks, whatever the role allows: a form is
	// shown again as it was typed and must not be sent by that.
	ReadOnly bool
}

// Group is one anchor-replacement group, the owner of everything it records.
type Group struct {
	ID       uuid.UUID
	Slug     string
	Name     string
	TimeZone string // IANA name; "today" is the date there
}

var slug = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,59}$`)

// Validate reports every violation, keyed by JSON name.
func (g *Group) Validate() error {
	var c fault.Checks
	c.Require(slug.MatchString(g.Slug), "slug", fault.Malformed, "wanted", "up to 60 of a-z, 0-9 and hyphens, beginning with a letter or digit")
	c.Require(strings.TrimSpace(g.Name) != "", "name", fault.Blank)
	_, err := time.LoadLocation(g.TimeZone)
	c.Require(err == nil && g.TimeZone != "" && g.TimeZone != "Local", "time_zone", fault.Unknown, "allowed", "IANA names such as Europe/London")
	return c.Err()
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

package registry

import (
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/fault"
)

// ErasedName stands where the name of a person was who was erased.
const ErasedName = "a person no longer named"

// Erasure is the record that the name of a person, or the name and contact of a
// landowner, were erased: whose they were stays as an id, which records go on
// naming. It is of one of the two.
type Erasure struct {
	ID          uuid.UUID
	PersonID    *uuid.UUID
	LandownerID *uuid.UUID
	Reason      string
	At          time.Time
}

// Validate reports every violation, keyed by JSON name.
func (e *Erasure) Validate() error {
	var c fault.Checks
	checkReason(&c, e.Reason)
	return c.Err()
}

func checkReason(c *fault.Checks, reason string) {
	c.Require(strings.TrimSpace(reason) != "", "reason", fault.Blank)
	c.Require(len(reason) <= MaxWords, "reason", fault.TooLong)
}

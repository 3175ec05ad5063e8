package registry

import (
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

// ErasedName stands where the name of a person was who was erased.
const ErasedName = "a person no longer named"

// Erasure is the record that a person's name was erased: the person stays as an
// id, which records go on naming.
type Erasure struct {
	ID       uuid.UUID
	PersonID uuid.UUID
	Reason   string
	At       time.Time
}

// Validate reports every violation, keyed by JSON name.
func (e *Erasure) Validate() error {
	var c fault.Checks
	checkReason(&c, e.Reason)
	return c.Err()
}

// HoldOver is what a legal hold is over.
type HoldOver string

// What there is.
const (
	HoldAll    HoldOver = "all"
	HoldSite   HoldOver = "site"
	HoldAnchor HoldOver = "anchor"
	HoldPerson HoldOver = "person"
)

// HoldOvers lists them.
func HoldOvers() []HoldOver { return []HoldOver{HoldAll, HoldSite, HoldAnchor, HoldPerson} }

// LegalHold suspends erasure: of everybody, of one person, or of whoever a
// record names that was made of an anchor, or of one on a site.
type LegalHold struct {
	ID       uuid.UUID
	Version  int
	Over     HoldOver
	OverID   *uuid.UUID // nil: over all
	Reason   string
	Until    calendar.Date // the last day; zero: until it is lifted
	LiftedOn calendar.Date // zero: it was not lifted
}

// Validate reports every violation, keyed by JSON name.
func (h *LegalHold) Validate() error {
	var c fault.Checks
	checkListed(&c, "over", h.Over, HoldOvers())
	if h.Over == HoldAll {
		c.Require(h.OverID == nil, "over_id", fault.NotAllowed)
	} else {
		c.Require(h.OverID != nil, "over_id", fault.Required)
	}
	checkReason(&c, h.Reason)
	return c.Err()
}

func checkReason(c *fault.Checks, reason string) {
	c.Require(strings.TrimSpace(reason) != "", "reason", fault.Blank)
	c.Require(len(reason) <= MaxWords, "reason", fault.TooLong)
}

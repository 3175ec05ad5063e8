package registry

import (
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

// HoldOver is what a legal hold is over.
type HoldOver string

// What there is.
const (
	HoldAll       HoldOver = "all"
	HoldSite      HoldOver = "site"
	HoldAnchor    HoldOver = "anchor"
	HoldPerson    HoldOver = "person"
	HoldLandowner HoldOver = "landowner"
)

// HoldOvers lists them.
func HoldOvers() []HoldOver {
	return []HoldOver{HoldAll, HoldSite, HoldAnchor, HoldPerson, HoldLandowner}
}

// LegalHold suspends erasure: of everybody, of one person or landowner, or of
// whoever a record names that was made of an anchor, or of one on a site, and
// whoever's land that stands on.
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

// Unheld is a person or a landowner, over whom no legal hold may be in force on a
// day.
type Unheld struct {
	Over HoldOver // HoldPerson or HoldLandowner
	ID   uuid.UUID
	AsOf calendar.Date
}

package registry

import (
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

// EventKind is what befell a site.
type EventKind string

// The kinds of event.
const (
	Rockfall   EventKind = "rockfall"
	Flood      EventKind = "flood"
	Fire       EventKind = "fire"
	HardFrost  EventKind = "hard-frost"
	Earthquake EventKind = "earthquake"
)

// EventKinds lists the kinds of event.
func EventKinds() []EventKind { return []EventKind{Rockfall, Flood, Fire, HardFrost, Earthquake} }

// Event is something that befell a whole site, after which a steward asks for
// every anchor there to be inspected.
type Event struct {
	ID         uuid.UUID
	Version    int
	SiteID     uuid.UUID
	Kind       EventKind
	HappenedOn calendar.Date
	InspectBy  calendar.Date // zero: by the house rules
	Closed     bool          // the steward closed the site until it is inspected
	Words      string
	EndedOn    calendar.Date // set to take the event back; zero: it stands
}

// Validate reports every violation, keyed by JSON name.
func (e *Event) Validate(asOf calendar.Date) error {
	var c fault.Checks
	checkListed(&c, "kind", e.Kind, EventKinds())
	c.Require(!e.HappenedOn.IsZero(), "happened_on", fault.Required)
	c.Require(e.HappenedOn <= asOf, "happened_on", fault.DateAhead, "today", asOf.String())
	c.Require(e.InspectBy.IsZero() || e.InspectBy >= e.HappenedOn, "inspect_by", fault.Order)
	c.Require(e.EndedOn.IsZero() || e.EndedOn >= e.HappenedOn, "ended_on", fault.Order)
	return c.Err()
}

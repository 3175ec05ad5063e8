package calendar

import (
	"time"

	"rockledger/internal/fault"
)

// Moment is a time as somebody noted it. "About 14:00" is a stretch of time:
// From and To are the first and last instant it can have been, and whoever
// reckons with it takes the less favourable end. The zero Moment is not known.
type Moment struct {
	From, To time.Time // UTC; both zero: not known
	Words    string    // as written
}

// Known says whether there is an instant at all.
func (m Moment) Known() bool { return !m.From.IsZero() }

// Validate returns fault.Invalid unless both ends are there, in order, or
// neither is.
func (m Moment) Validate() error {
	var c fault.Checks
	c.Require(m.From.IsZero() == m.To.IsZero(), "", fault.Required)
	c.Require(!m.To.Before(m.From), "", fault.Order)
	return c.Err()
}

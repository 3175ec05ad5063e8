package report

import (
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Evidence says what the register knew and showed of one anchor at the end of a
// day, and what was recorded, changed and shown afterwards. It rests on the log
// of changes and on the history of what was shown; nothing is computed anew.
type Evidence struct {
	Group    string // slug
	MadeAt   time.Time
	TimeZone string // in which the day ends, IANA name
	AnchorID uuid.UUID
	// KnownOn is the day at whose end the evidence is cut.
	KnownOn calendar.Date
	Log     registry.Evidence
	// Shown is what the register showed at the end of the day; nil: nothing.
	Shown *registry.HistoryRow
	// Overdue says that the date shown had passed by that day.
	Overdue bool
	Seal    *registry.Seal // the newest over the log; nil: none yet
}

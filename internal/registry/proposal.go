package registry

import (
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
)

// ProposalKind is what the words of a note would become.
type ProposalKind string

// The kinds of proposal.
const (
	ProposesRestriction ProposalKind = "restriction"
	ProposesRole        ProposalKind = "role"
	ProposesAgreement   ProposalKind = "agreement"
	ProposesObservation ProposalKind = "observation"
	ProposesDate        ProposalKind = "date"
	ProposesEnvironment ProposalKind = "environment"
)

// ProposalKinds lists the kinds of proposal.
func ProposalKinds() []ProposalKind {
	return []ProposalKind{
		ProposesRestriction, ProposesAgreement, ProposesObservation, ProposesDate, ProposesEnvironment, ProposesRole,
	}
}

// ProposalState is what became of a proposal.
type ProposalState string

// The states of a proposal. Nobody decides an ended one: its import was undone,
// or a corrected list no longer has the note.
const (
	ProposalOpen     ProposalState = "open"
	ProposalAccepted ProposalState = "accepted"
	ProposalDeclined ProposalState = "declined"
	ProposalEnded    ProposalState = "ended"
)

// ProposalStates lists the states of a proposal.
func ProposalStates() []ProposalState {
	return []ProposalState{ProposalOpen, ProposalAccepted, ProposalDeclined, ProposalEnded}
}

// CountedFrom is what a proposed date was counted from.
type CountedFrom string

// What a date may be counted from; empty for what is no date.
const (
	FromCheck   CountedFrom = "checked-on" // the first day of the row's last check
	FromReading CountedFrom = "read-on"    // the day on which the list was read
	AsStated    CountedFrom = "stated"     // the note itself names it
)

// CountedFroms lists what a date may be counted from.
func CountedFroms() []CountedFrom { return []CountedFrom{FromCheck, FromReading, AsStated} }

// Noted is what the words of a note would become. Of the values only those of
// its kind are set.
type Noted struct {
	Kind  ProposalKind
	Words string // the part of the note that it rests on, as written

	Bars   RestrictionKind  // of a restriction
	Weight Weight           // of a restriction
	Yearly *calendar.Window // of a restriction

	Role        PositionRole
	Observation Observation

	InspectBy   calendar.Date
	CountedFrom CountedFrom

	Wetness Wetness
	Washed  *bool
}

// Key is the same for notes that would become the same for the same words, case
// and spaces folded.
func (n *Noted) Key() string {
	parts := []string{
		string(n.Kind), Fold(n.Words), string(n.Bars), string(n.Weight), string(n.Role), string(n.Observation),
		n.InspectBy.String(), string(n.Wetness),
	}
	if w := n.Yearly; w != nil {
		parts = append(parts, fmt.Sprintf("%d-%d %d-%d", w.FromMonth, w.FromDay, w.ToMonth, w.ToDay))
	}
	if n.Washed != nil {
		parts = append(parts, fmt.Sprint(*n.Washed))
	}
	return strings.Join(parts, "\x1f")
}

// Proposal is a note of an imported list that a steward accepts or declines.
type Proposal struct {
	ID         uuid.UUID
	Version    int
	ImportID   uuid.UUID
	Line       int // in the list
	SiteID     uuid.UUID
	PositionID uuid.UUID
	AnchorID   uuid.UUID
	Noted
	// Seen is when the row's anchor was last checked: what the note says was so
	// then.
	Seen  calendar.Span
	State ProposalState

	DecidedAt time.Time  // zero: not decided
	DecidedBy string     // Actor.Who: a reference, never a name; empty: not decided
	PersonID  *uuid.UUID // who decided. Nil: not said
	// MadeID is the restriction, agreement, inspection, environment or position
	// that accepting it made or changed. Nil: not accepted.
	MadeID *uuid.UUID
}

// Group is the same for proposals of one site that are decided together.
func (p *Proposal) Group() string { return p.SiteID.String() + "\x1f" + p.Key() }

// ProposalFilter narrows a list of proposals; the zero value lists all.
type ProposalFilter struct {
	State    ProposalState
	Kind     ProposalKind
	ImportID *uuid.UUID
	SiteID   *uuid.UUID
}

// Decision is what becomes of a proposal.
type Decision string

// The decisions.
const (
	Accept  Decision = "accept"
	Decline Decision = "decline"
)

// State is the state of a proposal so decided.
func (d Decision) State() ProposalState {
	if d == Accept {
		return ProposalAccepted
	}
	return ProposalDeclined
}

// ProposalDecision decides several proposals at once.
type ProposalDecision struct {
	Decision Decision
	IDs      []uuid.UUID
	PersonID *uuid.UUID // who decides. Nil: not said
}

package report

import (
	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// ProposalGroup is proposals of one site with the same words for the same
// thing, to be decided together.
type ProposalGroup struct {
	SiteID    uuid.UUID
	Site      string // its name
	Noted     registry.Noted
	Proposals []registry.Proposal // in the order of ids
}

// Decided says what a decision on proposals did.
type Decided struct {
	Accepted  bool
	Proposals []registry.Proposal
	Made      []MadeOfNotes // by accepting; none for declined ones
}

// MadeOfNotes is one thing that accepted proposals made, changed, or found on
// record.
type MadeOfNotes struct {
	Noun      string // "restriction", "agreement", "inspection", "environment", "position"
	ID        uuid.UUID
	PlaceKind registry.PlaceKind // what it is of; empty: an anchor, or a landowner
	Known     bool               // it was on record
	Proposals []uuid.UUID
}

// Anchors counts the anchors of a group.
func (g *ProposalGroup) Anchors() int {
	anchors := make(map[uuid.UUID]bool)
	for i := range g.Proposals {
		anchors[g.Proposals[i].AnchorID] = true
	}
	return len(anchors)
}

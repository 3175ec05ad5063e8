package app

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

var legalHolds = noun[registry.LegalHold]{
	what: "legal hold", add: AddLegalHold, change: LiftLegalHold, read: Store.LegalHold,
	key:   func(n *registry.LegalHold) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy:  func(n *registry.LegalHold) { n.Reason = tidy(n.Reason) },
	check: checkLegalHold,
	put:   func(c *registry.Change, n registry.LegalHold) { c.LegalHolds = append(c.LegalHolds, n) },
}

// checkLegalHold wants a new hold not to have ended, and what it is over to be
// there.
func checkLegalHold(d *desk, before, n *registry.LegalHold) {
	d.Nest("", n.Validate())
	if before != nil {
		return
	}
	d.Require(n.Until.IsZero() || n.Until >= d.asOf, "until", fault.OutOfRange, "from", d.asOf.String())
	if n.OverID == nil {
		return
	}
	switch n.Over {
	case registry.HoldSite:
		has(d, "over_id", *n.OverID, Store.Site)
	case registry.HoldAnchor:
		has(d, "over_id", *n.OverID, Store.AnchorStory)
	case registry.HoldPerson:
		has(d, "over_id", *n.OverID, Store.Person)
	case registry.HoldLandowner:
		has(d, "over_id", *n.OverID, Store.Landowner)
	}
}

// LegalHolds lists legal holds, as Sites does.
func (s *Service) LegalHolds(ctx context.Context, who registry.Actor, page registry.Page) ([]registry.LegalHold, error) {
	return list(who, ListLegalHolds, page, func(p registry.Page) ([]registry.LegalHold, error) {
		return s.store.LegalHolds(ctx, who.GroupID, p)
	})
}

// AddLegalHold stores a new legal hold, by the terms of AddSite.
func (s *Service) AddLegalHold(ctx context.Context, who registry.Actor, n registry.LegalHold) (stored registry.LegalHold, created bool, err error) {
	return addNoun(ctx, s, who, n, legalHolds)
}

// LiftLegalHold ends a legal hold today; one that was lifted is left as it is.
func (s *Service) LiftLegalHold(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.LegalHold, error) {
	if err := may(who, LiftLegalHold); err != nil {
		return registry.LegalHold{}, err
	}
	h, err := s.store.LegalHold(ctx, who.GroupID, id)
	if err != nil || !h.LiftedOn.IsZero() {
		return h, err
	}
	h, err = changeNoun(ctx, s, who, id, h.Version, func(n *registry.LegalHold) error {
		n.LiftedOn = s.AsOf(who)
		return nil
	}, legalHolds)
	if err != nil {
		return h, fmt.Errorf("lift legal hold: %w", err)
	}
	return h, nil
}

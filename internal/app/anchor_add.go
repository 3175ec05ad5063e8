package app

import (
	"context"
	"strconv"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// newAnchors is how an anchor is added; ChangeAnchor changes it.
var newAnchors = noun[registry.Anchor]{
	what: "anchor", add: AddAnchor, change: ChangeAnchor,
	key: func(n *registry.Anchor) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	read: func(s Store, ctx context.Context, group, id uuid.UUID) (registry.Anchor, error) {
		story, err := s.AnchorStory(ctx, group, id)
		return story.Facts.Anchor, err
	},
	tidy:  func(n *registry.Anchor) { n.Metal = metalOf(n.Metal, n.MetalWords) },
	check: checkNewAnchor,
	put:   func(c *registry.Change, n registry.Anchor) { c.Anchors = append(c.Anchors, n) },
}

func checkNewAnchor(d *desk, _, n *registry.Anchor) {
	if at, ok := has(d, "position_id", n.PositionID, Store.Position); ok {
		n.SiteID = at.SiteID
		d.Require(at.EndedOn.IsZero(), "position_id", fault.Mismatch)
		d.vacant("position_id", at.ID, "occupied")
		d.also.Vacant = append(d.also.Vacant, at.ID)
	}
	if n.ProductID != nil {
		if p, ok := has(d, "product_id", *n.ProductID, Store.Product); ok {
			d.Require(p.Kind == registry.Hardware, "product_id", fault.Mismatch)
			fromProduct(n, &p)
		}
	}
	d.Nest("", n.Validate())
	d.Nest("set_on", n.SetOn.Validate())
	d.past("set_on", n.SetOn.To)
}

// contested runs a use case, and once more where another took the position that
// it wants vacant after it had looked: then it finds who stands there, or that
// the same was entered twice at once.
func contested[T any](run func() (T, bool, error)) (T, bool, error) {
	t, created, err := run()
	if fault.KindOf(err) == fault.Conflict && fault.CodeOf(err) == fault.InUse {
		return run()
	}
	return t, created, err
}

// vacant wants no anchor to stand at a position: one comes out before the next
// is set. What names the value that says how many do. Whether that still holds
// when the change is written, its Vacant says.
func (d *desk) vacant(field string, position uuid.UUID, what string) {
	standing, err := d.s.store.AnchorsAt(d.ctx, d.who.GroupID, registry.Place{Kind: registry.AtPosition, ID: position})
	d.Nest("", err)
	d.Require(len(standing) == 0, field, fault.InUse, what, strconv.Itoa(len(standing)))
}

// AddAnchor stores a new anchor in the rock at a position where none stands, by
// the terms of AddSite, and assesses it. Its site is its position's; its origin
// and day of entry are set here, and it is not removed: that takes a record. Its
// metal is read from its words if it names none; metal and form of which nothing
// is said are its product's.
func (s *Service) AddAnchor(ctx context.Context, who registry.Actor, n registry.Anchor) (stored registry.Anchor, created bool, err error) {
	n.Origin, n.EnteredOn = registry.Recorded, s.AsOf(who)
	n.Removed, n.RemovedOn = false, calendar.Span{}
	k := newAnchors
	k.tidy = func(n *registry.Anchor) {
		newAnchors.tidy(n)
		n.EnteredOn = s.AsOf(who) // the same again may come on a later day
	}
	stored, created, err = contested(func() (registry.Anchor, bool, error) { return addNoun(ctx, s, who, n, k) })
	if created {
		// However much else is stale, this one is never listed without standing.
		// It stands queued if this fails.
		_ = s.reassess(ctx, who, []uuid.UUID{stored.ID}, s.AsOf(who))
	}
	return stored, created, err
}

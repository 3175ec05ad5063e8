package app

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

var notices = noun[registry.Notice]{
	what: "notice", add: AddNotice, change: ChangeNotice, read: Store.Notice,
	key: func(n *registry.Notice) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy: func(n *registry.Notice) {
		n.Title, n.Words, n.EndedReason = tidy(n.Title), strings.TrimSpace(n.Words), strings.TrimSpace(n.EndedReason)
		n.AnchorIDs, n.Criterion = anyOf(n.AnchorIDs), tidyCriterion(n.Criterion)
	},
	check: func(d *desk, before, n *registry.Notice) {
		d.Nest("", n.Validate())
		d.past("issued_on", n.IssuedOn)
		d.past("ended_on", n.EndedOn)
		d.criterion(&n.Criterion)
		if d.Err() == nil && before != nil && before.EndedOn.IsZero() && !n.EndedOn.IsZero() {
			d.closing(n)
		}
		known, err := d.s.store.KnownAnchors(d.ctx, d.who.GroupID, n.AnchorIDs)
		d.Nest("", err)
		d.Require(len(known) == len(n.AnchorIDs), "anchor_ids", fault.NoSuchReference)
	},
	put: func(c *registry.Change, n registry.Notice) { c.Notices = append(c.Notices, n) },
}

// AddNotice stores a recall or warning, by the terms of AddSite. An anchor that
// is not there is fault.Invalid.
func (s *Service) AddNotice(ctx context.Context, who registry.Actor, n registry.Notice) (stored registry.Notice, created bool, err error) {
	stored, created, err = addNoun(ctx, s, who, n, notices)
	return stored, created, ofAnchors(err)
}

// ChangeNotice changes a notice, by the terms of ChangeSite. It is closed with
// ended_on: while anchors are left, that wants a reason.
func (s *Service) ChangeNotice(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Notice) error) (registry.Notice, error) {
	n, err := changeNoun(ctx, s, who, id, version, edit, notices)
	return n, ofAnchors(err)
}

// ofAnchors names the list where the store names one anchor of it.
func ofAnchors(err error) error {
	e, ok := fault.As(err)
	if !ok {
		return err
	}
	named := *e
	named.Violations = slices.Clone(e.Violations)
	for i := range named.Violations {
		if named.Violations[i].Field == "anchor_id" {
			named.Violations[i].Field = "anchor_ids"
		}
	}
	return fmt.Errorf("notice: %w", &named)
}

// anyOf sorts ids and leaves doubles out; nil for none.
func anyOf(list []uuid.UUID) []uuid.UUID {
	if len(list) == 0 {
		return nil
	}
	return distinct(list)
}

func tidyCriterion(c registry.NoticeCriterion) registry.NoticeCriterion {
	c.ProductIDs, c.BatchIDs, c.SetterIDs, c.SiteIDs = anyOf(c.ProductIDs), anyOf(c.BatchIDs), anyOf(c.SetterIDs), anyOf(c.SiteIDs)
	c.Rocks = slices.Compact(slices.Sorted(slices.Values(c.Rocks)))
	c.Products, c.Batches = nil, nil // the store's to say
	return c
}

// criterion wants what a criterion names to be there.
func (d *desk) criterion(c *registry.NoticeCriterion) {
	for _, id := range c.ProductIDs {
		has(d, "criterion.product_ids", id, Store.Product)
	}
	for _, id := range c.BatchIDs {
		has(d, "criterion.batch_ids", id, Store.Batch)
	}
	for _, id := range c.SetterIDs {
		has(d, "criterion.setter_ids", id, Store.Person)
	}
	for _, id := range c.SiteIDs {
		has(d, "criterion.site_ids", id, Store.Site)
	}
}

// closing wants a notice that is closed to have left no anchor, or a reason.
func (d *desk) closing(n *registry.Notice) {
	if n.EndedReason != "" {
		return
	}
	if err := d.s.refreshGroup(d.ctx, d.who); err != nil {
		d.Nest("", err)
		return
	}
	open := *n
	open.EndedOn = 0
	reach, err := d.s.store.NoticeReach(d.ctx, d.who.GroupID, open)
	d.Nest("", err)
	left := reach.CountProgress(registry.ProgressLeft)
	d.Require(left == 0, "ended_reason", fault.Required, "left", strconv.Itoa(left))
}

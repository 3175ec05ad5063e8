package app

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// check adds what is wrong with the session and its parts by themselves, or with
// what they point to, and finds the anchors to be locked.
func (t *gluing) check() {
	s := &t.g.Session
	t.Nest("", s.Validate(t.asOf))
	openedTime(&t.Checks, t.scene(nil), s)
	if s.SiteID != uuid.Nil {
		has(t.desk, "site_id", s.SiteID, Store.Site)
	}
	checkGlue(t.desk, s.AdhesiveID, s.BatchID)
	t.checkBatchText()
	t.checkPersons()
	t.checkReplaced()
	n := len(t.g.Installations)
	t.Require(n > 0 || s.Replaces != nil, "installations", fault.Required)
	t.Require(n <= maxSettings, "installations", fault.OutOfRange, "to", strconv.Itoa(maxSettings))
	for k := range t.g.Anchors {
		lent := t.lent[t.g.Anchors[k].ID]
		t.inside(nth("anchors", k), lent, func(d *desk) { t.checkAnchor(d, k) })
	}
	for k := range t.g.Installations {
		t.inside(nth("installations", k), nil, func(d *desk) { t.checkInstallation(d, k) })
	}
	t.checkStanding()
}

// scene is what the session is added to, with the facts of one anchor; nil:
// none.
func (t *gluing) scene(f *registry.Facts) *scene {
	return &scene{who: t.who, facts: f, asOf: t.asOf, now: t.at, zone: t.s.location(t.who.TimeZone)}
}

// nth names the k-th of a list.
func nth(list string, k int) string { return fmt.Sprintf("%s[%d]", list, k) }

// inside lets check add to a desk of its own, and nests that under a prefix; what
// is wrong with a field that is lent is told where it comes from.
func (d *desk) inside(prefix string, lent []string, check func(*desk)) {
	inner := &desk{ctx: d.ctx, s: d.s, who: d.who, asOf: d.asOf}
	check(inner)
	err := inner.Err()
	if len(violationsOf(err)) == 0 {
		d.Nest(prefix, err)
		return
	}
	for _, v := range violationsOf(err) {
		field, _, _ := strings.Cut(v.Field, ".")
		if !slices.Contains(lent, field) {
			v.Field = prefix + "." + v.Field
			d.Add(v)
		}
	}
}

// checkBatchText finds the batch that a text names, or makes it.
func (t *gluing) checkBatchText() {
	s, text := &t.g.Session, tidy(t.g.BatchText)
	if text == "" {
		return
	}
	t.Require(s.BatchID == nil, "batch_text", fault.NotAllowed)
	fresh := registry.Batch{ID: newID(), ProductID: s.AdhesiveID, Text: text, ExpiresOn: s.ExpiresOn}
	var c fault.Checks
	c.Nest("", fresh.Validate())
	for _, v := range violationsOf(c.Err()) {
		v.Field = "batch_text"
		t.Add(v)
	}
	if s.BatchID != nil || c.Err() != nil {
		return
	}
	have, err := t.batchOf(&fresh)
	t.Nest("batch_text", err)
	if have == nil {
		t.also.Batches = append(t.also.Batches, fresh)
		have = &fresh
	}
	s.BatchID = &have.ID
}

func violationsOf(err error) []fault.Violation {
	if f, ok := fault.As(err); ok {
		return f.Violations
	}
	return nil
}

// batchOf returns the stored batch with the product and the text of b, nil if
// there is none.
func (t *gluing) batchOf(b *registry.Batch) (*registry.Batch, error) {
	list, err := all(func(page registry.Page) ([]registry.Batch, error) {
		return t.s.store.Batches(t.ctx, t.who.GroupID, b.ProductID, page)
	}, func(b *registry.Batch) uuid.UUID { return b.ID })
	for i := range list {
		if sameID(list[i].ProductID, b.ProductID) && list[i].Key() == b.Key() {
			return &list[i], err
		}
	}
	return nil, err
}

func (t *gluing) checkPersons() {
	s := &t.g.Session
	for _, by := range []struct {
		field string
		id    *uuid.UUID
	}{{"set_by_id", s.SetByID}, {"supervised_by_id", s.SupervisedByID}, {"checked_by_id", s.CheckedByID}, {"sample_found_by_id", s.SampleFoundByID}} {
		if by.id != nil {
			has(t.desk, by.field, *by.id, Store.Person)
		}
	}
}

// checkReplaced wants the session that this one corrects to be there, and what
// was set in it to be of this one's site. Its anchors are assessed anew.
func (t *gluing) checkReplaced() {
	s := &t.g.Session
	if s.Replaces == nil || *s.Replaces == s.ID {
		return
	}
	story, ok := has(t.desk, "replaces", *s.Replaces, Store.GluingSession)
	if !ok {
		return
	}
	t.was = story.Session
	elsewhere := false
	for k := range story.Anchors {
		a := &story.Anchors[k].Anchor
		elsewhere = elsewhere || a.SiteID != s.SiteID
		t.standing = append(t.standing, a.ID)
	}
	t.Require(!elsewhere, "site_id", fault.Mismatch)
}

// checkAnchor checks the k-th new anchor by the terms of AddAnchor.
func (t *gluing) checkAnchor(d *desk, k int) {
	a := &t.g.Anchors[k]
	d.Require(a.ID != uuid.Nil, "id", fault.Required)
	twice := func(same func(*registry.Anchor) bool) bool {
		return slices.ContainsFunc(t.g.Anchors[:k], func(o registry.Anchor) bool { return same(&o) })
	}
	d.Require(!twice(func(o *registry.Anchor) bool { return o.ID == a.ID }), "id", fault.Duplicate)
	d.Require(!twice(func(o *registry.Anchor) bool { return o.PositionID == a.PositionID }), "position_id", fault.Duplicate)
	set := slices.ContainsFunc(t.g.Installations, func(i registry.Installation) bool { return i.AnchorID == a.ID })
	d.Require(set || a.ID == uuid.Nil, "id", fault.Mismatch)
	checkNewAnchor(d, nil, a)
	t.also.Vacant = append(t.also.Vacant, d.also.Vacant...)
	d.Require(a.SiteID == uuid.Nil || a.SiteID == t.g.Session.SiteID, "position_id", fault.Mismatch)
}

// checkInstallation checks the k-th installation but for what rests on the facts
// of its anchor.
func (t *gluing) checkInstallation(d *desk, k int) {
	i := &t.g.Installations[k]
	d.Nest("", i.Validate(t.asOf))
	setTime(&d.Checks, t.scene(nil), i, &t.g.Session)
	if i.PersonID != nil {
		has(d, "person_id", *i.PersonID, Store.Person)
	}
	checkHardware(d, "hardware_id", i.HardwareID)
	checkGlue(d, i.AdhesiveID, i.BatchID)
	checkBeside(d, i, &t.g.Session)
	before := t.g.Installations[:k]
	d.Require(!slices.ContainsFunc(before, func(o registry.Installation) bool { return o.ID == i.ID && i.ID != uuid.Nil }), "id", fault.Duplicate)
	d.Require(!slices.ContainsFunc(before, func(o registry.Installation) bool { return o.AnchorID == i.AnchorID }), "anchor_id", fault.Duplicate)
	switch {
	case i.AnchorID == uuid.Nil:
		d.Require(false, "anchor_id", fault.Required)
	case t.fresh[i.AnchorID] != nil:
		d.Require(i.Replaces == nil, "replaces", fault.NoSuchReference)
	default:
		t.standing = append(t.standing, i.AnchorID)
	}
}

// checkStanding wants the anchors of the installations that are not new to be in
// the register.
func (t *gluing) checkStanding() {
	known, err := t.s.store.KnownAnchors(t.ctx, t.who.GroupID, t.standing)
	t.Nest("", err)
	for k := range t.g.Installations {
		id := t.g.Installations[k].AnchorID
		if id != uuid.Nil && t.fresh[id] == nil && !slices.Contains(known, id) {
			t.unknown = true
			t.Require(false, nth("installations", k)+".anchor_id", fault.NoSuchReference)
		}
	}
	t.unknown = t.unknown || err != nil
}

// admit returns what check found, and what is wrong with the installations beside
// the facts of the anchors that stand already, which are in the order of
// t.standing.
func (t *gluing) admit(all []registry.Facts) error {
	var c fault.Checks
	c.Nest("", t.Err())
	for k := range all {
		openedBefore(&c, &all[k], &t.g.Session)
	}
	once(&c, "replaces", t.g.Session.Replaces, t.replacing(all))
	for k := range t.g.Installations {
		i := &t.g.Installations[k]
		at := slices.Index(t.standing, i.AnchorID)
		if at < 0 || t.fresh[i.AnchorID] != nil {
			continue
		}
		f, prefix := &all[at], nth("installations", k)
		c.Nest(prefix, admitDated(f, &i.Record))
		own := idsOf(f.Installations, installations.record)
		c.Require(i.Replaces == nil || slices.Contains(own, *i.Replaces), prefix+".replaces", fault.NoSuchReference)
		once(&c, prefix+".replaces", i.Replaces, installations.replacing(f, i))
		c.Require(f.Anchor.SiteID == t.g.Session.SiteID, prefix+".anchor_id", fault.Mismatch)
	}
	return c.Err()
}

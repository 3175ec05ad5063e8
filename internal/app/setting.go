package app

import (
	"slices"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// checkSetting wants what an installation names to be there and to go together.
func checkSetting(d *desk, r *registry.Installation) {
	if r.SessionID != nil {
		if s, ok := has(d, "session_id", *r.SessionID, Store.GluingSession); ok {
			d.session = asCorrected(d, s)
		}
	}
	checkHardware(d, "hardware_id", r.HardwareID)
	checkGlue(d, r.AdhesiveID, r.BatchID)
	checkBeside(d, r, lastCorrected(d, d.session))
}

// lastCorrected returns a session as it was last corrected; nil of nil.
func lastCorrected(d *desk, s *registry.GluingSession) *registry.GluingSession {
	seen := []uuid.UUID{}
	for s != nil && !slices.Contains(seen, s.ID) {
		seen = append(seen, s.ID)
		story, ok := has(d, "session_id", s.ID, Store.GluingSession)
		if !ok || story.ReplacedBy == nil {
			break
		}
		next, ok := has(d, "session_id", *story.ReplacedBy, Store.GluingSession)
		if !ok {
			break
		}
		s = &next.Session
	}
	return s
}

// checkBeside wants the batch of an installation that names no adhesive itself
// to be of its session's adhesive: which of the two was in the hole decides how
// long it must cure. A batch whose product is not known is taken.
func checkBeside(d *desk, i *registry.Installation, s *registry.GluingSession) {
	if s == nil || i.AdhesiveID != nil || i.BatchID == nil {
		return
	}
	own, theirs := d.productOf(i.BatchID), s.AdhesiveID
	if theirs == nil {
		theirs = d.productOf(s.BatchID)
	}
	if own == nil || theirs == nil || *own == *theirs {
		return
	}
	ours, _ := has(d, "batch_id", *own, Store.Product)
	session, _ := has(d, "batch_id", *theirs, Store.Product)
	d.Require(false, "batch_id", fault.Mismatch, "with", "session_adhesive", "batch_product", ours.Name, "session_product", session.Name)
}

// productOf returns the product of a batch, nil if there is none or it is not
// known.
func (d *desk) productOf(batch *uuid.UUID) *uuid.UUID {
	if batch == nil {
		return nil
	}
	b, err := d.s.store.Batch(d.ctx, d.who.GroupID, *batch)
	if fault.KindOf(err) == fault.NotFound {
		return nil // the one that names it is told
	}
	d.Nest("batch_id", err)
	return b.ProductID
}

// asCorrected follows a session to the one that stands in the end for it.
func asCorrected(d *desk, s registry.GluingStory) *registry.GluingSession {
	seen := map[uuid.UUID]bool{}
	for s.ReplacedBy != nil && !seen[*s.ReplacedBy] {
		seen[*s.ReplacedBy] = true
		next, err := d.s.store.GluingSession(d.ctx, d.who.GroupID, *s.ReplacedBy)
		if err != nil {
			d.Nest("", err)
			break
		}
		s = next
	}
	return &s.Session
}

// checkHardware wants a product, if one is named, to be there and no adhesive.
func checkHardware(d *desk, field string, id *uuid.UUID) {
	if id == nil {
		return
	}
	if p, ok := has(d, field, *id, Store.Product); ok {
		d.Require(p.Kind == registry.Hardware, field, fault.Mismatch)
	}
}

// checkGlue wants an adhesive and a batch to be there and to go together.
func checkGlue(d *desk, adhesive, batch *uuid.UUID) {
	glued := adhesive != nil
	if glued {
		var p registry.Product
		p, glued = has(d, "adhesive_id", *adhesive, Store.Product)
		d.Require(!glued || p.Kind == registry.Adhesive, "adhesive_id", fault.Mismatch)
	}
	if batch == nil {
		return
	}
	b, ok := has(d, "batch_id", *batch, Store.Batch)
	other := ok && b.ProductID != nil && glued && *b.ProductID != *adhesive
	d.Require(!other, "batch_id", fault.Mismatch)
}

// admitInstallation wants an installation to be of the time when the anchor was
// in the rock, and its session of the anchor's site; see setTime.
func admitInstallation(at *scene, r *registry.Installation) error {
	var c fault.Checks
	inTheRock(&c, &at.facts.Anchor, &r.Record)
	c.Require(at.session == nil || at.session.SiteID == at.facts.Anchor.SiteID, "session_id", fault.Mismatch)
	setTime(&c, at, r, at.session)
	return c.Err()
}

// admitCure wants a cure to be of the time when the anchor was in the rock, and
// of an installation of it; see loadedTime.
func admitCure(at *scene, r *registry.Cure) error {
	var c fault.Checks
	inTheRock(&c, &at.facts.Anchor, &r.Record)
	own := r.InstallationID == nil || slices.Contains(idsOf(at.facts.Installations, installations.record), *r.InstallationID)
	c.Require(own, "installation_id", fault.NoSuchReference)
	loadedTime(&c, at, r)
	return c.Err()
}

// tidyMoment brings a moment to the form in which it is kept: UTC, to the
// microsecond.
func tidyMoment(m *calendar.Moment) {
	if m.Known() {
		m.From, m.To = m.From.UTC().Truncate(time.Microsecond), m.To.UTC().Truncate(time.Microsecond)
	}
}

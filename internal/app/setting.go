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

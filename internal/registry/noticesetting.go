package registry

import (
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
)

// setting is what a criterion asks after: one setting of an anchor, or something
// that hangs on it.
type setting struct {
	hanging   bool
	form      Form
	bonded    *bool       // nil: not known
	hardware  []uuid.UUID // as set and as the anchor has it now; none: not known
	adhesives []uuid.UUID // by itself and by its batch; none: not known
	batchID   *uuid.UUID  // of the adhesive; of something that hangs its own
	batch     *Batch      // of the adhesive; nil: not known, or not among the facts
	setter    *uuid.UUID
	on        calendar.Span
	rock      RockClass
}

// eachSetting calls fn with each setting of the anchor; where none is recorded,
// with what the anchor itself says. A record that names neither adhesive nor
// batch says nothing against the one that does: it takes them from that.
func (f *Facts) eachSetting(fn func(*setting)) {
	bonded := f.Bonded()
	s := setting{form: f.Anchor.Form, bonded: bonded, hardware: appendKnown(nil, f.Anchor.ProductID), on: f.Anchor.SetOn, rock: f.Site.Rock}
	if len(f.Installations) == 0 {
		fn(&s)
	}
	glued := f.lastGlued()
	for k := range f.Installations {
		i, one := f.AsSet(&f.Installations[k]), s
		if i.Form != "" {
			one.form = i.Form
		}
		one.hardware = appendKnown(nil, f.Anchor.ProductID, i.HardwareID)
		if i.DoneOn.Known() {
			one.on = i.DoneOn
		}
		if i.Rock != "" {
			one.rock = i.Rock
		}
		glue := &i
		if i.AdhesiveID == nil && i.BatchID == nil && glued != nil {
			glue = glued
		}
		one.setter, one.batchID, one.batch = i.PersonID, glue.BatchID, f.batch(glue.BatchID)
		one.adhesives = appendKnown(nil, glue.AdhesiveID)
		if one.batch != nil {
			one.adhesives = appendKnown(one.adhesives, one.batch.ProductID)
		}
		fn(&one)
	}
}

// lastGlued is the latest setting, by its earliest day and then by its id, that
// names an adhesive or a batch, nil if none does.
func (f *Facts) lastGlued() *Installation {
	var last *Installation
	for k := range f.Installations {
		i := f.AsSet(&f.Installations[k])
		if i.AdhesiveID == nil && i.BatchID == nil {
			continue
		}
		if last == nil || i.DoneOn.From > last.DoneOn.From || i.DoneOn.From == last.DoneOn.From && i.ID.String() > last.ID.String() {
			last = &i
		}
	}
	return last
}

// eachHanging calls fn with each fitting that was not taken off.
func (f *Facts) eachHanging(fn func(*setting)) {
	for k := range f.Fittings {
		t := &f.Fittings[k]
		if !t.EndedOn.IsZero() || t.Presence == Missing || t.Presence == LeftOff || t.Presence == BringOwn {
			continue
		}
		fn(&setting{hanging: true, hardware: appendKnown(nil, t.ProductID), batchID: t.BatchID, on: t.SetOn, rock: f.Site.Rock})
	}
}

func (f *Facts) batch(id *uuid.UUID) *Batch {
	if id == nil {
		return nil
	}
	for k := range f.Batches {
		if f.Batches[k].ID == *id {
			return &f.Batches[k]
		}
	}
	return nil
}

// has says whether a product is in the setting; p is what its id stands for, nil
// for not known.
func (s *setting) has(id uuid.UUID, p *Product) answer {
	if slices.Contains(s.hardware, id) || slices.Contains(s.adhesives, id) {
		return yes
	}
	if p == nil {
		return max(s.maybeHardware(nil), s.maybeAdhesive())
	}
	if p.Kind == Adhesive {
		return s.maybeAdhesive()
	}
	return s.maybeHardware(p)
}

// maybeAdhesive says whether an adhesive that is not named may be in it.
func (s *setting) maybeAdhesive() answer {
	if s.hanging || len(s.adhesives) > 0 || s.bonded != nil && !*s.bonded {
		return no
	}
	return unknown
}

// maybeHardware says whether hardware that is not named may be it: not where
// other hardware is named, nor where the product has a form that does not hang,
// or that holds in another way.
func (s *setting) maybeHardware(p *Product) answer {
	switch {
	case len(s.hardware) > 0:
		return no
	case p == nil || p.Form == "":
		return unknown
	case s.hanging, s.form != "" && s.form.Bonded() != p.Form.Bonded():
		return no
	}
	return unknown
}

// otherBatch says whether the batch that the setting names rules out every other
// of a product; nil is a product that is not known. What hangs names a batch of
// its own product, a setting one of its adhesive.
func (s *setting) otherBatch(p *Product) bool {
	if s.hanging {
		return s.batchID != nil && len(s.hardware) > 0
	}
	return s.batch != nil && (p == nil || p.Kind == Adhesive)
}

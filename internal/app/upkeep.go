package app

import (
	"cmp"
	"context"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

var maintenances = recordKind[registry.Maintenance]{
	op: RecordMaintenance, what: "maintenance",
	record:   func(r *registry.Maintenance) *registry.Record { return &r.Record },
	validate: (*registry.Maintenance).Validate,
	facts:    func(f *registry.Facts) *[]registry.Maintenance { return &f.Maintenance },
	change:   func(c *registry.Change) *[]registry.Maintenance { return &c.Maintenance },
	admit:    admitMaintenance,
}

// RecordMaintenance stores what somebody did to an anchor that stays, by the
// terms of RecordInspection. A fitting that was renewed or taken off ended on
// that day, and the one that came with it, fresh, hangs from that day on; nil:
// where one was renewed another of its kind, of which nothing else is known, and
// else none. Taking the record back undoes that.
//
// Maintenance lifts nothing that a person decided.
func (s *Service) RecordMaintenance(ctx context.Context, who registry.Actor, r registry.Maintenance, fresh *registry.Fitting) (stored registry.Maintenance, created bool, err error) {
	h := hanging{sent: fresh, id: newID()}
	k := maintenances
	k.refer = h.refer
	k.complete = h.complete
	k.fresh = func() *registry.Fitting { return h.fitting }
	k.admit = func(at *scene, r *registry.Maintenance) error {
		var c fault.Checks
		c.Nest("", admitMaintenance(at, r))
		c.Nest("new_fitting", h.admit(at, r))
		return c.Err()
	}
	return storeRecord(ctx, s, who, r, k)
}

// admitMaintenance wants the fitting worked on to be the anchor's and to hang
// then.
func admitMaintenance(at *scene, r *registry.Maintenance) error {
	f := at.facts
	var c fault.Checks
	inTheRock(&c, &f.Anchor, &r.Record)
	if r.FittingID == nil {
		return c.Err()
	}
	i := fittingIn(f.Fittings, *r.FittingID)
	c.Require(i >= 0, "fitting_id", fault.NoSuchReference)
	if i < 0 {
		return c.Err()
	}
	on := &f.Fittings[i]
	gone := !on.EndedOn.IsZero() && (r.Ends() || on.EndedOn <= r.DoneOn.From)
	if old := replacedMaintenance(f, r); old != nil && endedBy(on, old) {
		gone = false
	}
	c.Require(!gone, "fitting_id", fault.Mismatch)
	c.Require(!on.SetOn.Known() || on.SetOn.From <= r.DoneOn.To, "done_on", fault.Order)
	return c.Err()
}

// replacedMaintenance finds the record that another corrects; nil: none.
func replacedMaintenance(f *registry.Facts, r *registry.Maintenance) *registry.Maintenance {
	if r.Replaces == nil {
		return nil
	}
	return maintenanceIn(f.Maintenance, *r.Replaces)
}

func maintenanceIn(list []registry.Maintenance, id uuid.UUID) *registry.Maintenance {
	i := slices.IndexFunc(list, func(m registry.Maintenance) bool { return m.ID == id })
	if i < 0 {
		return nil
	}
	return &list[i]
}

// hanging is the fitting that comes with a record of maintenance.
type hanging struct {
	sent    *registry.Fitting
	id      uuid.UUID         // for one that names none
	fitting *registry.Fitting // nil: none
}

// refer wants what the new fitting points to to be there and to go together.
func (h *hanging) refer(d *desk, r *registry.Maintenance) {
	d.Require(h.sent == nil || r.Brings(), "new_fitting", fault.Mismatch)
	if h.sent == nil {
		return
	}
	n := *h.sent
	n.Metal = metalOf(n.Metal, n.MetalWords)
	checkFittingProduct(d, "new_fitting.", &n)
	h.sent = &n
}

// checkFittingProduct wants a fitting's product and batch to be there and to go
// together. The metal of which nothing is said is the product's.
func checkFittingProduct(d *desk, path string, n *registry.Fitting) {
	if n.ProductID != nil {
		if p, ok := has(d, path+"product_id", *n.ProductID, Store.Product); ok {
			d.Require(p.Kind == registry.Hardware, path+"product_id", fault.Mismatch)
			if !n.Metal.Known() && n.MetalWords == "" {
				n.Metal = p.Metal
			}
		}
	}
	if n.BatchID == nil {
		return
	}
	b, ok := has(d, path+"batch_id", *n.BatchID, Store.Batch)
	other := ok && b.ProductID != nil && n.ProductID != nil && *b.ProductID != *n.ProductID
	d.Require(!other, path+"batch_id", fault.Mismatch)
}

// complete names the new fitting in the record. The same record again means the
// fitting that came with it; a correction means that of the record it replaces.
func (h *hanging) complete(f *registry.Facts, r *registry.Maintenance) {
	r.NewFittingID = nil
	before := maintenanceIn(f.Maintenance, r.ID)
	if before == nil {
		before = replacedMaintenance(f, r)
	}
	switch {
	case h.sent != nil:
		n := *h.sent
		n.AnchorID, n.Version, n.EndedOn, n.SetOn = r.AnchorID, 0, 0, r.DoneOn
		n.ID = h.idOf(f, before, n)
		h.fitting = &n
	case !r.Brings():
	case before != nil && before.NewFittingID != nil:
		r.NewFittingID = before.NewFittingID
	case r.Did(registry.FittingRenewed) && r.FittingID != nil:
		if i := fittingIn(f.Fittings, *r.FittingID); i >= 0 {
			h.fitting = &registry.Fitting{
				ID: h.id, AnchorID: r.AnchorID, Kind: f.Fittings[i].Kind, Presence: registry.Present, SetOn: r.DoneOn,
			}
		}
	}
	if h.fitting != nil {
		r.NewFittingID = &h.fitting.ID
	}
}

// idOf is the id of a fitting that was sent: that of the one that came with the
// record before, if it says the same.
func (h *hanging) idOf(f *registry.Facts, before *registry.Maintenance, n registry.Fitting) uuid.UUID {
	if before == nil || before.NewFittingID == nil || n.ID != uuid.Nil && n.ID != *before.NewFittingID {
		return cmp.Or(n.ID, h.id)
	}
	if h.same(f, *before.NewFittingID, n) {
		return *before.NewFittingID
	}
	return h.id
}

// same says whether a stored fitting is what was sent, its dates aside. One that
// was changed in the register since is.
func (h *hanging) same(f *registry.Facts, id uuid.UUID, n registry.Fitting) bool {
	i := fittingIn(f.Fittings, id)
	if i < 0 {
		return false
	}
	stored := f.Fittings[i]
	if stored.Version > 1 {
		return true
	}
	n.ID, n.SetOn, n.EndedOn = stored.ID, stored.SetOn, stored.EndedOn
	return sameFitting(stored, n) == nil
}

// admit wants the new fitting to be right and its id not to be another's.
func (h *hanging) admit(at *scene, r *registry.Maintenance) error {
	if h.fitting == nil {
		return nil
	}
	var c fault.Checks
	c.Nest("", checkFitting(h.fitting, at.asOf))
	if fittingIn(at.facts.Fittings, h.fitting.ID) < 0 {
		return c.Err()
	}
	old := replacedMaintenance(at.facts, r)
	c.Require(old != nil && sameID(old.NewFittingID, &h.fitting.ID), "id", fault.Duplicate)
	return c.Err()
}

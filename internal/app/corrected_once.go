package app

import (
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// once refuses a correction of what another corrects already, and names that one:
// two corrections of one record would both count.
func once(c *fault.Checks, field string, replaced, by *uuid.UUID) {
	if replaced != nil && by != nil {
		c.Require(false, field, fault.Duplicate, "replaced_by", by.String())
	}
}

// replacing finds another record of the anchor that replaces what r replaces, and
// was not taken back; nil: none does.
func (k recordKind[R]) replacing(f *registry.Facts, r *R) *uuid.UUID {
	own, list := k.record(r), *k.facts(f)
	back := standing(f.Retractions)
	for i := range list {
		o := k.record(&list[i])
		counts := !slices.ContainsFunc(back, func(x registry.Retraction) bool { return x.RetractsID == o.ID })
		if counts && o.ID != own.ID && o.Replaces != nil && own.Replaces != nil && *o.Replaces == *own.Replaces {
			id := o.ID
			return &id
		}
	}
	return nil
}

// replacing finds another session that replaces what this one does, among the
// facts of the anchors set in it; nil: none does.
func (t *gluing) replacing(all []registry.Facts) *uuid.UUID {
	own := &t.g.Session
	for k := range all {
		for _, o := range all[k].Sessions {
			if o.ID != own.ID && o.Replaces != nil && own.Replaces != nil && *o.Replaces == *own.Replaces {
				return &o.ID
			}
		}
	}
	return nil
}

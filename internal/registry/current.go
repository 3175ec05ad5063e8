package registry

import (
	"slices"

	"github.com/google/uuid"
)

// Current returns the facts without the records that another one replaces or
// retracts, whenever either happened: a correction counts in place of what it
// corrects. A retraction can itself be retracted.
func (f Facts) Current() Facts {
	var gone []uuid.UUID
	if len(f.Retractions) > 0 {
		gone = retracted(f.Retractions)
	}
	f.Installations = current(f.Installations, gone, func(r *Installation) *Record { return &r.Record })
	f.FirstUses = current(f.FirstUses, gone, func(r *FirstUse) *Record { return &r.Record })
	f.Inspections = current(f.Inspections, gone, func(r *Inspection) *Record { return &r.Record })
	f.Removals = current(f.Removals, gone, func(r *Removal) *Record { return &r.Record })
	f.Cures = current(f.Cures, gone, func(r *Cure) *Record { return &r.Record })
	f.Maintenance = current(f.Maintenance, gone, func(r *Maintenance) *Record { return &r.Record })
	f.Markings = current(f.Markings, gone, func(r *Marking) *Record { return &r.Record })
	f.Settlements = current(f.Settlements, gone, func(r *Settlement) *Record { return &r.Record })
	return f
}

// retracted lists what standing retractions take back. One that another takes
// back does not stand; of two that take each other back neither does.
func retracted(list []Retraction) []uuid.UUID {
	var out []uuid.UUID
	for _, r := range list {
		back := slices.ContainsFunc(list, func(o Retraction) bool { return o.RetractsID == r.ID })
		if !back {
			out = append(out, r.RetractsID)
		}
	}
	return out
}

func current[R any](list []R, gone []uuid.UUID, record func(*R) *Record) []R {
	replaced := slices.Clone(gone)
	for i := range list {
		by := record(&list[i]).Replaces
		if by != nil && !slices.Contains(gone, record(&list[i]).ID) {
			replaced = append(replaced, *by)
		}
	}
	if len(replaced) == 0 {
		return list
	}
	return keep(list, func(r R) bool { return !slices.Contains(replaced, record(&r).ID) })
}

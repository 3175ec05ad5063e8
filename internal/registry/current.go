package registry

import (
	"slices"

	"github.com/google/uuid"
)

// Current returns the facts without the records that another one replaces,
// whenever either happened: a correction counts in place of what it corrects.
func (f Facts) Current() Facts {
	f.Installations = current(f.Installations, func(r *Installation) *Record { return &r.Record })
	f.FirstUses = current(f.FirstUses, func(r *FirstUse) *Record { return &r.Record })
	f.Inspections = current(f.Inspections, func(r *Inspection) *Record { return &r.Record })
	f.Removals = current(f.Removals, func(r *Removal) *Record { return &r.Record })
	return f
}

func current[R any](list []R, record func(*R) *Record) []R {
	var replaced []uuid.UUID
	for i := range list {
		if by := record(&list[i]).Replaces; by != nil {
			replaced = append(replaced, *by)
		}
	}
	if len(replaced) == 0 {
		return list
	}
	return keep(list, func(r R) bool { return !slices.Contains(replaced, record(&r).ID) })
}

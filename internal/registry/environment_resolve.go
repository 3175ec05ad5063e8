package registry

import (
	"bytes"
	"cmp"
	"slices"

	"rockledger/internal/calendar"
)

// ResolveEnvironment returns what the statements in force on a day say
// together. For each field the nearest place that states it wins. Of several
// statements about one place the one that began later does, then the one with
// the greater id; of two places of one kind that disagree (two routes) the less
// favourable: the sea or road nearer, hotter, wetter, not washed, of a higher
// category or deposition. The order of the list means nothing; it is not
// modified.
//
// The list is of one position: statements about itself, its routes, its sector
// and its site. Of the result only the fields of the climate are set; those
// that nobody stated are not known.
func ResolveEnvironment(list []Environment, asOf calendar.Date) Environment {
	var e Environment
	var room [4]*Environment
	ordered := inForce(room[:0], list, asOf)
	if len(ordered) == 0 {
		return e
	}
	for k := range environmentFields {
		f := &environmentFields[k]
		if from := f.from(ordered); from != nil {
			f.take(&e, from)
		}
	}
	return e
}

// ExplainEnvironment returns the fields of ResolveEnvironment that are stated,
// each with where it came from, in a fixed order.
func ExplainEnvironment(list []Environment, asOf calendar.Date) []EnvironmentField {
	ordered := inForce(nil, list, asOf)
	var out []EnvironmentField
	for k := range environmentFields {
		f := &environmentFields[k]
		if e := f.from(ordered); e != nil {
			out = append(out, EnvironmentField{f.name, f.text(e), e.Place, e.ID, e.From})
		}
	}
	return out
}

// inForce appends the statements that hold on a day: the nearest first, those
// about one place together, of these the one that wins first.
func inForce(out []*Environment, list []Environment, asOf calendar.Date) []*Environment {
	for i := range list {
		if list[i].InForce(asOf) {
			out = append(out, &list[i])
		}
	}
	slices.SortFunc(out, func(a, b *Environment) int {
		return cmp.Or(
			cmp.Compare(a.Place.Kind.distance(), b.Place.Kind.distance()),
			bytes.Compare(a.Place.ID[:], b.Place.ID[:]),
			cmp.Compare(b.From, a.From),
			bytes.Compare(b.ID[:], a.ID[:]))
	})
	return out
}

// from returns the statement in whose words the field counts, nil if none
// states it; ordered is as inForce has it.
func (f *environmentField) from(ordered []*Environment) *Environment {
	var best, before *Environment
	for _, e := range ordered {
		switch {
		case !f.known(e) || before != nil && e.Place == before.Place:
			continue // silent, or an earlier word about the same place
		case best != nil && e.Place.Kind != best.Place.Kind:
			return best // the rest is farther away
		case best == nil || f.worse(e, best):
			best = e
		}
		before = e
	}
	return best
}

// distance orders kinds of place, the nearest 0.
func (k PlaceKind) distance() int {
	switch k {
	case AtPosition:
		return 0
	case AtRoute:
		return 1
	case AtSector:
		return 2
	}
	return 3
}

package worklist

import (
	"cmp"
	"slices"

	"rockledger/internal/registry"
)

// Total sums what the items bring.
func Total(items []registry.WorkItem) []registry.KitLine {
	var all []registry.KitLine
	for i := range items {
		all = append(all, items[i].Bring...)
	}
	return Kit(all)
}

// Kit puts lines about the same thing together, in a fixed order. The lines are
// not modified.
func Kit(lines []registry.KitLine) []registry.KitLine {
	out := slices.Clone(lines)
	slices.SortStableFunc(out, compare)
	n := 0
	for _, l := range out {
		if n > 0 && compare(out[n-1], l) == 0 {
			out[n-1].Count += l.Count
			continue
		}
		out[n] = l
		n++
	}
	return out[:n]
}

// compare orders lines by what they are about, their count aside.
func compare(a, b registry.KitLine) int {
	kinds := registry.KitKinds()
	return cmp.Or(
		cmp.Compare(slices.Index(kinds, a.Kind), slices.Index(kinds, b.Kind)),
		cmp.Compare(a.Form, b.Form),
		cmp.Compare(a.Fitting, b.Fitting),
		slices.Compare(a.Metal, b.Metal),
		cmp.Compare(open(a), open(b)),
		cmp.Compare(shank(a), shank(b)),
	)
}

func open(l registry.KitLine) int {
	if l.MetalOpen {
		return 1
	}
	return 0
}

// shank is a diameter in millimetres, 0 if it is not known.
func shank(l registry.KitLine) float64 {
	if l.Shank == nil {
		return 0
	}
	return l.Shank.Millimetres()
}

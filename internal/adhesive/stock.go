package adhesive

import (
	"cmp"
	"slices"

	"rockledger/internal/calendar"
)

// Stock is one batch as it lies on the shelf.
type Stock struct {
	ExpiresOn  calendar.Date // the last good day; zero: not known
	ReceivedOn calendar.Date // zero: not known
	OnHand     *int          // cartridges; nil: not known
}

// Draw is what to take of one batch.
type Draw struct {
	Index int // in the list given
	Take  int // cartridges; 0 where it is not known how many there are
}

// Drawing says what to take, in which order, and what to leave.
type Drawing struct {
	Order   []Draw
	Expired []int // by index: never to be used, whatever else there is
	Short   int   // cartridges wanted beyond those known to be there
}

// DrawFrom says how need cartridges are taken from batches of one product on a
// day: what expires first is used first; batches of which that is not known
// come last, of equals those received first. Expired ones, whose last good day
// has passed, are never drawn. A batch without a count keeps its place in the
// order with nothing taken: somebody has to look.
//
// Batches with nothing on hand are left out. The list is neither changed nor
// kept.
//
// Source: first expired, first out; common practice, no source.
func DrawFrom(list []Stock, need int, asOf calendar.Date) Drawing {
	d := Drawing{Short: max(need, 0)}
	for i, s := range list {
		switch {
		case s.OnHand != nil && *s.OnHand <= 0:
		case !s.ExpiresOn.IsZero() && s.ExpiresOn < asOf:
			d.Expired = append(d.Expired, i)
		default:
			d.Order = append(d.Order, Draw{Index: i})
		}
	}
	slices.SortStableFunc(d.Order, func(a, b Draw) int { return sooner(list[a.Index], list[b.Index]) })
	for i := range d.Order {
		if have := list[d.Order[i].Index].OnHand; have != nil {
			d.Order[i].Take = min(*have, d.Short)
			d.Short -= d.Order[i].Take
		}
	}
	return d
}

// sooner orders batches by expiry, not known last, then by receipt, not known
// last.
func sooner(a, b Stock) int {
	return cmp.Or(knownFirst(a.ExpiresOn, b.ExpiresOn), knownFirst(a.ReceivedOn, b.ReceivedOn))
}

func knownFirst(a, b calendar.Date) int {
	if a.IsZero() != b.IsZero() {
		if a.IsZero() {
			return 1
		}
		return -1
	}
	return cmp.Compare(a, b)
}

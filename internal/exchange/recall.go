package exchange

import (
	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// mostKept is how many texts of a kind are remembered, so that a list on which
// each cell says something else takes little more memory.
const mostKept = 4096

// memo remembers what keys were read as. The zero value remembers nothing. It
// serves one goroutine.
type memo[K comparable, V any] struct{ kept map[K]V }

func newMemo[K comparable, V any]() memo[K, V] { return memo[K, V]{make(map[K]V)} }

// of returns what read makes of a key, which must be nothing but the key's
// matter. Whatever it returns is shared by all rows that say the same, and must
// not be changed.
func (m memo[K, V]) of(key K, read func(K) V) V {
	if v, ok := m.kept[key]; ok {
		return v
	}
	v := read(key)
	if m.kept == nil {
		return v
	}
	if len(m.kept) == mostKept {
		clear(m.kept) // what comes next is mostly what was said last
	}
	m.kept[key] = v
	return v
}

// recall remembers what the texts of a list say: lists repeat themselves, and to
// read a text takes far longer than to find it. The zero value remembers nothing.
type recall struct {
	forms   memo[formSaid, formRead]
	metals  memo[string, metalRead]
	lengths memo[lengthSaid, lengthRead]
	sizes   memo[string, lengthRead]
	dates   memo[dateSaid, dateRead]
	states  memo[string, stateRead]
	points  memo[pointSaid, pointRead]
	roles   memo[string, registry.PositionRole]
	routes  memo[routeSaid, registry.RouteKind]
	caves   memo[string, bool] // by the site's name
	ropes   memo[string, bool] // by what else speaks of a cave
	plains  memo[string, string]
}

func newRecall() *recall {
	return &recall{
		forms: newMemo[formSaid, formRead](), metals: newMemo[string, metalRead](), lengths: newMemo[lengthSaid, lengthRead](),
		sizes: newMemo[string, lengthRead](), dates: newMemo[dateSaid, dateRead](), states: newMemo[string, stateRead](),
		points: newMemo[pointSaid, pointRead](), roles: newMemo[string, registry.PositionRole](),
		routes: newMemo[routeSaid, registry.RouteKind](), caves: newMemo[string, bool](), ropes: newMemo[string, bool](),
		plains: newMemo[string, string](),
	}
}

// newRecalls returns n of them.
func newRecalls(n int) []*recall {
	all := make([]*recall, n)
	for i := range all {
		all[i] = newRecall()
	}
	return all
}

type (
	formSaid struct {
		text   string
		inCave bool
	}
	formRead struct {
		form               registry.Form
		understood, hanger bool
	}
	metalRead struct {
		set metal.Set
		ok  bool
	}
	lengthSaid struct {
		text string
		unit quantity.Unit // of a number without one
	}
	// lengthRead is a length, or both of a size; what is wrong with it, or that
	// nothing is said.
	lengthRead struct {
		first, second quantity.Length
		doubt         string
		blank         bool
	}
	dateSaid struct {
		text  string
		order calendar.Order
		asOf  calendar.Date
	}
	dateRead struct {
		span  calendar.Span
		doubt string
	}
	stateRead struct {
		stated
		understood bool
	}
	pointSaid struct {
		lat, lon, pair string
		field          Field
	}
	pointRead struct {
		point
		ok bool
	}
	routeSaid struct {
		route string
		site  registry.SiteKind
	}
)

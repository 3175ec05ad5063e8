package web

import (
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// What a field holds is named by a function that points to it in a thing.

// textOf is a field of one line.
func textOf[N any](name, help string, at func(*N) *string) keptField[N] {
	return keptField[N]{
		formField{Name: name, Kind: "text", Help: help},
		func(n *N) string { return *at(n) },
		func(f *form, n *N) { *at(n) = f.text(name) },
	}
}

// proseOf is a field of several lines.
func proseOf[N any](name, help string, at func(*N) *string) keptField[N] {
	return keptField[N]{
		formField{Name: name, Kind: "words", Help: help},
		func(n *N) string { return strings.ReplaceAll(*at(n), "\r\n", "\n") },
		func(f *form, n *N) { *at(n) = f.prose(name) },
	}
}

// wordOf is a choice of a word from a closed list.
func wordOf[N any, W ~string](name string, options []option, at func(*N) *W) keptField[N] {
	return keptField[N]{
		formField{Name: name, Kind: "select", Options: options},
		func(n *N) string { return string(*at(n)) },
		func(f *form, n *N) { *at(n) = W(f.text(name)) },
	}
}

// refOf is a choice of a thing with an id; blank: none.
func refOf[N any](name, help string, options []option, at func(*N) **uuid.UUID) keptField[N] {
	return keptField[N]{
		formField{Name: name, Kind: "select", Help: help, Options: options},
		func(n *N) string {
			if id := *at(n); id != nil {
				return id.String()
			}
			return ""
		},
		func(f *form, n *N) { *at(n) = f.ref(name) },
	}
}

// flagOf is a question that need not be answered.
func flagOf[N any](name string, at func(*N) **bool) keptField[N] {
	return keptField[N]{
		formField{Name: name, Kind: "radio", Options: yesNoOptions()},
		func(n *N) string {
			if *at(n) == nil {
				return ""
			}
			return yesNo(*at(n))
		},
		func(f *form, n *N) { *at(n) = f.flag(name) },
	}
}

// degreesOf is a coordinate in degrees, WGS 84.
func degreesOf[N any](name, help string, at func(*N) **float64) keptField[N] {
	return keptField[N]{
		formField{Name: name, Kind: "number", Help: help},
		func(n *N) string {
			if *at(n) == nil {
				return ""
			}
			return plainNumber(**at(n))
		},
		func(f *form, n *N) { *at(n) = f.number(name) },
	}
}

// lengthOf is a length in millimetres, or as people write it.
func lengthOf[N any](name, help string, at func(*N) **quantity.Length) keptField[N] {
	return keptField[N]{
		formField{Name: name, Kind: "number", Help: help},
		func(n *N) string {
			if *at(n) == nil {
				return ""
			}
			return plainNumber((*at(n)).Millimetres())
		},
		func(f *form, n *N) { *at(n) = f.length(name) },
	}
}

// dayOf is a day; blank: none.
func dayOf[N any](name, help string, at func(*N) *calendar.Date) keptField[N] {
	return keptField[N]{
		formField{Name: name, Kind: "date", Help: help},
		func(n *N) string {
			if at(n).IsZero() {
				return ""
			}
			return at(n).String()
		},
		func(f *form, n *N) { *at(n) = f.date(name) },
	}
}

func firstRound(n *registry.Site) *calendar.Date      { return &n.FirstRoundEnds }
func siteEnd(n *registry.Site) *calendar.Date         { return &n.EndedOn }
func sectorEnd(n *registry.Sector) *calendar.Date     { return &n.EndedOn }
func routeEnd(n *registry.Route) *calendar.Date       { return &n.EndedOn }
func positionEnd(n *registry.Position) *calendar.Date { return &n.EndedOn }

package httpapi

import (
	"maps"
	"slices"

	"github.com/google/uuid"
	"github.com/oapi-codegen/runtime/types"

	"rockledger/api"
	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// In answers the zero value of an optional member leaves it out: not known.

func dateOut(d calendar.Date) types.Date { return types.Date{Time: d.Time()} }

// dateIn takes the zero time, an absent member, for "no date".
func dateIn(d types.Date) calendar.Date {
	if d.IsZero() {
		return 0
	}
	return calendar.NewDate(d.Date())
}

func spanOut(s calendar.Span) api.UncertainDate {
	return api.UncertainDate{From: dateOut(s.From), To: dateOut(s.To), Words: s.Words}
}

// spanIn reads an uncertain date; from alone is that very day. It does not
// validate.
func spanIn(s api.UncertainDate) calendar.Span {
	out := calendar.Span{From: dateIn(s.From), To: dateIn(s.To), Words: s.Words}
	if out.To.IsZero() {
		out.To = out.From
	}
	return out
}

func momentOut(m calendar.Moment) api.Moment {
	return api.Moment{From: m.From, To: m.To, Words: m.Words}
}

// momentIn reads a moment; from alone is that very instant. It does not
// validate.
func momentIn(m api.Moment) calendar.Moment {
	out := calendar.Moment{From: m.From, To: m.To, Words: m.Words}
	if out.To.IsZero() {
		out.To = out.From
	}
	return out
}

func idOut(id *uuid.UUID) uuid.UUID {
	if id == nil {
		return uuid.Nil
	}
	return *id
}

// idIn takes the nil id, an absent member, for not given.
func idIn(id uuid.UUID) *uuid.UUID {
	if id == uuid.Nil {
		return nil
	}
	return &id
}

func lengthOut(l *quantity.Length) *float64 {
	if l == nil {
		return nil
	}
	mm := l.Millimetres()
	return &mm
}

func lengthIn(mm *float64) *quantity.Length {
	if mm == nil {
		return nil
	}
	l := quantity.Length(*mm)
	return &l
}

func metalOut(s metal.Set) api.Metal {
	if !s.Known() {
		return nil
	}
	out := make(api.Metal, len(s))
	for i, g := range s {
		out[i] = api.MetalGrade(g)
	}
	return out
}

func metalIn(grades []api.MetalGrade) metal.Set {
	list := make([]metal.Grade, len(grades))
	for i, g := range grades {
		list[i] = metal.Grade(g)
	}
	return metal.NewSet(list...)
}

func valuesOut(v registry.Values) api.Values {
	out := make(api.Values, len(v))
	for _, x := range v {
		out[x.Name] = x.Text
	}
	return out
}

// valuesIn puts the values in the order of their names.
func valuesIn(v api.Values) registry.Values {
	out := make(registry.Values, 0, len(v))
	for _, name := range slices.Sorted(maps.Keys(v)) {
		out = append(out, registry.Value{Name: name, Text: v[name]})
	}
	return out
}

func sameID(id uuid.UUID) uuid.UUID { return id }

// each converts a list; the answer is never nil, so that it is never null.
func each[A, B any](list []A, convert func(A) B) []B {
	out := make([]B, len(list))
	for i, v := range list {
		out[i] = convert(v)
	}
	return out
}

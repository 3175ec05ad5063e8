package web

import (
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// figures brings a number as telephones and people write it, with a decimal comma
// or a true minus, to the form that is read.
var figures = strings.NewReplacer(",", ".", "\u2212", "-")

// whole reads a number without a fraction.
func (f *form) whole(name string) *int {
	text := f.text(name)
	if text == "" {
		return nil
	}
	v, err := strconv.Atoi(figures.Replace(text))
	f.checks.Require(err == nil, name, fault.NotWhole, "text", text)
	if err != nil {
		return nil
	}
	return &v
}

// length reads a length as people write it, "12" or "1/2 in"; nil: none typed.
func (f *form) length(name string) *quantity.Length {
	if f.text(name) == "" {
		return nil
	}
	l, err := quantity.ParseLength(f.text(name), quantity.InMillimetres)
	f.checks.Nest(name, err)
	if err != nil {
		return nil
	}
	return &l
}

// ref reads a choice from a list of things with ids; nil: none was made.
func (f *form) ref(name string) *uuid.UUID {
	if f.text(name) == "" {
		return nil
	}
	id, err := uuid.Parse(f.text(name))
	f.checks.Require(err == nil, name, fault.NoSuchReference)
	return &id
}

// reading reads a temperature and how it is known.
func (f *form) reading(name string) *registry.Reading {
	v := f.number(name)
	if v == nil {
		return nil
	}
	return &registry.Reading{C: quantity.Temperature(*v), How: registry.HowRead(f.text(howField(name)))}
}

// howField is the field beside a temperature that says how it is known:
// "rock_how" beside "rock_c".
func howField(name string) string { return strings.TrimSuffix(name, "_c") + "_how" }

// span reads an uncertain date as people write it: "2013", "12 May 2016",
// "c. 1998"; none typed is not known.
func (f *form) span(name string, asOf calendar.Date) calendar.Span {
	s, err := calendar.ParseSpan(f.text(name), calendar.DayFirst, asOf)
	f.checks.Nest(name, err)
	return s
}

// temperature reads a number of degrees Celsius.
func (f *form) temperature(name string) *quantity.Temperature {
	v := f.number(name)
	if v == nil {
		return nil
	}
	t := quantity.Temperature(*v)
	return &t
}

// momentOn reads a time on a day, in zone; none typed, or no day, is not known.
func (f *form) momentOn(name string, day calendar.Date, zone *time.Location) calendar.Moment {
	if f.text(name) == "" || day.IsZero() {
		return calendar.Moment{}
	}
	m, err := calendar.ParseMoment(f.text(name), day, zone)
	f.checks.Nest(name, err)
	return m
}

package assess_test

import (
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// settling draws facts, a finding of theirs that rests on a record, fitting,
// event or notice, and the same facts with that finding settled for good.
func settling(t *rapid.T) (f, settled registry.Facts, finding registry.Finding, asOf calendar.Date) {
	f, asOf = anyFacts(t), anyDay(t)
	f.Settlements = nil
	var list []registry.Finding
	for _, finding := range anchor(f, asOf).Findings {
		if restsOn(finding) != uuid.Nil && finding.Rule != "not-located" { // which nothing settles
			list = append(list, finding)
		}
	}
	if len(list) == 0 {
		t.Skip("nothing that rests on anything")
	}
	finding = anyOf(t, "settled", list)
	settled = f
	settled.Settlements = []registry.Settlement{{
		Record: anyRecord(t, calendar.Exactly(entered)), Rule: finding.Rule, Values: finding.Values,
	}}
	return f, settled, finding, asOf
}

// restsOn returns the id of what a finding rests on.
func restsOn(f registry.Finding) uuid.UUID {
	for _, name := range []string{"record_id", "fitting_id", "event_id", "notice_id"} {
		if id, err := uuid.Parse(f.Values.Text(name)); err == nil {
			return id
		}
	}
	return uuid.Nil
}

// without leaves out what is held against the anchor by what has the id.
func without(f registry.Facts, id uuid.UUID) registry.Facts {
	f.Fittings = slices.DeleteFunc(slices.Clone(f.Fittings), func(x registry.Fitting) bool { return x.ID == id })
	f.Events = slices.DeleteFunc(slices.Clone(f.Events), func(e registry.Event) bool { return e.ID == id })
	f.Notices = slices.DeleteFunc(slices.Clone(f.Notices), func(n registry.Notice) bool { return n.ID == id })
	f.Inspections = slices.Clone(f.Inspections)
	for k := range f.Inspections {
		if i := &f.Inspections[k]; i.ID == id {
			i.Observations, i.Measured, i.InspectBy = nil, nil, 0
			if i.Verdict != "" {
				i.Verdict = registry.Keep
			}
		}
	}
	f.Installations = slices.Clone(f.Installations)
	for k := range f.Installations {
		if i := &f.Installations[k]; i.ID == id {
			f.Cures, f.Sheets = nil, nil
			*i = registry.Installation{Record: i.Record, HoleDiameter: i.HoleDiameter, AdhesiveID: i.AdhesiveID, Rock: registry.RockHard}
		}
	}
	return f
}

// again repeats what has the id under another, later.
func again(f registry.Facts, id, as uuid.UUID) registry.Facts {
	f.Fittings = repeat(f.Fittings, func(x *registry.Fitting) *uuid.UUID { return &x.ID }, id, as)
	f.Events = repeat(f.Events, func(e *registry.Event) *uuid.UUID { return &e.ID }, id, as)
	f.Notices = repeat(f.Notices, func(n *registry.Notice) *uuid.UUID { return &n.ID }, id, as)
	f.Inspections = repeat(f.Inspections, func(i *registry.Inspection) *uuid.UUID { return &i.ID }, id, as)
	f.Installations = repeat(f.Installations, func(i *registry.Installation) *uuid.UUID { return &i.ID }, id, as)
	for k := range f.Installations {
		if i := &f.Installations[k]; i.ID == as {
			i.RecordedAt = i.RecordedAt.Add(time.Second)
		}
	}
	return f
}

func repeat[T any](list []T, idOf func(*T) *uuid.UUID, id, as uuid.UUID) []T {
	out := slices.Clone(list)
	for k := range list {
		if *idOf(&list[k]) == id {
			twin := list[k]
			*idOf(&twin) = as
			out = append(out, twin)
		}
	}
	return out
}

// the anchor stands at best as if the thing settled had never been held against
// it: all else stays.
func TestASettlementImprovesNoMoreThanTheRestAllows(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, settled, finding, asOf := settling(t)
		rest, now := anchor(without(f, restsOn(finding)), asOf), anchor(settled, asOf)
		if betterStanding(now.Standing, rest.Standing) {
			t.Fatalf("%s settled: %v, want no better than %v without it", finding.Rule, now.Standing, rest.Standing)
		}
	})
}

func TestASecondRecordIsNeverBornSettled(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, settled, finding, asOf := settling(t)
		twin := anyID(t)
		now := anchor(again(settled, restsOn(finding), twin), asOf)
		for _, found := range now.Findings {
			if restsOn(found) == twin && found.SettledBy != nil {
				t.Fatalf("%+v is settled, want not", found)
			}
		}
		if before := anchor(f, asOf); betterStanding(now.Standing, before.Standing) {
			t.Fatalf("%s settled and recorded again: %v, want no better than %v", finding.Rule, now.Standing, before.Standing)
		}
	})
}

// a reading alone, that resets nothing, never makes an anchor stand better.
func TestAnotherReadingIsNeverBetter(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, asOf := anyFacts(t), anyDay(t)
		f.Settlements = nil
		i := registry.Inspection{Record: anyRecord(t, anySpan(t, "measured", 2005, 2026)), Level: registry.Full}
		m := registry.Measurement{Left: quantity.Length(rapid.IntRange(5, 12).Draw(t, "left")), New: anyLength(t, "when new", 8, 12)}
		if len(f.Fittings) > 0 && rapid.Bool().Draw(t, "of a fitting") {
			m.FittingID = &f.Fittings[0].ID
		}
		i.Measured = []registry.Measurement{m}
		g := f
		g.Inspections = append(slices.Clone(f.Inspections), i)
		if before, after := anchor(f, asOf), anchor(g, asOf); betterStanding(after.Standing, before.Standing) {
			t.Fatalf("measured again: %v, want no better than %v", after.Standing, before.Standing)
		}
	})
}

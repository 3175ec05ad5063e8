package assess_test

import (
	"testing"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// A form that is not known may be any: to forget it never gives a better
// standing, whatever was seen and however the anchor was set.
func TestForgettingTheFormIsNeverBetter(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, asOf := anyFacts(t), anyDay(t)
		f.Settlements = nil // of values that are about to change
		for k := range f.Installations {
			id := anyID(t)
			f.Installations[k].AdhesiveID = anyOf(t, "adhesive", []*uuid.UUID{nil, &id})
		}
		known := anchor(f, asOf)
		f.Anchor.Form = ""
		forgotten := anchor(f, asOf)
		if betterStanding(forgotten.Standing, known.Standing) {
			t.Fatalf("form forgotten: %v, want no better than %v", forgotten.Standing, known.Standing)
		}
	})
}

// What is suspect or out of use stays so when it is not found; the date by
// which to look again is kept.
func TestNotFoundHidesNothingGrave(t *testing.T) {
	t.Parallel()
	no := false
	for what, want := range map[registry.Observation]registry.Standing{
		registry.SurfaceRust:  registry.StandingNotLocated,
		registry.Rust:         registry.StandingNotLocated,
		registry.CrackedGlue:  registry.StandingSuspect,
		registry.CrackedMetal: registry.StandingOutOfUse,
	} {
		f := registry.Facts{
			Anchor: registry.Anchor{Form: registry.GlueIn, EnteredOn: entered},
			Site:   registry.Site{Kind: registry.Crag},
			Inspections: []registry.Inspection{
				{Record: recordOn(1, entered+10), Level: registry.HandsOn, Observations: []registry.Observation{what}, Ticked: true},
				{Record: recordOn(2, entered+20), Level: registry.HandsOn, Found: &no, Ticked: true},
			},
		}
		a := anchor(f, entered+30)
		if a.Standing != want {
			t.Errorf("%s, then not found: %v, want %v", what, a.Standing, want)
		}
		again := false
		for _, c := range a.Candidates {
			again = again || c.Rule == "not-located"
		}
		if !again {
			t.Errorf("%s, then not found: no date to look again", what)
		}
	}
}

func recordOn(id byte, on calendar.Date) registry.Record {
	return registry.Record{
		ID: uuid.UUID{id}, DoneOn: calendar.Exactly(on), Origin: registry.Recorded, RecordedAt: on.Time(),
	}
}

package wording_test

import (
	"strings"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestMaintenanceInWords(t *testing.T) {
	t.Parallel()
	on := calendar.Exactly(calendar.NewDate(2026, 5, 2))
	who, torque := uuid.New(), 35.5
	ring := registry.Fitting{ID: uuid.New(), Kind: registry.Ring}
	fresh := registry.Fitting{ID: uuid.New(), Kind: registry.Ring, Metal: metal.NewSet("1.4404")}
	names := wording.Names{Persons: map[uuid.UUID]string{who: "A. Example"}}
	record := registry.Record{DoneOn: on, PersonID: &who, Origin: registry.Recorded}
	for _, test := range []struct {
		m    registry.Maintenance
		want string
	}{
		{
			registry.Maintenance{Record: record, Done: []registry.Upkeep{registry.Tightened}, TorqueNM: &torque, TorqueTool: "click wrench"},
			"Maintained on 2 May 2026 by A. Example: nut or bolt tightened. Torque 35.5 Nm, with “click wrench”.",
		},
		{
			registry.Maintenance{Record: record, Done: []registry.Upkeep{registry.FittingRenewed}, FittingID: &ring.ID, NewFittingID: &fresh.ID},
			"Maintained on 2 May 2026 by A. Example: fitting renewed. The ring was renewed. New: ring, metal stainless steel 1.4404 (316L).",
		},
		{
			registry.Maintenance{Record: record, Done: []registry.Upkeep{registry.FittingTaken}, FittingID: &ring.ID},
			"Maintained on 2 May 2026 by A. Example: fitting taken off on purpose. The ring was taken off.",
		},
	} {
		if got := wording.Maintenance(test.m, []registry.Fitting{ring, fresh}, names); got != test.want {
			t.Errorf("Maintenance = %q, want %q", got, test.want)
		}
	}
}

func TestMarkingAndRemovalInWords(t *testing.T) {
	t.Parallel()
	on := calendar.Exactly(calendar.NewDate(2026, 5, 2))
	record := registry.Record{DoneOn: on, Origin: registry.Recorded}
	up := registry.Marking{Record: record, How: []registry.MarkingHow{registry.MarkedTape, registry.MarkedEyeBlocked}}
	id, kept, stub := uuid.New(), true, quantity.Length(4)
	for want, got := range map[string]string{
		"Marked at the rock on 2 May 2026: tape on it, eye blocked.":      wording.Marking(up, wording.Names{}),
		"Marking at the rock taken away on 2 May 2026.":                   wording.Marking(registry.Marking{Record: record, Lifts: &id}, wording.Names{}),
		"Marked at the rock: tape on it, eye blocked (since 2 May 2026).": wording.MarkedNow([]registry.Marking{up}),
		"Removed on 2 May 2026. How: cut off. What is left stands 4 mm out of the rock. The hole: what is left of the anchor sits in it. " +
			"Seen once it was out: cracked metal. The metal was kept: “invented shed”.": wording.Removal(registry.Removal{
			Record: record, How: registry.CutOff, Stub: &stub, OldHole: registry.HoleStub,
			Observations: []registry.Observation{registry.CrackedMetal}, MetalKept: &kept, MetalWhere: "invented shed",
		}, wording.Names{}),
		"Removed on 2 May 2026.": wording.Removal(registry.Removal{Record: record}, wording.Names{}),
		"":                       wording.MarkedNow(nil),
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestMarkedRow(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		standing registry.Standing
		band     registry.Band
		want     string
	}{
		{registry.StandingOutOfUse, registry.BandNow, "No marking recorded"},
		{registry.StandingOutOfUse, registry.BandThisYear, "Marked at the rock"},
		{registry.StandingSuspect, registry.BandNow, ""},
	} {
		if got := wording.MarkedRow(test.standing, test.band); got != test.want {
			t.Errorf("MarkedRow(%s, %s) = %q, want %q", test.standing, test.band, got, test.want)
		}
	}
	line := wording.Band(registry.Assessment{Band: registry.BandThisYear, BandReason: assess.ReasonOutOfUseMarked})
	if !strings.Contains(line, "marked so at the rock") {
		t.Errorf("Band = %q", line)
	}
}

// Every kind of record that can settle a finding reads well in a list and, if it
// is maintenance, behind a finding.
func TestWhatSettlesInWords(t *testing.T) {
	t.Parallel()
	got := wording.SettlingKinds([]string{"hands-on", "tightened", "replacement", "settlement"})
	if want := "inspection, hands-on or closer; nut or bolt tightened; taking it out or replacing it; a named person's answer"; got != want {
		t.Errorf("SettlingKinds = %q, want %q", got, want)
	}
	for _, kind := range houserules.SettlingKinds() {
		if text := wording.SettlingKinds([]string{kind}); text == "" || strings.Contains(text, "-") && text != "inspection, hands-on or closer" {
			t.Errorf("SettlingKinds(%s) = %q", kind, text)
		}
	}
	settles := func(word string) string { return wording.Settles(registry.Finding{Rule: "loose-nut", Settles: word}) }
	const usual = "inspection-not-lower"
	for beside, want := range map[string]string{
		"":                           "",
		"+tightened+fitting-renewed": " So does maintenance recorded for the day it was seen or a later one: nut or bolt tightened, fitting renewed.",
		"+full+tightened":            " Your house rules ask for an inspection in full. So does maintenance recorded for the day it was seen or a later one: nut or bolt tightened.",
		"+no-inspection":             " By your house rules no inspection does.",
	} {
		if got := settles(usual + beside); got != settles(usual)+want {
			t.Errorf("Settles(%s) = %q", beside, got)
		}
	}
	if strings.HasPrefix(settles(usual+"+tightened"), "Ask a steward") {
		t.Error("what maintenance settles is not known")
	}
}

func TestFaultsOfUpkeep(t *testing.T) {
	t.Parallel()
	for _, test := range []struct{ got, want string }{
		{wording.Violation(fault.Violation{Field: "person_id", Code: fault.Required, Values: map[string]string{"unmarks": "yes"}}), "names who did it"},
		{wording.Violation(fault.Violation{Field: "settled_by.rust.value", Code: fault.NotAllowed, Values: map[string]string{"settles": "cleaned"}}), "“cleaned” cannot settle"},
		{wording.Violation(fault.Violation{Field: "settled_by.rust.value", Code: fault.Required, Values: map[string]string{"settles": "settlement"}}), "always settled by “settlement”"},
	} {
		if !strings.Contains(test.got, test.want) {
			t.Errorf("%q lacks %q", test.got, test.want)
		}
	}
}

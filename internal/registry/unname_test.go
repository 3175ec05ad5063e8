package registry_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

var unnamedOn = calendar.NewDate(2026, time.May, 3)

func TestUnnamed(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("x", 185) + " May Moor" // with the day in place of the name beyond what an issuer may have
	told := registry.LandTold{
		Landowner: registry.Landowner{Name: "May Moor", Contact: "by the gate, 0100 200 300\nmay@example.org", EndedOn: unnamedOn},
		Parcels:   []registry.Parcel{{Name: "May Moor"}, {Name: "Lower field"}, {Name: "may  MOOR's field"}, {Name: "May Moorland"}},
		Agreements: []registry.Agreement{
			{Kind: registry.Permission, Issuer: "M. Moor", Conditions: "Ring 0100  200 300 first"},
			{Kind: registry.Consent, Issuer: "An invented office", Conditions: "leave by the gate"},
			{Kind: registry.Consent, Issuer: long},
		},
		Restrictions: []registry.Restriction{{Why: "lambs; write to MAY@example.org"}, {Why: "nesting"}},
	}
	const stand = "name erased on 3 May 2026"
	want := registry.LandTold{
		Landowner:    registry.Landowner{Name: stand, EndedOn: unnamedOn, ErasedOn: unnamedOn},
		Parcels:      []registry.Parcel{{Name: stand}, {Name: stand + "'s field"}},
		Agreements:   []registry.Agreement{{Kind: registry.Permission, Issuer: stand, Conditions: "Ring " + stand + " first"}, {Kind: registry.Consent, Issuer: stand}},
		Restrictions: []registry.Restriction{{Why: "lambs; write to " + stand}},
	}
	if d := cmp.Diff(want, told.Unnamed(unnamedOn)); d != "" {
		t.Errorf("Unnamed() differs (-want +got):\n%s", d)
	}
	if told.Parcels[0].Name != "May Moor" {
		t.Error("Unnamed() changed what it was asked of")
	}
}

// A name that the words for it hold is not taken for the name again.
func TestUnnamedOnce(t *testing.T) {
	t.Parallel()
	told := registry.LandTold{Landowner: registry.Landowner{Name: "May"}, Parcels: []registry.Parcel{{Name: "May"}}}
	if got := told.Unnamed(unnamedOn).Parcels[0].Name; got != registry.ErasedOn(unnamedOn) {
		t.Errorf("parcel is called %q", got)
	}
}

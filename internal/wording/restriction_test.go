package wording_test

import (
	"testing"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestRestriction(t *testing.T) {
	t.Parallel()
	spring := calendar.Window{FromMonth: time.February, FromDay: 1, ToMonth: time.June, ToDay: 30}
	on, until := calendar.NewDate(2026, 5, 3), calendar.NewDate(2026, 6, 1)
	for want, r := range map[string]registry.Restriction{
		"No climbing from 1 February to 30 June every year, by agreement: nesting birds; confirmed 3 May 2026.": {
			Kind: registry.NoClimbing, Weight: registry.ByAgreement, Why: "nesting birds", Yearly: &spring, ConfirmedOn: on,
		},
		"No entry from 3 May 2026 to 1 June 2026, by law: works; never confirmed.": {
			Kind: registry.NoEntry, Weight: registry.ByLaw, Why: "works", From: on, Until: until,
		},
		"No noise from 1 February to 30 June every year (from 3 May 2026), on request: lambing; never confirmed.": {
			Kind: registry.NoNoise, Weight: registry.ByRequest, Why: "lambing", Yearly: &spring, From: on,
		},
		"No drilling until 1 June 2026, on request: lambing; never confirmed.": {
			Kind: registry.NoDrilling, Weight: registry.ByRequest, Why: "lambing", Until: until,
		},
		"Restriction not known at any time; never confirmed.": {},
	} {
		if got := wording.Restriction(r); got != want {
			t.Errorf("Restriction(%+v) = %q, want %q", r, got, want)
		}
	}
}

func TestLastOpenDay(t *testing.T) {
	t.Parallel()
	barred := []registry.Restriction{{Kind: registry.NoEntry}}
	for want, l := range map[string]registry.ReportLine{
		"":                                     {LastOpenDay: calendar.NewDate(2026, 5, 3)},
		"No day before it is open.":            {Restrictions: barred},
		"Last open day before it: 3 May 2026.": {Restrictions: barred, LastOpenDay: calendar.NewDate(2026, 5, 3)},
		"No day is left before it; the last open day was 3 May 2026.": {
			Restrictions: barred, LastOpenDay: calendar.NewDate(2026, 5, 3), Assessment: registry.Assessment{AsOf: calendar.NewDate(2026, 5, 4)},
		},
	} {
		if got := wording.LastOpenDay(l); got != want {
			t.Errorf("LastOpenDay(%+v) = %q, want %q", l, got, want)
		}
	}
}

func TestBarred(t *testing.T) {
	t.Parallel()
	l := registry.ReportLine{
		Restrictions: []registry.Restriction{{Kind: registry.NoClimbing, Why: "nesting birds"}, {Kind: registry.NoEntry}},
		LastOpenDay:  calendar.NewDate(2026, 5, 3),
	}
	if got, want := wording.Barred(l), "Barred on that day: no climbing (nesting birds), no entry. Last open day before it: 3 May 2026."; got != want {
		t.Errorf("Barred(%+v) = %q, want %q", l, got, want)
	}
	l.Assessment = registry.Assessment{AsOf: calendar.NewDate(2026, 6, 2), DueOn: calendar.NewDate(2026, 6, 1)}
	if got := wording.Barred(l); got != "" {
		t.Errorf("Barred(%+v) = %q, want nothing of a date that is past", l, got)
	}
	if got := wording.Barred(registry.ReportLine{}); got != "" {
		t.Errorf("Barred of nothing = %q, want nothing", got)
	}
}

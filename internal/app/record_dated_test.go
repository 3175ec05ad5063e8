package app_test

import (
	"maps"
	"testing"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// A record of a day before the anchor was set or after it was removed is of
// another anchor.
func TestRecordsOutsideTheAnchorsTime(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	anchor := h.anchor(t, "B1") // set on 12 May 2016
	set, removed := anchor.SetOn.From, firstDay.AddDays(-10)
	person := add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
	done := func(on calendar.Span) registry.Record {
		r := record(anchor.ID, person, 0)
		r.DoneOn = on
		return r
	}
	attempt := func(on calendar.Span) map[string]error {
		_, _, inspection := h.RecordInspection(t.Context(), h.who, registry.Inspection{Record: done(on), Level: registry.HandsOn, Ticked: true})
		_, _, installation := h.RecordInstallation(t.Context(), h.who, registry.Installation{Record: done(on)})
		_, _, firstUse := h.RecordFirstUse(t.Context(), h.who, registry.FirstUse{Record: done(on)})
		return map[string]error{"inspection": inspection, "installation": installation, "first use": firstUse}
	}
	wantAll := func(what string, on calendar.Span, value string) {
		t.Helper()
		for kind, err := range attempt(on) {
			e, _ := fault.As(err)
			switch {
			case value == "" && err != nil:
				t.Errorf("%s %s: %v, want it taken", kind, what, err)
			case value != "" && (e == nil || len(e.Violations) != 1 || e.Violations[0].Field != "done_on" ||
				e.Violations[0].Code != fault.Order || e.Violations[0].Values[value] == ""):
				t.Errorf("%s %s: %v, want done_on out of order with %s", kind, what, err, value)
			}
		}
	}
	wantAll("the day before it was set", calendar.Exactly(set-1), "set_on")
	wantAll("perhaps after it was set", calendar.Span{From: set - 30, To: set}, "")
	if _, _, err := h.RecordRemoval(t.Context(), h.who, registry.Removal{Record: done(calendar.Exactly(removed))}); err != nil {
		t.Fatal(err)
	}
	wantAll("the day after it was removed", calendar.Exactly(removed+1), "removed_on")
	wantAll("the day it was removed", calendar.Exactly(removed), "")
}

// A record without a day is told that, and not that it lies before the anchor
// was set.
func TestRecordWithoutADay(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	r := inspected(h.anchor(t, "B1").ID, firstDay, func(i *registry.Inspection) { i.DoneOn = calendar.Span{} })
	_, _, err := h.RecordInspection(t.Context(), h.who, r)
	if e, ok := fault.As(err); !ok || len(e.Violations) != 1 || e.Violations[0].Field != "done_on" || e.Violations[0].Code == fault.Order {
		t.Errorf("a record without a day: %v, want one violation of done_on, not of its order", err)
	}
}

// An anchor that came from its list as removed was gone by the day it was
// entered; what was done before that may still be recorded.
func TestRecordOfAnAnchorEnteredAsRemoved(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, "Crag,Route,Bolt,Type,Metal,Glue,Batch,Fitted,State\nTarn Edge,Plum Line,B1,glue in,316,,,1997,REMOVED\n")
	anchor := h.anchor(t, "B1")
	if !anchor.Removed || anchor.RemovedOn.Known() {
		t.Fatalf("anchor = %+v, want it removed on a day not known", anchor)
	}
	person := add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
	done := func(on calendar.Date) registry.Record {
		r := record(anchor.ID, person, 0)
		r.DoneOn = calendar.Exactly(on)
		return r
	}
	for on, taken := range map[calendar.Date]bool{anchor.EnteredOn: false, anchor.EnteredOn - 1: true} {
		_, _, inspection := h.RecordInspection(t.Context(), h.who, registry.Inspection{Record: done(on), Level: registry.HandsOn, Verdict: registry.KeepWatching, Ticked: true})
		_, _, installation := h.RecordInstallation(t.Context(), h.who, registry.Installation{Record: done(on)})
		for kind, err := range map[string]error{"inspection": inspection, "installation": installation} {
			e, _ := fault.As(err)
			switch {
			case taken && err != nil:
				t.Errorf("%s of the day before: %v, want it taken", kind, err)
			case !taken && (e == nil || len(e.Violations) != 1 || e.Violations[0].Values["gone_by"] == ""):
				t.Errorf("%s of the day it was entered: %v, want done_on out of order", kind, err)
			}
		}
	}
}

// An anchor of which only a year is known refuses with that year, not with the
// first day of it.
func TestRecordBeforeAYear(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	spot := h.anchor(t, "B1")
	year := calendar.Span{From: spot.SetOn.From, To: spot.SetOn.From + 300, Words: "2016"}
	_, err := h.ChangeAnchor(t.Context(), h.who, spot.ID, spot.Version, func(a *registry.Anchor) error {
		a.SetOn = year
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	early := inspected(spot.ID, year.From-1, func(*registry.Inspection) {})
	_, _, err = h.RecordInspection(t.Context(), h.who, early)
	want := map[string]string{
		"set_on": year.From.String(), "set_on_from": year.From.String(), "set_on_to": year.To.String(), "set_on_words": "2016",
	}
	if e, ok := fault.As(err); !ok || len(e.Violations) != 1 || !maps.Equal(e.Violations[0].Values, want) {
		t.Errorf("refusal = %+v, want the values %v", err, want)
	}
}

// What is in doubt and then not found stays in the report of what is in doubt.
func TestSuspectReportHoldsWhatWasNotFound(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	anchor, no := h.anchor(t, "B3").ID, false // spins
	missed := inspected(anchor, firstDay, func(i *registry.Inspection) { i.Found, i.Observations, i.Verdict = &no, nil, "" })
	if _, _, err := h.RecordInspection(t.Context(), h.who, missed); err != nil {
		t.Fatal(err)
	}
	suspect, err := h.Suspect(t.Context(), h.who, 0)
	if err != nil || len(suspect.Lines) != 1 || suspect.Lines[0].Place.Anchor.ID != anchor {
		t.Errorf("suspect = %+v, %v; want the anchor that was not found", suspect.Lines, err)
	}
}

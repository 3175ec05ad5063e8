package wording_test

import (
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestOn(t *testing.T) {
	t.Parallel()
	day := calendar.NewDate
	for _, c := range []struct {
		name string
		span calendar.Span
		want string
	}{
		{"a day", calendar.Exactly(day(2025, time.May, 2)), "on 2 May 2025"},
		{"a month", calendar.Span{From: day(2009, time.May, 1), To: day(2009, time.May, 31), Words: "May 2009"}, "in May 2009"},
		{"a year", calendar.Span{From: day(2014, time.January, 1), To: day(2014, time.December, 31)}, "in 2014"},
		{"a season", calendar.Span{From: day(2003, time.June, 1), To: day(2003, time.August, 31), Words: "summer 2003"}, "between 1 June and 31 August 2003 (“summer 2003”)"},
		{"not known", calendar.Span{}, "on a day not known"},
		{"not read", calendar.Span{Words: "31/02/2012"}, "on a day not known (“31/02/2012”)"},
	} {
		if got := wording.On(c.span); got != c.want {
			t.Errorf("%s: On(%+v) = %q, want %q", c.name, c.span, got, c.want)
		}
	}
}

func TestLength(t *testing.T) {
	t.Parallel()
	for mm, want := range map[quantity.Length]string{12: "12 mm", 12.7: "12.7 mm", 3.0 / 8 * 25.4: "9.53 mm", 100.004: "100 mm"} {
		if got := wording.Length(&mm); got != want {
			t.Errorf("Length(%v) = %q, want %q", mm, got, want)
		}
	}
	if got := wording.Length(nil); got != "not known" {
		t.Errorf("Length(nil) = %q, want not known", got)
	}
}

func TestInspectionSaysWhatCounts(t *testing.T) {
	t.Parallel()
	no := false
	on := registry.Record{DoneOn: calendar.Exactly(calendar.NewDate(2025, time.May, 2)), Origin: registry.Recorded}
	for _, c := range []struct {
		name string
		of   registry.Inspection
		want string
	}{
		{
			"looked for in vain",
			registry.Inspection{Record: on, Level: registry.Glance, Found: &no, Ticked: true},
			"Looked at in passing on 2 May 2025. It was not found.",
		},
		{
			"covered by a bulk entry",
			registry.Inspection{Record: on, Level: registry.HandsOn},
			"Inspected hands-on on 2 May 2025. Entered for many anchors at once, this one not ticked: it moves no date.",
		},
		{
			"nothing seen",
			registry.Inspection{Record: on, Level: registry.Full, Verdict: registry.Keep, Ticked: true},
			"Inspected in full on 2 May 2025. Verdict: keep.",
		},
	} {
		if got := wording.Inspection(c.of, wording.Names{}); got != c.want {
			t.Errorf("%s:\ngot  %q\nwant %q", c.name, got, c.want)
		}
	}
}

func TestInstallationSaysWhatGlueIsKnown(t *testing.T) {
	t.Parallel()
	glue, batch := uuid.UUID{1}, uuid.UUID{2}
	names := wording.Names{
		Products: map[uuid.UUID]registry.Product{glue: {Name: "Slow resin"}},
		Batches:  map[uuid.UUID]registry.Batch{batch: {Text: "L1709-A"}},
	}
	for _, c := range []struct {
		name        string
		glue, batch *uuid.UUID
		want        string
	}{
		{"both", &glue, &batch, "Set on a day not known. Bonded with Slow resin, batch L1709-A."},
		{"no batch", &glue, nil, "Set on a day not known. Bonded with Slow resin, batch not recorded."},
		{"batch alone", nil, &batch, "Set on a day not known. Bonded with an adhesive not known, batch L1709-A."},
		{"neither", nil, nil, "Set on a day not known."},
	} {
		i := registry.Installation{AdhesiveID: c.glue, BatchID: c.batch}
		if got := wording.Installation(i, names); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestInspectBy(t *testing.T) {
	t.Parallel()
	due := calendar.NewDate(2026, time.May, 2)
	for _, c := range []struct {
		standing registry.Standing
		on       calendar.Date
		state    registry.DueState
		want     string
	}{
		{registry.NoProblem, due, registry.NotDue, "Inspect by 2 May 2026"},
		{registry.StandingWatch, due, registry.Overdue, "Inspect by 2 May 2026: overdue"},
		{registry.NoProblem, due, registry.DueSoon, "Inspect by 2 May 2026: due soon"},
		{registry.NoProblem, due, registry.AwaitingFirstRound, "Inspect by 2 May 2026: awaiting the first round"},
		{registry.StandingNotLocated, due, registry.NotDue, "Look for it by 2 May 2026"},
		{registry.StandingRemoved, 0, "", ""},
		{registry.StandingOutOfUse, due, registry.NotDue, wording.NoDay},
		{registry.StandingOutOfUse, due, registry.AwaitingFirstRound, wording.NoDay},
		{registry.StandingOutOfUse, due, registry.Overdue, "Inspect by 2 May 2026: overdue"},
	} {
		if got := wording.InspectBy(c.standing, c.on, c.state); got != c.want {
			t.Errorf("InspectBy(%s, %v, %s) = %q, want %q", c.standing, c.on, c.state, got, c.want)
		}
	}
}

// Beside a standing that waits for no day, no day reassures.
func TestDueBeside(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		standing registry.Standing
		state    registry.DueState
		want     string
		day      string
	}{
		{registry.NoProblem, registry.NotDue, "Not due", "2 May 2026"},
		{registry.StandingSuspect, registry.NotDue, "", "2 May 2026"},
		{registry.StandingSuspect, registry.DueSoon, "Due soon", "2 May 2026"},
		{registry.StandingOutOfUse, registry.NotDue, "", "does not apply"},
		{registry.StandingOutOfUse, registry.Overdue, "Overdue", "2 May 2026"},
	} {
		a := registry.Assessment{Standing: c.standing, DueOn: calendar.NewDate(2026, time.May, 2), DueState: c.state}
		if got, day := wording.DueBeside(a), wording.DueDay(a); got != c.want || day != c.day {
			t.Errorf("%s, %s: %q, %q, want %q, %q", c.standing, c.state, got, day, c.want, c.day)
		}
	}
}

func TestReasonBehindLeavesOutTheDate(t *testing.T) {
	t.Parallel()
	due := calendar.NewDate(2026, time.May, 2)
	reason := registry.Candidate{Rule: "verdict", On: due, Values: registry.Values{{Name: "given_on", Text: "2025-05-02"}, {Name: "verdict", Text: "watch"}}}
	a := registry.Assessment{DueOn: due, Reason: reason, Candidates: []registry.Candidate{reason}}
	want := "The verdict on 2 May 2025 was “watch”, and the inspector set this date."
	if got := wording.ReasonBehind(a); got != want {
		t.Errorf("ReasonBehind = %q, want %q", got, want)
	}
	a = registry.Assessment{
		DueOn: due, SoonestOn: due, DueState: registry.AwaitingFirstRound,
		Reason: registry.Candidate{Rule: "first-round", On: due, Source: "default of this project"},
	}
	want = "Nobody has inspected it hands-on since it was entered here."
	if got := wording.ReasonBehind(a); got != want {
		t.Errorf("ReasonBehind of the first round = %q, want %q", got, want)
	}
	if got := wording.ReasonBehind(registry.Assessment{}); got != "" {
		t.Errorf("ReasonBehind without a date = %q, want nothing", got)
	}
}

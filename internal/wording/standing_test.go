package wording_test

import (
	"strings"
	"testing"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func day(s string) calendar.Date {
	d, err := calendar.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

func TestStandingLine(t *testing.T) {
	t.Parallel()
	hands := registry.Inspection{
		Record: registry.Record{DoneOn: calendar.Exactly(day("2025-05-02")), Origin: registry.Recorded}, Level: registry.HandsOn,
	}
	list := registry.Inspection{
		Record: registry.Record{DoneOn: calendar.Span{From: day("2005-01-01"), To: day("2005-12-31")}, Origin: registry.Imported},
		Level:  registry.Glance,
	}
	undated := registry.Inspection{Record: registry.Record{Origin: registry.Imported}, Level: registry.Glance}
	no := false
	missed := registry.Inspection{
		Record: registry.Record{DoneOn: calendar.Span{From: day("2000-10-01"), To: day("2000-10-31"), Words: "Oct 2000"}, Origin: registry.Imported}, Found: &no,
	}
	tests := []struct {
		standing    registry.Standing
		inspections []registry.Inspection
		want        string
	}{
		{registry.NoProblem, []registry.Inspection{list, hands}, "No problem recorded as of 3 May 2026; last inspection 2 May 2025, hands-on. Inspect before you trust it."},
		{registry.NoProblem, []registry.Inspection{list}, "No problem recorded as of 3 May 2026; last checked 2005 by the list it came from, which counts as a glance. Inspect before you trust it."},
		{registry.StandingWatch, nil, "Watch as of 3 May 2026; no inspection on record. Inspect before you trust it."},
		{registry.StandingSuspect, []registry.Inspection{undated}, "Suspect as of 3 May 2026; no inspection with a date on record. Do not rely on it until it has been inspected and the doubt is settled."},
		{registry.StandingNotLocated, []registry.Inspection{missed}, "Not located as of 3 May 2026; looked for and not found, October 2000, and no inspection on record. Whoever finds it should inspect it before trusting it, and say where it is."},
		{registry.StandingNotLocated, []registry.Inspection{missed, undated}, "Not located as of 3 May 2026; no inspection with a date on record. Whoever finds it should inspect it before trusting it, and say where it is."},
		{registry.StandingOutOfUse, []registry.Inspection{hands}, "Out of use as of 3 May 2026; last inspection 2 May 2025, hands-on. Do not use it."},
		{registry.StandingRemoved, nil, "Removed from the rock. What stands here is its history."},
	}
	for _, test := range tests {
		a := registry.Assessment{Standing: test.standing, AsOf: day("2026-05-03")}
		if got := wording.StandingLine(a, test.inspections); got != test.want {
			t.Errorf("StandingLine(%v) =\n%s, want\n%s", test.standing, got, test.want)
		}
	}
}

func TestNothingIsCalledSafe(t *testing.T) {
	t.Parallel()
	for _, s := range registry.Standings() {
		line := wording.Standing(s) + wording.StandingLine(registry.Assessment{Standing: s, AsOf: day("2026-05-03")}, nil)
		for _, word := range []string{"safe", "sound", "good", "fine", "not known"} {
			if strings.Contains(strings.ToLower(line), word) {
				t.Errorf("standing %v is said with %q: %s", s, word, line)
			}
		}
	}
}

func TestEveryWordOfAnAssessmentHasItsSentence(t *testing.T) {
	t.Parallel()
	for _, d := range registry.DueStates() {
		if got := wording.DueState(d); got == "No date" {
			t.Errorf("DueState(%v) = %q", d, got)
		}
	}
	for _, l := range registry.Levels() {
		if got := wording.Level(l); strings.Contains(got, "not known") {
			t.Errorf("Level(%v) = %q", l, got)
		}
	}
	said := make(map[string]string)
	for _, reason := range assess.BandReasons() {
		got := wording.Band(registry.Assessment{Band: registry.BandNow, BandReason: reason})
		if other, ok := said[got]; ok || strings.HasSuffix(got, "Now: "+strings.ReplaceAll(reason, "-", " ")+".") {
			t.Errorf("Band(%v) = %q, like %q", reason, got, other)
		}
		said[got] = reason
	}
	for _, b := range registry.Bands() {
		if got := wording.Band(registry.Assessment{Band: b, BandReason: "watch"}); strings.HasPrefix(got, "Urgency") {
			t.Errorf("Band(%v) = %q", b, got)
		}
	}
	if got, want := wording.Band(registry.Assessment{Band: registry.BandThisSeason, BandReason: "suspect-elsewhere"}), "This season: it is suspect."; got != want {
		t.Errorf("Band = %q, want %q", got, want)
	}
}

func TestEveryRuleHasItsSentences(t *testing.T) {
	t.Parallel()
	for _, r := range shippedRules(t) {
		f := registry.Finding{Rule: r.ID, Settles: r.Settles, Values: registry.Values{
			{Name: "observation", Text: "loose-nut"},
			{Name: "form", Text: "staple"},
			{Name: "seen_on", Text: "2025-05-02"},
			{Name: "seen_level", Text: "hands-on"},
		}}
		got := wording.Finding(f)
		if strings.EqualFold(got, strings.ReplaceAll(r.ID, "-", " ")+".") || strings.ContainsAny(got, "{}") {
			t.Errorf("Finding(%v) = %q, want a sentence", r.ID, got)
		}
		if got := wording.Settles(f); strings.HasPrefix(got, "Ask a steward") {
			t.Errorf("Settles(%v) = %q, want a sentence for %q", r.ID, got, r.Settles)
		}
	}
}

func TestFinding(t *testing.T) {
	t.Parallel()
	tests := []struct {
		finding registry.Finding
		want    string
	}{
		{
			registry.Finding{Rule: "imported-spins", Values: registry.Values{{Name: "seen_on", Text: "2005-01-01"}, {Name: "seen_until", Text: "2005-12-31"}}},
			"The list it came from says that it spins (checked in 2005); whether the anchor or its hanger turns is not said.",
		},
		{registry.Finding{Rule: "imported-rust"}, "The list it came from says that it is rusty."},
		{
			registry.Finding{Rule: "rust", Values: registry.Values{{Name: "seen_on", Text: "2025-05-02"}, {Name: "seen_level", Text: "hands-on"}}},
			"Rust, seen hands-on on 2 May 2025.",
		},
		{
			registry.Finding{Rule: "form-doubted", Values: registry.Values{{Name: "observation", Text: "loose-nut"}, {Name: "form", Text: "staple"}}},
			"“Loose nut” does not fit the form on record (glue-in, staple): one of the two may be wrong.",
		},
		{registry.Finding{Rule: "of-a-later-version"}, "Of a later version."},
	}
	for _, test := range tests {
		if got := wording.Finding(test.finding); got != test.want {
			t.Errorf("Finding(%v) = %q, want %q", test.finding.Rule, got, test.want)
		}
	}
}

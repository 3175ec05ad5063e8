package web

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/net/html"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func story(t *testing.T, s registry.AnchorStory) *html.Node {
	t.Helper()
	return draw(t, anchorView(newAnchorPage(frameOf("x"), s, time.FixedZone("BST", 3600))))
}

func TestAnchorSaysWhyThisDate(t *testing.T) {
	t.Parallel()
	s := storyOf()
	doc := story(t, s)
	main := text(one(t, doc, "main", tag("main")))
	for _, want := range []string{
		wording.StandingLine(s.Assessment, s.Facts.Inspections), "Inspect by 2 May 2026", "Overdue",
		"Why this date", wording.Reason(s.Assessment), "Source: default of this project",
		"Holds without new facts until 30 June 2026", wording.Settles(s.Assessment.Findings[0]),
	} {
		if !strings.Contains(main, want) {
			t.Errorf("page lacks %q", want)
		}
	}
	won := one(t, doc, "winning candidate", tag("li"), class("won"))
	if got := text(won); !strings.HasPrefix(got, "2 May 2026 counts") {
		t.Errorf("winning candidate reads %q", got)
	}
	if _, open := attr(all(doc, tag("details"))[0], "open"); !open {
		t.Error("the candidates are folded away, want them open")
	}
}

func TestAnchorSaysWhatIsInTheHole(t *testing.T) {
	t.Parallel()
	got := map[string]string{}
	for _, n := range all(story(t, storyOf()), tag("dl")) {
		terms, values := texts(all(n, tag("dt"))), texts(all(n, tag("dd")))
		for i := range terms {
			got[terms[i]] = strings.TrimPrefix(got[terms[i]]+"; "+values[i], "; ")
		}
	}
	want := map[string]string{
		"Form": wording.Label(registry.SingleShank), "Shank": "12 mm", "Overall length": "not known",
		"Set":        "between 1 June and 31 August 2003 (“summer 2003”); summer 2003", // read, and as written
		"Hole width": "14 mm", "Adhesive": "Slow resin", "Batch": "L1709-A", "Landowner": "Invented Estate",
		"Backed up by another anchor": "not known", "Notes": "bit rusty? check <next> time",
	}
	for name, value := range want {
		if got[name] != value {
			t.Errorf("%s: %q, want %q", name, got[name], value)
		}
	}
}

func TestAnchorTellsRecordsNewestFirst(t *testing.T) {
	t.Parallel()
	list := one(t, story(t, storyOf()), "records", tag("ol"), class("records"))
	got := texts(all(list, tag("li")))
	want := []string{
		"Inspected hands-on on 2 May 2025 by A. Example. Seen: loose nut. Verdict: watch. To be inspected again by 2 May 2027. “Nut turned by hand.”",
		"Looked at in passing on 1 April 2019 by A. Example. Taken over from a list, which says “ok”.",
		"First use allowed on 2 July 2003 by A. Example.",
		"Set on 1 July 2003 by A. Example. Hole 14 mm wide. Bonded with Slow resin, batch L1709-A. Rock under the hammer: ringing. Taken over from a list.",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("records (-want +got):\n%s", diff)
	}
}

func TestRecordsKeepTheirOrderWhateverTheFacts(t *testing.T) {
	t.Parallel()
	s := storyOf()
	want, _ := told(s, time.UTC)
	slices.Reverse(s.Facts.Inspections)
	got, _ := told(s, time.UTC)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("records of reversed facts (-want +got):\n%s", diff)
	}
}

func TestCorrectedRecordIsShownAsGone(t *testing.T) {
	t.Parallel()
	s := storyOf()
	wrong := s.Facts.Installations[0]
	right := wrong
	hole := quantity.Length(16)
	right.ID, right.Replaces, right.HoleDiameter = id(50), &wrong.ID, &hole
	s.Facts.Installations = append(s.Facts.Installations, right)
	doc := story(t, s)
	gone := one(t, doc, "record that is gone", tag("li"), class("gone"))
	if got := text(gone); !strings.Contains(got, "Hole 14 mm wide") || !strings.Contains(got, wording.RecordGone) {
		t.Errorf("record that is gone reads %q", got)
	}
	for _, d := range newAnchorPage(frameOf("x"), s, time.UTC).Setting.Said {
		if d.Label == "Hole width" && d.Value != "16 mm" {
			t.Errorf("hole diameter %q, want that of the correction", d.Value)
		}
	}
}

// 23:30 UTC is past midnight in a zone one hour ahead.
func TestAnchorTellsHistoryInTheGroupsZone(t *testing.T) {
	t.Parallel()
	got := texts(all(story(t, storyOf()), class("history-at")))
	want := []string{"3 May 2026, 00:30", "10 January 2025, 10:00"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("history (-want +got):\n%s", diff)
	}
}

func TestRemovedAnchorHasNoDate(t *testing.T) {
	t.Parallel()
	s := storyOf()
	s.Facts.Anchor.Removed, s.Facts.Anchor.RemovedOn = true, calendar.Span{Words: "before the flood"}
	s.Assessment = registry.Assessment{AsOf: theDay, Standing: registry.StandingRemoved}
	doc := story(t, s)
	if got := text(one(t, doc, "verdict", class("verdict"))); strings.Contains(got, "Inspect by") {
		t.Errorf("standing of a removed anchor reads %q", got)
	}
	if n := len(all(doc, has("id", "why"))); n != 0 {
		t.Error("page of a removed anchor says why its date")
	}
	if want := "before the flood"; !strings.Contains(text(doc), want) {
		t.Errorf("page of a removed anchor lacks %q", want)
	}
}

package web

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// seenOn is a line of somebody who saw something that weighs on a day of May 2026
// or, below 1, of April.
func seenOn(d int) registry.ReportLine {
	a := assessmentOf(registry.StandingSuspect, day(2026, time.May, 2), registry.DueSoon)
	a.Findings[0].Values = registry.Values{{Name: "seen_on", Text: day(2026, time.May, d).String()}}
	return lineOf(1, "The Long Way Round", "B2 left", a)
}

// What a tired reader needs first comes first, and what is to be found out last.
func TestTodayOrder(t *testing.T) {
	t.Parallel()
	r := todayReport(12)
	r.New = report.Stretch{Lines: []registry.ReportLine{seenOn(1)}, Total: 1}
	page := newTodayPage(frameOf("Today"), r)
	page.Tasks, page.AllTasks, page.Upcoming = tasksOf(), len(tasksOf()), aroundOf().Restrictions
	want := []string{
		"Anchors in the rock", wording.Unmarked, wording.NewlySeen, "Overdue", "Suspect", "Restrictions about to begin", wording.MarkedOutOfUse,
		"Awaiting the first round", "To find out",
	}
	if diff := cmp.Diff(want, texts(all(draw(t, todayView(page)), tag("h2")))); diff != "" {
		t.Errorf("parts (-want +got):\n%s", diff)
	}
}

// No part looks as though it were all: it says how many there are and leads to
// the rest. One that shows all says nothing of the kind.
func TestTodayShowsTheFirstOfEachList(t *testing.T) {
	t.Parallel()
	r := todayReport(todayRows + 1)
	doc := draw(t, todayView(newTodayPage(frameOf("Today"), r)))
	if got, want := text(one(t, doc, "h1", tag("h1"))), "Today, 3 May 2026"; got != want {
		t.Errorf("heading %q, want %q", got, want)
	}
	for id, href := range map[string]string{
		"out-of-use": "/reports/suspect?show=unmarked", "suspect": "/reports/suspect?show=suspect",
		"overdue": "/reports/overdue?show=overdue", "first-round": "/reports/overdue?show=first-round",
	} {
		part := one(t, doc, id, tag("section"), has("aria-labelledby", id))
		some := one(t, part, "how many there are", class("some"))
		if got, want := text(some), "The first 5 of 6. Show all 6"; !strings.HasPrefix(got, want) {
			t.Errorf("%s says %q, want %q", id, got, want)
		}
		if got, _ := attr(one(t, some, "link", tag("a")), "href"); got != "/g/fell-end"+href {
			t.Errorf("%s leads to %q, want %q", id, got, href)
		}
		if n := len(all(part, class("anchor-row"))); n != todayRows {
			t.Errorf("%s shows %d rows, want %d", id, n, todayRows)
		}
	}
	if n := len(all(draw(t, todayView(newTodayPage(frameOf("Today"), todayReport(todayRows)))), class("some"))); n != 0 {
		t.Errorf("%d parts that show all say that they do not", n)
	}
}

// A row says how many findings it does not name.
func TestTodayCountsTheFindingsItDoesNotName(t *testing.T) {
	t.Parallel()
	l := seenOn(3)
	for _, rule := range []string{"rust", "bond-lost", "worn-far"} {
		l.Assessment.Findings = append(l.Assessment.Findings, registry.Finding{Rule: rule, Severity: registry.Watch})
	}
	if got, want := briefRow("/g/fell-end", l).Findings, []string{"Loose nut; rust; and 2 more."}; cmp.Diff(want, got) != "" {
		t.Errorf("the row says %q, want %q", got, want)
	}
}

// Restrictions after the first, and questions, are folded up under how many they
// are.
func TestTodayFoldsUnderCounts(t *testing.T) {
	t.Parallel()
	page := newTodayPage(frameOf("Today"), todayReport(1))
	for range todayRows + 2 {
		page.Upcoming = append(page.Upcoming, aroundOf().Restrictions[0])
	}
	page.Upcoming, page.Later = firstOf(page.Upcoming, todayRows)
	page.Tasks = append(tasksOf(), tasksOf()...)
	page.AllTasks = len(page.Tasks)
	var got []string
	for _, d := range all(draw(t, todayView(page)), tag("details"), class("fold")) {
		got = append(got, text(one(t, d, "summary", tag("summary"))))
	}
	if diff := cmp.Diff([]string{wording.MoreRestrictions(2), wording.TasksOf(len(page.Tasks))}, got); diff != "" {
		t.Errorf("folds (-want +got):\n%s", diff)
	}
}

// The report names what is folded up beside the worst finding, and gives one that
// is out of use no date to wait for.
func TestFindingRows(t *testing.T) {
	t.Parallel()
	l := seenOn(3)
	l.Assessment.Findings = append(l.Assessment.Findings,
		registry.Finding{Rule: "rust", Severity: registry.Watch}, registry.Finding{Rule: "hole-not-recorded", Severity: registry.Note})
	r := findingRows("/g/fell-end", []registry.ReportLine{l})[0]
	if len(r.Findings) != 1 || len(r.Notes) != 2 || r.foldName() != "Also: rust; 1 thing noted or settled." || r.Due == "" {
		t.Errorf("row %+v, want one finding in full and two under their names", r)
	}
	l.Assessment.Standing = registry.StandingOutOfUse
	if r = findingRows("/g/fell-end", []registry.ReportLine{l})[0]; r.Due != wording.NoDay || r.Reason != "" {
		t.Errorf("out of use, the row says %q, %q, want that no date applies", r.Due, r.Reason)
	}
	l.Assessment.DueState = registry.Overdue
	if r = findingRows("/g/fell-end", []registry.ReportLine{l})[0]; r.Due == "" {
		t.Error("out of use and late, the row has no date")
	}
}

// Where not all questions are asked at once, their count is that of all, and it is
// said that more follow.
func TestTodayAsksTheFirstQuestions(t *testing.T) {
	t.Parallel()
	page := newTodayPage(frameOf("Today"), todayReport(1))
	page.Tasks, page.AllTasks = tasksOf(), 700
	fold := one(t, draw(t, todayView(page)), "questions", tag("details"), class("fold"))
	for _, want := range []string{"700 questions", wording.TasksFollow(len(tasksOf()), 700)} {
		if got := text(fold); !strings.Contains(got, want) {
			t.Errorf("the questions say %q, want %q", got, want)
		}
	}
}

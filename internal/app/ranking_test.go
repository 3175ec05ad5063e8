package app_test

import (
	"context"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// largeHouse has the sample list, two years on: overdue, suspect and out of use.
func largeHouse(t *testing.T) *house {
	t.Helper()
	h := newHouse(t)
	if _, err := h.Import(t.Context(), h.who, h.read(t, "anchor-list.csv"), false); err != nil {
		t.Fatal(err)
	}
	h.turnTo(firstDay.AddYears(2))
	return h
}

// The parts of a report one after the other are the report, today and on another
// day, and Today shows the first lines of each of its lists.
func TestPartsMakeUpTheReport(t *testing.T) {
	t.Parallel()
	h := largeHouse(t)
	for name, ask := range map[string]func(calendar.Date, report.Part) ([]registry.ReportLine, [2]int, error){
		"overdue": func(on calendar.Date, p report.Part) ([]registry.ReportLine, [2]int, error) {
			r, err := h.OverduePart(t.Context(), h.who, on, p)
			return r.Lines, [2]int{r.Overdue, r.FirstRound}, err
		},
		"suspect": func(on calendar.Date, p report.Part) ([]registry.ReportLine, [2]int, error) {
			r, err := h.SuspectPart(t.Context(), h.who, on, p)
			return r.Lines, [2]int{r.OutOfUse, r.Suspect}, err
		},
	} {
		for _, on := range []calendar.Date{0, firstDay.AddYears(1)} {
			whole, counts, err := ask(on, report.Part{})
			if err != nil || len(whole) < 10 || counts[0]+counts[1] != len(whole) {
				t.Fatalf("%s as of %v: %d lines, counts %v, %v; want a report of some length", name, on, len(whole), counts, err)
			}
			var parts []registry.ReportLine
			for from := 0; from < len(whole); from += 7 {
				part, n, err := ask(on, report.Part{From: from, Rows: 7})
				if err != nil || n != counts || len(part) > 7 {
					t.Fatalf("%s as of %v from %d: %d lines, counts %v, %v; want at most 7 and %v", name, on, from, len(part), n, err, counts)
				}
				parts = append(parts, part...)
			}
			if d := cmp.Diff(whole, parts); d != "" {
				t.Errorf("%s as of %v (-whole +parts):\n%s", name, on, d)
			}
		}
	}
}

func TestTodayIsTheFirstOfItsReports(t *testing.T) {
	t.Parallel()
	h := largeHouse(t)
	spins := inspected(h.anchor(t, "B1").ID, firstDay, func(i *registry.Inspection) { i.Observations = []registry.Observation{registry.CrackedMetal} })
	if _, _, err := h.RecordInspection(t.Context(), h.who, spins); err != nil {
		t.Fatal(err)
	}
	late, err := h.Overdue(t.Context(), h.who, 0)
	if err != nil {
		t.Fatal(err)
	}
	doubted, err := h.Suspect(t.Context(), h.who, 0)
	if err != nil {
		t.Fatal(err)
	}
	today, err := h.Today(t.Context(), h.who, 3)
	if err != nil {
		t.Fatal(err)
	}
	bad := doubted.Lines[:doubted.OutOfUse]
	if today.OutOfUse.Total+today.Marked.Total != len(bad) || len(bad) == 0 {
		t.Errorf("%d unmarked and %d marked of %d out of use", today.OutOfUse.Total, today.Marked.Total, len(bad))
	}
	for name, is := range map[string]struct {
		got  report.Stretch
		want []registry.ReportLine
	}{
		"out of use":  {today.OutOfUse, bad[:today.OutOfUse.Total]},
		"marked":      {today.Marked, bad[today.OutOfUse.Total:]},
		"suspect":     {today.Suspect, doubted.Lines[doubted.OutOfUse:]},
		"overdue":     {today.Overdue, late.Lines[:late.Overdue]},
		"first round": {today.FirstRound, late.Lines[late.Overdue:]},
	} {
		want := report.Stretch{Lines: is.want[:min(3, len(is.want))], Total: len(is.want)}
		if is.got.Total != want.Total {
			t.Errorf("%s: %d of them, want %d", name, is.got.Total, want.Total)
		}
		if d := cmp.Diff(labels(want.Lines), labels(is.got.Lines)); d != "" {
			t.Errorf("%s (-report +today):\n%s", name, d)
		}
	}
}

// Something seen counts as new for 30 days (default of this project), if the
// anchor is in doubt and not out of use; as stored, and recomputed for a day.
func TestSuspectSeenLately(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	h.turnTo(firstDay.AddYears(1))
	today := firstDay.AddYears(1)
	for label, record := range map[string]func(*registry.Inspection){
		"B1": func(i *registry.Inspection) { i.DoneOn = calendar.Exactly(today - 30) },
		"B2": func(i *registry.Inspection) { i.DoneOn = calendar.Exactly(today - 31) },
	} {
		seen := inspected(h.anchor(t, label).ID, today, func(i *registry.Inspection) {
			i.Observations = []registry.Observation{registry.CrackedRock}
			record(i)
		})
		if _, _, err := h.RecordInspection(t.Context(), h.who, seen); err != nil {
			t.Fatal(err)
		}
	}
	for on, want := range map[calendar.Date][]string{0: {"B1"}, today - 1: {"B1", "B2"}, today + 1: {}} {
		r, err := h.SuspectPart(t.Context(), h.who, on, report.Part{Show: report.ShowNew, Rows: 10})
		got := labels(r.Lines)
		slices.Sort(got)
		if d := cmp.Diff(want, got); err != nil || d != "" || r.Narrowed != len(want) {
			t.Errorf("as of %v, %d of %d: %v (-want +got):\n%s", on, r.Narrowed, r.Suspect, err, d)
		}
	}
}

// anyAsks is a store in which every anchor may ask for work.
type anyAsks struct{ app.Store }

func (a anyAsks) EachAsking(ctx context.Context, group uuid.UUID, fn func(registry.ReportLine, registry.Facts) error) error {
	return a.EachFacts(ctx, group, fn)
}

// What asks for work is found by the findings as stored: none is missed that
// looking at every anchor finds.
func TestWorkMissesNothing(t *testing.T) {
	t.Parallel()
	h := largeHouse(t)
	want, err := app.New(anyAsks{h.store}, h.now).Work(t.Context(), h.who, 0)
	if err != nil || len(want.Items) < 10 {
		t.Fatalf("%d anchors ask for work, %v; want some", len(want.Items), err)
	}
	h.turnTo(firstDay.AddYears(2) + 1) // what is stored is a day old, and nobody calls Refresh
	want, err = app.New(anyAsks{h.store}, h.now).Work(t.Context(), h.who, 0)
	if err != nil {
		t.Fatal(err)
	}
	got, err := h.Work(t.Context(), h.who, 0)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("work (-of all anchors +of those that ask):\n%s", d)
	}
}

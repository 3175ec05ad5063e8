package app_test

import (
	"context"
	"testing"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// labels lists the positions of a report, in its order.
func labels(lines []registry.ReportLine) []string {
	out := []string{}
	for _, l := range lines {
		out = append(out, l.Place.Label)
	}
	return out
}

func TestOverdueIsNeverStale(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	now, err := h.Overdue(t.Context(), h.who, 0)
	if err != nil || now.FirstRound != 2 || now.Overdue != 0 || now.Heading.Recomputed || now.Heading.AsOf != firstDay {
		t.Fatalf("on the day of entry: %+v, %v; want all but the one that spins awaiting their first round", labels(now.Lines), err)
	}
	h.turnTo(firstDay.AddYears(2)) // and nobody calls Refresh
	later, err := h.Overdue(t.Context(), h.who, 0)
	if err != nil || later.Overdue != 3 || later.FirstRound != 0 {
		t.Fatalf("two years later: %d overdue, %d first round, %v; want 3 and 0", later.Overdue, later.FirstRound, err)
	}
	for i := 1; i < len(later.Lines); i++ {
		a, b := later.Lines[i-1].Assessment, later.Lines[i].Assessment
		if a.DueOn > b.DueOn || a.DueOn == b.DueOn && assess.Less(b, a) {
			t.Errorf("line %d, due on %v, stands after one due on %v", i, b.DueOn, a.DueOn)
		}
	}
	today, err := h.Today(t.Context(), h.as(registry.RoleReader), 10)
	if err != nil || today.Overdue.Total != 3 || today.Counts.ByDueState[registry.Overdue] != 3 {
		t.Errorf("today: %+v, %v; want three overdue", today, err)
	}
}

func TestOverdueAsOfAnotherDay(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	day := firstDay.AddYears(2)
	ahead, err := h.Overdue(t.Context(), h.who, day)
	if err != nil || !ahead.Heading.Recomputed || ahead.Heading.AsOf != day || ahead.Overdue != 3 {
		t.Fatalf("two years ahead: %+v, %v; want three overdue, recomputed", ahead.Heading, err)
	}
	past, err := h.Overdue(t.Context(), h.who, calendar.NewDate(2016, 5, 11))
	if err != nil || len(past.Lines) != 0 {
		t.Errorf("the day before they were set: %v, %v; want none", labels(past.Lines), err)
	}
	h.turnTo(day)
	then, err := h.Overdue(t.Context(), h.who, 0)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := labels(ahead.Lines), labels(then.Lines); len(got) != len(want) || got[0] != want[0] || got[2] != want[2] {
		t.Errorf("seen ahead %v, on the day %v", got, want)
	}
}

func TestSuspect(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	cracked := inspected(h.anchor(t, "B2").ID, firstDay, func(i *registry.Inspection) {
		i.Observations = []registry.Observation{registry.CrackedMetal}
	})
	if _, _, err := h.RecordInspection(t.Context(), h.who, cracked); err != nil {
		t.Fatal(err)
	}
	r, err := h.Suspect(t.Context(), h.who, 0)
	if err != nil || r.OutOfUse != 1 || r.Suspect != 1 {
		t.Fatalf("suspect: %v, %v; want one out of use (cracked metal) and one suspect (spins)", labels(r.Lines), err)
	}
	if got := labels(r.Lines); got[0] != "B2" || got[1] != "B3" {
		t.Errorf("order %v, want the worst first", got)
	}
	before, err := h.Suspect(t.Context(), h.who, firstDay-1)
	if err != nil || before.OutOfUse != 0 || len(before.Lines) != 1 {
		t.Errorf("the day before: %v, %v; want the imported state alone", labels(before.Lines), err)
	}
}

func TestReportsReject(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	overdue := func(ctx context.Context, who registry.Actor, day calendar.Date) error {
		_, err := h.Overdue(ctx, who, day)
		return err
	}
	suspect := func(ctx context.Context, who registry.Actor, day calendar.Date) error {
		_, err := h.Suspect(ctx, who, day)
		return err
	}
	for name, ask := range map[string]func(context.Context, registry.Actor, calendar.Date) error{"overdue": overdue, "suspect": suspect} {
		for _, day := range []calendar.Date{firstDay.AddYears(50) + 1, calendar.NewDate(1899, 12, 31)} {
			if err := ask(t.Context(), h.who, day); fault.KindOf(err) != fault.Invalid || err == nil {
				t.Errorf("%s as of %v: %v, want invalid", name, day, err)
			}
		}
		if err := ask(t.Context(), h.as("visitor"), 0); fault.KindOf(err) != fault.Forbidden {
			t.Errorf("%s for no member: %v, want forbidden", name, err)
		}
	}
}

func TestReportsOfNothing(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	today, err := h.Today(t.Context(), h.who, 10)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []report.Stretch{today.OutOfUse, today.Suspect, today.Overdue, today.FirstRound} {
		if len(s.Lines) != 0 || s.Total != 0 {
			t.Errorf("an empty register shows %v of %d", labels(s.Lines), s.Total)
		}
	}
	if today.Heading.RulesVersion == 0 {
		t.Errorf("heading %+v names no house rules", today.Heading)
	}
}

func TestRefresh(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	stale := func() int {
		ids, err := h.store.Stale(t.Context(), h.who.GroupID, assess.Engine, h.AsOf(h.who), 10)
		if err != nil {
			t.Fatal(err)
		}
		return len(ids)
	}
	if n := stale(); n != 0 {
		t.Errorf("%d stale after the import, want none", n)
	}
	h.turnTo(firstDay.AddYears(2))
	if n := stale(); n != 3 {
		t.Errorf("%d stale two years later, want 3", n)
	}
	if err := h.Refresh(t.Context()); err != nil {
		t.Fatal(err)
	}
	if n := stale(); n != 0 {
		t.Errorf("%d stale after a refresh, want none", n)
	}
	for _, l := range h.anchors(t, registry.AnchorFilter{}) {
		if l.DueState != registry.Overdue {
			t.Errorf("%s is %q, want overdue", l.Label, l.DueState)
		}
	}
}

func TestRefreshGoesOnPastABrokenGroup(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	broken := h.who
	h.enter(t, smallList)
	h.who = h.addGroup(t, "other-anchors")
	h.enter(t, smallList)
	if _, err := h.db.Owner().Exec(t.Context(), `UPDATE house_rules SET rules = '{}' WHERE group_id = $1`, broken.GroupID); err != nil {
		t.Fatal(err)
	}
	h.turnTo(firstDay.AddYears(2))
	if err := h.Refresh(t.Context()); err == nil {
		t.Error("Refresh = nil, want the broken group's error")
	}
	for _, l := range h.anchors(t, registry.AnchorFilter{}) {
		if l.DueState != registry.Overdue {
			t.Errorf("%s of the sound group is %q, want overdue", l.Label, l.DueState)
		}
	}
}

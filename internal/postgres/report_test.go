package postgres_test

import (
	"bytes"
	"errors"
	"slices"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// standings is a register of one anchor per kind of standing and due state.
func standings(t *testing.T) (*register, map[string]uuid.UUID, map[uuid.UUID]registry.Assessment) {
	t.Helper()
	r, s := newRegister(t), newScene()
	ch := s.change()
	byName := map[string]uuid.UUID{"fine": s.anchor.ID}
	given := map[uuid.UUID]registry.Assessment{s.anchor.ID: s.assessment}
	for name, edit := range map[string]func(*registry.Assessment){
		"late": func(a *registry.Assessment) { a.DueOn, a.DueState = sample.Day.AddDays(-1), registry.Overdue },
		"due today": func(a *registry.Assessment) {
			a.DueOn, a.DueState = sample.Day, registry.DueSoon
		},
		"first round": func(a *registry.Assessment) { a.DueState = registry.AwaitingFirstRound },
		"suspect":     func(a *registry.Assessment) { a.Standing = registry.StandingSuspect },
		"not in use":  func(a *registry.Assessment) { a.Standing, a.Band = registry.NotInUseYet, registry.BandWhenPassing },
		"recalled":    func(a *registry.Assessment) { a.Standing, a.Band = registry.NotInUseYet, registry.BandThisSeason },
		"out of use":  func(a *registry.Assessment) { a.Standing = registry.StandingOutOfUse },
		"removed": func(a *registry.Assessment) {
			*a = registry.Assessment{AnchorID: a.AnchorID, SiteID: a.SiteID, AsOf: a.AsOf, Standing: registry.StandingRemoved, Engine: 1, RulesVersion: 1}
		},
	} {
		a := sample.Anchor(s.position)
		x := sample.Assessment(a, edit)
		byName[name], given[a.ID] = a.ID, x
		ch.Anchors, ch.Assessments = append(ch.Anchors, a), append(ch.Assessments, x)
	}
	r.enter(t, ch)
	return r, byName, given
}

func checkLines(t *testing.T, lines []registry.ReportLine, given map[uuid.UUID]registry.Assessment, want ...uuid.UUID) {
	t.Helper()
	wanted := make(map[uuid.UUID]bool)
	for _, id := range want {
		wanted[id] = true
	}
	for _, l := range lines {
		id := l.Place.Anchor.ID
		if !wanted[id] {
			t.Errorf("line of anchor %v, which does not belong there", id)
		}
		delete(wanted, id)
		if d := diff(given[id], l.Assessment); d != "" {
			t.Errorf("assessment differs (-want +got):\n%s", d)
		}
		if l.Place.Site != "Example Crag" || l.Landowner != "Invented Estate" {
			t.Errorf("line at %q of %q, want Example Crag of Invented Estate", l.Place.Site, l.Landowner)
		}
	}
	if len(wanted) > 0 {
		t.Errorf("lines lack %v", wanted)
	}
}

func TestReportLines(t *testing.T) {
	t.Parallel()
	r, id, given := standings(t)
	late, err := r.store.OverdueLines(t.Context(), r.group.ID, sample.Day)
	if err != nil {
		t.Fatal(err)
	}
	checkLines(t, late, given, id["late"], id["first round"])
	later, err := r.store.OverdueLines(t.Context(), r.group.ID, sample.Day.AddDays(1))
	if err != nil {
		t.Fatal(err)
	}
	checkLines(t, later, given, id["late"], id["first round"], id["due today"])
	suspect, err := r.store.SuspectLines(t.Context(), r.group.ID)
	if err != nil {
		t.Fatal(err)
	}
	checkLines(t, suspect, given, id["suspect"], id["recalled"], id["out of use"])
	some, err := r.store.Lines(t.Context(), r.group.ID, []uuid.UUID{id["suspect"], uuid.New(), id["late"]})
	if err != nil {
		t.Fatal(err)
	}
	checkLines(t, some, given, id["suspect"], id["late"])
}

// Ranks are the assessments of the lines, but for what they say and when they
// were made.
func TestRanksAreThoseOfTheLines(t *testing.T) {
	t.Parallel()
	r, _, _ := standings(t)
	late, err := r.store.OverdueLines(t.Context(), r.group.ID, sample.Day)
	check(t, err)
	ranks, err := r.store.OverdueRanks(t.Context(), r.group.ID, sample.Day)
	check(t, err)
	checkRanks(t, "overdue", late, ranks)
	suspect, err := r.store.SuspectLines(t.Context(), r.group.ID)
	check(t, err)
	ranks, err = r.store.SuspectRanks(t.Context(), r.group.ID)
	check(t, err)
	checkRanks(t, "suspect", suspect, ranks)
}

func checkRanks(t *testing.T, name string, lines []registry.ReportLine, got []registry.Assessment) {
	t.Helper()
	var want []registry.Assessment
	for _, l := range lines {
		a := l.Assessment
		want = append(want, registry.Assessment{
			AnchorID: a.AnchorID, Standing: a.Standing, DueOn: a.DueOn, SoonestOn: a.SoonestOn, DueState: a.DueState,
			Band: a.Band, BandReason: a.BandReason, Consequence: a.Consequence, OldestOn: a.OldestOn,
		})
	}
	byID := func(a, b registry.Assessment) int { return bytes.Compare(a.AnchorID[:], b.AnchorID[:]) }
	slices.SortFunc(want, byID)
	slices.SortFunc(got, byID)
	if d := diff(want, got); len(got) == 0 || d != "" {
		t.Errorf("%s: ranks differ from the lines (-lines +ranks):\n%s", name, d)
	}
}

func TestCounts(t *testing.T) {
	t.Parallel()
	r, _, _ := standings(t)
	got, err := r.store.Counts(t.Context(), r.group.ID, sample.Day)
	if err != nil {
		t.Fatal(err)
	}
	want := registry.Counts{
		ByStanding: map[registry.Standing]int{registry.NoProblem: 4, registry.StandingSuspect: 1, registry.NotInUseYet: 2, registry.StandingOutOfUse: 1},
		ByDueState: map[registry.DueState]int{registry.NotDue: 5, registry.DueSoon: 1, registry.Overdue: 1, registry.AwaitingFirstRound: 1},
	}
	if d := diff(want, got); d != "" {
		t.Errorf("Counts() differs (-want +got):\n%s", d)
	}
}

func TestEachFacts(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	ch := s.change()
	for range 1100 { // more than one stride
		ch.Anchors = append(ch.Anchors, sample.Anchor(s.position))
	}
	r.enter(t, ch)
	var last uuid.UUID
	n := 0
	err := r.store.EachFacts(t.Context(), r.group.ID, func(line registry.ReportLine, facts registry.Facts) error {
		if id := facts.Anchor.ID; id != line.Place.Anchor.ID || n > 0 && id.String() <= last.String() {
			t.Errorf("facts of %v with the line of %v after %v", id, line.Place.Anchor.ID, last)
		}
		if facts.Anchor.ID == s.anchor.ID {
			if d := diff(s.facts(), facts); d != "" {
				t.Errorf("facts differ (-want +got):\n%s", d)
			}
		}
		last = facts.Anchor.ID
		n++
		return nil
	})
	if err != nil || n != 1101 {
		t.Errorf("EachFacts() = %v after %d anchors, want nil after 1101", err, n)
	}
	sentinel := errors.New("enough")
	err = r.store.EachFacts(t.Context(), r.group.ID, func(registry.ReportLine, registry.Facts) error { return sentinel })
	if err != sentinel { //nolint:errorlint // it must be the very error
		t.Errorf("EachFacts() = %v, want the error of fn as it is", err)
	}
}

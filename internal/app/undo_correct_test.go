package app_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// said is what counts of an anchor now, without versions and without the ids of
// what was made anew to put it back.
func said(s registry.AnchorStory, landowner string) []string {
	f := s.Facts.Current()
	a := f.Anchor
	out := []string{
		fmt.Sprint(a.Form, a.FormWords, a.Metal, a.MetalWords, a.Notes, a.SetOn, a.Removed, a.RemovedOn),
		fmt.Sprint(length(a.Shank), length(a.Length), f.Position.Role, f.HasHanger(firstDay), landowner),
	}
	for _, i := range f.Installations {
		out = append(out, "set "+i.ID.String())
	}
	for _, i := range f.Inspections {
		out = append(out, "seen "+i.ID.String())
	}
	for _, i := range f.Removals {
		out = append(out, "removed "+i.ID.String())
	}
	return out
}

func length(l *quantity.Length) string {
	if l == nil {
		return "?"
	}
	return fmt.Sprint(l.Millimetres())
}

// Undoing a correcting list puts every cell back to what the list before had,
// after which that list can be undone too.
func TestUndoCorrection(t *testing.T) {
	t.Parallel()
	for name, edits := range map[string][]string{
		"everything of the anchor":     {"Type", "wedge anchor with hanger", "Steel", "1.4404", "Dia", "12", "Notes", "drips", "Fitted", "2014"},
		"all of its setting":           {"Hole", "14", "Glue", "resin two", "Batch", "L2", "By", "Bo Y.", "Fitted", ""},
		"the landowner":                {"Landowner", "Hill Farm"},
		"a sight told otherwise":       {"State", "spins"},
		"a later sight":                {"State", "spins", "Last checked", "2024"},
		"a sight taken back":           {"State", "", "Last checked", ""},
		"removed":                      {"State", "removed"},
		"replaced, with one that came": {"State", "replaced 2020, spins"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			h := newHouse(t)
			a := h.take(t, list(line("B1"), line("B2")), false)
			id := h.anchor(t, "B1").ID
			now := func() []string {
				s, err := h.AnchorStory(t.Context(), h.who, id)
				if err != nil {
					t.Fatal(err)
				}
				return said(s, s.Landowner)
			}
			want, standing := now(), h.holdings(t, h.who)
			csv := list(line("B1", edits...), line("B2"))
			for range 2 { // it may be entered again, and undone again
				b := h.take(t, csv, false)
				if b.Changed != 1 {
					t.Fatalf("corrected: %+v", b)
				}
				h.undo(t, b)
				if d := cmp.Diff(want, now()); d != "" {
					t.Errorf("once undone (-before +after):\n%s", d)
				}
				if d := cmp.Diff(standing, h.holdings(t, h.who)); d != "" {
					t.Errorf("standings once undone (-before +after):\n%s", d)
				}
			}
			if r := h.take(t, list(line("B1"), line("B2")), false); r.Unchanged != 2 {
				t.Errorf("the list before, again: %+v, want both unchanged", r)
			}
			if got, err := h.VerifyLedger(t.Context(), h.who, ""); err != nil || len(got.Faults) > 0 {
				t.Errorf("the ledger: %+v, %v", got.Faults, err)
			}
			h.undo(t, a)
			if owners, _ := h.holding(t); len(owners) != 0 {
				t.Errorf("landowners %q are left", owners)
			}
		})
	}
}

// refusals are what stands in the way of undoing, in words.
func refusals(t *testing.T, err error) []string {
	t.Helper()
	f, ok := fault.As(err)
	if !ok || f.Kind != fault.Conflict {
		t.Fatalf("undo: %v, want conflict", err)
	}
	var out []string
	for _, v := range f.Violations {
		out = append(out, wording.Violation(v))
	}
	return out
}

// A list that was corrected names the one that did, which goes first.
func TestUndoNamesLaterList(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	a := h.take(t, list(line("B1"), line("B2")), false)
	b := h.take(t, list(line("B1", "State", "spins"), line("B2", "Dia", "12")), false)
	c := h.take(t, list(line("B1", "State", "spins"), line("B2", "Dia", "14")), false)
	for i, r := range []struct {
		undone, first string
	}{{a.ID, c.ID}, {b.ID, c.ID}} {
		_, _, err := h.UndoImport(t.Context(), h.who, uuid.MustParse(r.undone))
		got := refusals(t, err)
		if !slices.ContainsFunc(got, func(s string) bool {
			return strings.Contains(s, r.first) && strings.Contains(s, "“small.csv”") && strings.Contains(s, "November 2026") && strings.Contains(s, "Undo that one first")
		}) || strings.Contains(strings.Join(got, " "), "inspection") {
			t.Errorf("%d: in the way %q, want the list %s", i, got, r.first)
		}
	}
	h.undo(t, c)
	h.undo(t, b)
	h.undo(t, a)
}

// What somebody changed since stands in the way, with a remedy that works.
func TestUndoCorrectionChangedSince(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, list(line("B1")), false)
	b := h.take(t, list(line("B1", "Dia", "12", "State", "spins")), false)
	shank := func(mm quantity.Length) {
		a := h.anchor(t, "B1")
		if _, err := h.ChangeAnchor(t.Context(), h.who, a.ID, a.Version, func(a *registry.Anchor) error { a.Shank = &mm; return nil }); err != nil {
			t.Fatal(err)
		}
	}
	shank(16)
	story := h.story(t, "B1")
	spins := story.Facts.Current().Inspections[0].ID
	fix := inspected(story.Facts.Anchor.ID, firstDay, func(i *registry.Inspection) {
		i.Replaces, i.Observations = &spins, []registry.Observation{registry.Spins, registry.Rust}
	})
	_, _, err := h.RecordInspection(t.Context(), h.who, fix)
	if err != nil {
		t.Fatal(err)
	}
	got := strings.Join(refusals(t, h.tryUndo(t, b)), "\n")
	for _, want := range []string{"diameter", "“16 mm”", "(10 mm)", "inspection was recorded"} {
		if !strings.Contains(got, want) {
			t.Errorf("in the way:\n%s\nwant %q", got, want)
		}
	}
	shank(10)
	retract(t, h, story.Facts.Anchor.ID, fix.ID)
	h.undo(t, b)
	if f := h.story(t, "B1").Facts.Current(); len(f.Inspections) != 1 || len(f.Inspections[0].Observations) != 0 || *f.Anchor.Shank != 10 {
		t.Errorf("once undone: %+v", f)
	}
}

// A sight of one's own does not stand in the way, and stays.
func TestUndoCorrectionLeavesRecords(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, list(line("B1")), false)
	b := h.take(t, list(line("B1", "Dia", "12", "State", "spins")), false)
	own := inspected(h.anchor(t, "B1").ID, firstDay, func(i *registry.Inspection) { i.Verdict = registry.TakeOutOfUse })
	if _, _, err := h.RecordInspection(t.Context(), h.who, own); err != nil {
		t.Fatal(err)
	}
	h.undo(t, b)
	if s := h.story(t, "B1"); s.Assessment.Standing != registry.StandingOutOfUse {
		t.Errorf("condemned by a person, it stands %q once the list is undone", s.Assessment.Standing)
	}
}

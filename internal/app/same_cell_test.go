package app_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/metal"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// counted are the counts of a report that tell one file from another.
func counted(r report.Import) map[string]int {
	out := map[string]int{
		"entered": r.Entered, "changed": r.Changed, "clashes": r.Clashes, "refused": r.Refused,
		"duplicates": r.Duplicates, "unchanged": r.Unchanged,
	}
	for name, n := range out {
		if n == 0 {
			delete(out, name)
		}
	}
	return out
}

func wantCounts(t *testing.T, what string, r report.Import, want map[string]int) {
	t.Helper()
	if d := cmp.Diff(want, counted(r)); d != "" {
		t.Errorf("%s (-want +got):\n%s", what, d)
	}
}

// A file that was entered before undoes nothing of what a later list brought.
func TestOldFileUndoesNothing(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	first := list(line("B1"), line("B2"), line("B3"))
	second := list(line("B1", "Steel", "1.4404"), line("B2", "State", "spins", "Last checked", "2024"), line("B3", "State", "removed"))
	h.take(t, first, false)
	wantCounts(t, "a corrected list", h.take(t, second, false), map[string]int{"changed": 3})
	old := h.take(t, first, false)
	wantCounts(t, "the first one again", old, map[string]int{"clashes": 1, "unchanged": 1, "refused": 1})
	if c := old.ClashingCells[0]; c.Field != "metal" || c.From != "1.4404" || c.To != "1.4401" || c.Register != "1.4404" {
		t.Errorf("clash %+v", c)
	}
	if got := h.anchor(t, "B1").Metal; !got.Equal(metal.Set{"1.4404"}) {
		t.Errorf("metal %v, want the second list's", got)
	}
	if n := len(h.story(t, "B2").Facts.Current().Inspections); n != 2 {
		t.Errorf("%d inspections, want both lists'", n)
	}
	back := list(line("B1"), line("B2", "State", "spins", "Last checked", "2024"), line("B3", "State", "removed"))
	wantCounts(t, "a new list that goes back", h.take(t, back, false), map[string]int{"changed": 1, "unchanged": 2})
}

// What a person changed since, a list that once was told so does not make the
// list's own.
func TestChangedByPersonStays(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	first := list(line("B1"))
	h.take(t, first, false)
	a := h.anchor(t, "B1")
	if _, err := h.ChangeAnchor(t.Context(), h.who, a.ID, a.Version, func(a *registry.Anchor) error {
		a.Metal = metal.Set{"1.4462"}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	for _, own := range []bool{true, false} {
		given := h.export(t, h.who, registry.ListAsk{Own: own})
		wantCounts(t, "given back", h.take(t, given, false), map[string]int{"unchanged": 1})
		if r := h.take(t, given, false); r.Unchanged != 1 || r.ID != "" {
			t.Errorf("given back twice: %+v, want nothing kept", r)
		}
		wantCounts(t, "the first list again", h.take(t, first, false), map[string]int{"unchanged": 1})
		wantCounts(t, "another metal", h.take(t, list(line("B1", "Steel", "A2")), false), map[string]int{"clashes": 1})
		wantCounts(t, "another metal beside another note", h.take(t, list(line("B1", "Steel", "A2", "Notes", "drips")), true),
			map[string]int{"changed": 1})
	}
	if got := h.anchor(t, "B1").Metal; !got.Equal(metal.Set{"1.4462"}) {
		t.Errorf("metal %v, want the person's", got)
	}
}

// A column that a list does not have says nothing.
func TestColumnsLeftOut(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, list(line("B1", "Dia", "10 mm x 90 mm", "State", "rusty"), line("B2", "State", "removed"), line("B3", "Dia", "10 x 90")), false)
	const few = "Crag;Route;Bolt;"
	at := func(bolt string) string { return "Tarn Edge;Plum Line;" + bolt + ";" }
	for _, c := range []struct{ name, csv string }{
		{"all but the place", few + "Fitted\n" + at("B1") + "2012\n" + at("B2") + "2012\n"},
		{"the state", few + "Last checked\n" + at("B1") + "2019\n" + at("B2") + "2019\n"},
		{"the day of the check", few + "State\n" + at("B1") + "rusty\n" + at("B2") + "removed\n"},
	} {
		wantCounts(t, "without "+c.name, h.take(t, c.csv, true), map[string]int{"unchanged": 2})
	}
	wantCounts(t, "a later check, of which the state is left out", h.take(t, few+"Last checked\n"+at("B1")+"2025\n", false), map[string]int{"changed": 1})
	now := h.story(t, "B1").Facts.Current().Inspections
	if len(now) != 2 || len(now[1].Observations) != 0 {
		t.Errorf("inspections %+v, want a second one that saw nothing", now)
	}
	wantCounts(t, "another state, of which the day is left out", h.take(t, few+"State\n"+at("B3")+"spins\n", false), map[string]int{"changed": 1})
	if seen := h.story(t, "B3").Facts.Current().Inspections; len(seen) != 1 || seen[0].DoneOn.Words != "2019" {
		t.Errorf("inspections %+v, want the one of 2019 told otherwise", seen)
	}
	wantCounts(t, "then the metal", h.take(t, few+"Steel\n"+at("B3")+"1.4404\n", true), map[string]int{"changed": 1})
	h.take(t, few+"Dia\n"+at("B3")+"10 mm\n", false)
	if got := h.anchor(t, "B3").Length; got != nil {
		t.Errorf("length %v, want none: the list had it with the diameter, and has it no longer", got)
	}
}

// A row about an anchor that came from no list is refused by the cell that says
// something else, and what the register says is told.
func TestUnlistedNamesTheCell(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, list(line("B1", "State", "replaced 2020")), false)
	text := h.export(t, h.who, registry.ListAsk{})
	wantCounts(t, "as given out", h.take(t, text, true), map[string]int{"unchanged": 2})
	rows := strings.Split(text, "\n")
	at := 1
	if strings.Contains(rows[1], "staple") {
		at = 2
	}
	id := h.living(t)
	r := h.take(t, "site,position,metal,set_on,state,id\nTarn Edge,B1,A4,2020,,"+id+"\n", true)
	if len(r.Refusals) != 1 {
		t.Fatalf("report %+v of %q, want one refusal", r, rows[at])
	}
	want := registry.Doubt{
		Line: 2, Column: "metal", Text: "A4", Code: registry.RefusedNotFromList,
		Values: registry.Values{{Name: "register", Text: ""}},
	}
	if d := cmp.Diff(want, r.Refusals[0]); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	for field, csv := range map[string]string{
		"state":          "site,position,state,id\nTarn Edge,B1,spins," + id + "\n",
		"last_inspected": "site,position,last_inspected,id\nTarn Edge,B1,2021," + id + "\n",
		"position":       "site,position,id\nTarn Edge,B7," + id + "\n",
	} {
		if r := h.take(t, csv, true); len(r.Refusals) != 1 || r.Refusals[0].Column != field {
			t.Errorf("refusals %+v, want one of %s", r.Refusals, field)
		}
	}
}

// living is the id of the one anchor that is in the rock.
func (h *house) living(t *testing.T) string {
	t.Helper()
	for _, l := range h.anchors(t, registry.AnchorFilter{}) {
		if !l.Anchor.Removed {
			return l.Anchor.ID.String()
		}
	}
	t.Fatal("no anchor is in the rock")
	return ""
}

// A list's own word for what was seen does not hide what a person decided.
func TestOwnWordsTellTheVerdict(t *testing.T) {
	t.Parallel()
	for verdict, want := range map[registry.Verdict]string{"": "very rusty", registry.Keep: "very rusty", registry.KeepWatching: "watch, rusty"} {
		h := newHouse(t)
		h.take(t, list(line("B1", "State", "very rusty")), false)
		_, _, err := h.RecordInspection(t.Context(), h.who, inspected(h.anchor(t, "B1").ID, firstDay, func(i *registry.Inspection) {
			i.Verdict, i.Observations = verdict, []registry.Observation{registry.Rust}
		}))
		if err != nil {
			t.Fatal(err)
		}
		given := h.export(t, h.who, registry.ListAsk{Own: true})
		if !strings.Contains(given, ";"+want+";") {
			t.Errorf("verdict %q: %q, want %q", verdict, given, want)
		}
		wantCounts(t, "given back", h.take(t, given, true), map[string]int{"unchanged": 1})
	}
}

// Capitals in the names of a spot make no second row of it.
func TestRowsThatDifferInCapitals(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	r := h.take(t, list(line("B1"), line("b1", "Crag", "tarn  EDGE", "Route", "PLUM line"), line("b1", "Notes", "Dry")), true)
	wantCounts(t, "one spot three times", r, map[string]int{"entered": 1, "duplicates": 1, "refused": 1})
}

// A place that was renamed here is known by its old name from the list, and by its
// new one.
func TestRenamedPlace(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, list(line("B1"), line("B2")), false)
	sites, err := h.Sites(t.Context(), h.who, registry.Page{Limit: 10})
	if err != nil {
		t.Fatal(err)
	}
	s := sites[0]
	if _, err := h.ChangeSite(t.Context(), h.who, s.ID, s.Version, func(s *registry.Site) error { s.Name = "Tarn Rim"; return nil }); err != nil {
		t.Fatal(err)
	}
	wantCounts(t, "given back", h.take(t, h.export(t, h.who, registry.ListAsk{}), false), map[string]int{"unchanged": 2})
	wantCounts(t, "under the old name", h.take(t, list(line("B1"), line("B2", "Notes", "drips")), false), map[string]int{"changed": 1, "unchanged": 1})
	wantCounts(t, "at another spot", h.take(t, strings.ReplaceAll(h.export(t, h.who, registry.ListAsk{}), "Tarn Rim", "Elsewhere"), true), map[string]int{"refused": 2})
}

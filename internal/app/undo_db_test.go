package app_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

func TestUndoImport(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	sample := h.read(t, "anchor-list.csv")
	first, err := h.Import(t.Context(), h.who, sample, false)
	if err != nil {
		t.Fatal(err)
	}
	done, _, err := h.UndoImport(t.Context(), h.who, uuid.MustParse(first.ID))
	if err != nil {
		t.Fatal(err)
	}
	if done.Anchors != first.Entered+first.Successors || done.Records == 0 || done.Places <= first.Entered || done.FileName != "anchor-list.csv" {
		t.Errorf("undone %+v after %d entered and %d successors", done, first.Entered, first.Successors)
	}
	if n := len(h.anchors(t, registry.AnchorFilter{})); n != 0 {
		t.Errorf("%d anchors are still listed", n)
	}
	for _, asOf := range []calendar.Date{0, firstDay - 30} {
		late, err := h.Overdue(t.Context(), h.who, asOf)
		if err != nil || len(late.Lines) != 0 {
			t.Errorf("overdue on %v: %d lines, %v", asOf, len(late.Lines), err)
		}
	}
	if _, _, err := h.UndoImport(t.Context(), h.who, uuid.MustParse(first.ID)); fault.KindOf(err) != fault.Conflict {
		t.Errorf("undone again: %v, want conflict", err)
	}
	again, err := h.Import(t.Context(), h.who, sample, false)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(sampleFirst, countsOf(again)); d != "" {
		t.Errorf("counts once entered again (-want +got):\n%s", d)
	}
	notWallOfRed(t, h)
}

func TestUndoImportRejects(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	first := h.take(t, list(line("B1"), line("B2")), false)
	id := uuid.MustParse(first.ID)
	if _, _, err := h.UndoImport(t.Context(), h.as(registry.RoleRecorder), id); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("by a recorder: %v, want forbidden", err)
	}
	if _, _, err := h.UndoImport(t.Context(), h.who, uuid.New()); fault.KindOf(err) != fault.NotFound {
		t.Errorf("of no import: %v, want not found", err)
	}
	other := h.addGroup(t, "other-anchors")
	if _, _, err := h.UndoImport(t.Context(), other, id); fault.KindOf(err) != fault.NotFound {
		t.Errorf("by another group: %v, want not found", err)
	}
	b1 := h.anchor(t, "B1").ID
	seen := inspected(b1, firstDay, nil)
	if _, _, err := h.RecordInspection(t.Context(), h.who, seen); err != nil {
		t.Fatal(err)
	}
	refuses(t, h, id, "inspection")
	worked := registry.Maintenance{Record: seen.Record, Done: []registry.Upkeep{registry.Cleaned}}
	marked := registry.Marking{Record: seen.Record, How: []registry.MarkingHow{registry.MarkedTape}}
	worked.ID, marked.ID = uuid.Must(uuid.NewV7()), uuid.Must(uuid.NewV7())
	if _, _, err := h.RecordMaintenance(t.Context(), h.who, worked, nil); err != nil {
		t.Fatal(err)
	}
	if _, _, err := h.RecordMarking(t.Context(), h.who, marked); err != nil {
		t.Fatal(err)
	}
	refuses(t, h, id, "inspection", "maintenance", "marking")
	second := h.take(t, list(line("B2", "Notes", "drips"), line("B3")), false)
	refuses(t, h, id, "inspection", "list", "maintenance", "marking")
	h.undo(t, second)
	refuses(t, h, id, "inspection", "maintenance", "marking")
}

func refuses(t *testing.T, h *house, id uuid.UUID, want ...string) {
	t.Helper()
	_, _, err := h.UndoImport(t.Context(), h.who, id)
	e, ok := fault.As(err)
	if !ok || e.Kind != fault.Conflict || e.Code != fault.InUse {
		t.Fatalf("undo: %v, want conflict, in use", err)
	}
	var got []string
	for _, v := range e.Violations {
		got = append(got, v.Values["what"])
		if what := v.Values["what"]; what != "assembly" && what != "list" && v.Values["place"] == "" {
			t.Errorf("in the way %+v, want its place named", v.Values)
		}
	}
	slices.Sort(got)
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("in the way (-want +got):\n%s", d)
	}
}

// A record that was taken back stands no longer in the way, and what others
// use stays.
func TestUndoImportLeavesOthers(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, list(line("B1")), false)
	second := h.take(t, list(line("B2"), line("B3", "Crag", "Fell End")), false)
	b2 := h.anchor(t, "B2").ID
	seen := inspected(b2, firstDay, nil)
	if _, _, err := h.RecordInspection(t.Context(), h.who, seen); err != nil {
		t.Fatal(err)
	}
	retract(t, h, b2, seen.ID)
	if _, _, err := h.UndoImport(t.Context(), h.who, uuid.MustParse(second.ID)); err != nil {
		t.Fatal(err)
	}
	sites, err := h.Sites(t.Context(), h.who, registry.Page{Limit: 10})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sites {
		if ended := !s.EndedOn.IsZero(); ended != (s.Name == "Fell End") {
			t.Errorf("site %q ended: %v", s.Name, ended)
		}
	}
	if got := h.anchors(t, registry.AnchorFilter{}); len(got) != 1 || got[0].Label != "B1" {
		t.Errorf("anchors %+v, want B1 alone", got)
	}
}

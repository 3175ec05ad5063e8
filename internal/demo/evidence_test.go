package demo_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"rockledger/internal/registry"
)

// The log, replayed to its end, is the register: of every anchor of the
// scenario it gives the facts, routes and names that the tables hold.
func TestLogIsTheRegister(t *testing.T) {
	t.Parallel()
	service, who := filled(t, noon)
	lines, err := service.Anchors(t.Context(), who, registry.AnchorFilter{}, registry.Page{Limit: 500})
	if err != nil || len(lines) == 0 {
		t.Fatalf("%d anchors, %v", len(lines), err)
	}
	glued, placed := 0, 0
	for _, l := range lines {
		story, err := service.AnchorStory(t.Context(), who, l.Anchor.ID)
		if err != nil {
			t.Fatal(err)
		}
		e, err := service.Evidence(t.Context(), who, l.Anchor.ID, service.AsOf(who))
		if err != nil {
			t.Fatal(err)
		}
		want, got := story, e.Log.Now
		want.Assessment, want.Landowner, want.Others = registry.Assessment{}, "", nil // the log's story has none
		got.Assessment, got.Others = registry.Assessment{}, nil
		if diff := cmp.Diff(want, got, unordered()...); diff != "" {
			t.Fatalf("anchor %v (-tables +log):\n%s", l.Anchor.ID, diff)
		}
		if len(want.Facts.Sessions) > 0 {
			glued++
		}
		if len(want.Facts.Environments) > 0 {
			placed++
		}
	}
	if glued == 0 || placed == 0 {
		t.Errorf("%d anchors set in sessions, %d with an environment: want some of each", glued, placed)
	}
}

// unordered takes facts in any order, which means nothing, and the values of a
// rule too, which the log keeps in the order of their names.
func unordered() []cmp.Option {
	return []cmp.Option{
		cmpopts.EquateEmpty(),
		byID(func(r registry.Installation) string { return r.ID.String() }),
		byID(func(r registry.Inspection) string { return r.ID.String() }),
		byID(func(r registry.Maintenance) string { return r.ID.String() }),
		byID(func(r registry.Marking) string { return r.ID.String() }),
		byID(func(r registry.Cure) string { return r.ID.String() }),
		byID(func(r registry.FirstUse) string { return r.ID.String() }),
		byID(func(r registry.Settlement) string { return r.ID.String() }),
		byID(func(r registry.Retraction) string { return r.ID.String() }),
		byID(func(r registry.Fitting) string { return r.ID.String() }),
		byID(func(r registry.GluingSession) string { return r.ID.String() }),
		byID(func(r registry.ProductVersion) string { return r.ID.String() }),
		byID(func(r registry.Batch) string { return r.ID.String() }),
		byID(func(r registry.Environment) string { return r.ID.String() }),
		byID(func(r registry.Event) string { return r.ID.String() }),
		byID(func(r registry.Notice) string { return r.ID.String() }),
		byID(func(r registry.Route) string { return r.ID.String() }),
		cmpopts.SortSlices(func(a, b registry.Value) bool { return a.Name < b.Name }),
	}
}

func byID[T any](id func(T) string) cmp.Option {
	return cmpopts.SortSlices(func(a, b T) bool { return id(a) < id(b) })
}

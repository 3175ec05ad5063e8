package app_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// A route's positions come into an order in one change, which touches only those
// that move, and their ranks on that route alone.
func TestOrderStops(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	site := add(t, h, registry.Site{Name: "Tarn Edge", Kind: registry.Crag}, h.AddSite)
	one := add(t, h, registry.Route{SiteID: site.ID, Name: "One", Kind: registry.Climb}, h.AddRoute)
	two := add(t, h, registry.Route{SiteID: site.ID, Name: "Two", Kind: registry.Climb}, h.AddRoute)
	var read []registry.Position
	for i, label := range []string{"A", "B", "C"} {
		p, _, err := h.AddPosition(ctx, h.who, registry.Position{SiteID: site.ID, Label: label},
			[]registry.Stop{{RouteID: one.ID, Rank: 5 * (i + 1)}, {RouteID: two.ID, Rank: 7}})
		if err != nil {
			t.Fatal(err)
		}
		read = append(read, p)
	}
	a, b, c := read[0], read[1], read[2]
	ranks := func() map[string]int {
		t.Helper()
		got := map[string]int{}
		for _, p := range read {
			stops, err := h.Stops(ctx, h.who, p.ID)
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range stops {
				if s.RouteID == one.ID {
					got[p.Label] = s.Rank
				} else if s.Rank != 7 {
					t.Errorf("%s has rank %d on another route, want 7 as before", p.Label, s.Rank)
				}
			}
		}
		return got
	}
	if err := h.OrderStops(ctx, h.who, one.ID, []registry.Position{c, a, b}); err != nil {
		t.Fatal(err)
	}
	ordered := map[string]int{"C": 1, "A": 2, "B": 3}
	if diff := cmp.Diff(ordered, ranks()); diff != "" {
		t.Errorf("ranks (-want +got):\n%s", diff)
	}
	a.Version, b.Version, c.Version = 2, 2, 2
	if err := h.OrderStops(ctx, h.who, one.ID, []registry.Position{c, a, b}); err != nil {
		t.Errorf("the same order again: %v", err)
	}
	if again, err := h.Position(ctx, h.who, a.ID); err != nil || again.Version != 2 {
		t.Errorf("version %d after nothing moved, want 2 (%v)", again.Version, err)
	}
	old := b
	old.Version = 1
	for name, order := range map[string][]registry.Position{
		"one is missing": {c, a}, "one is there twice": {c, a, a}, "one was changed since": {a, c, old},
		"one is on another route": {c, a, {ID: uuid.Must(uuid.NewV7()), Version: 1}}, "none": nil,
	} {
		if err := h.OrderStops(ctx, h.who, one.ID, order); fault.KindOf(err) != fault.Stale {
			t.Errorf("%s: %v, want stale", name, err)
		}
	}
	if diff := cmp.Diff(ordered, ranks()); diff != "" {
		t.Errorf("ranks after refusals (-want +got):\n%s", diff)
	}
	if err := h.OrderStops(ctx, h.who, uuid.Must(uuid.NewV7()), nil); fault.KindOf(err) != fault.NotFound {
		t.Errorf("no such route: %v, want not found", err)
	}
	recorder := h.who
	recorder.Role = registry.RoleRecorder
	if err := h.OrderStops(ctx, recorder, one.ID, []registry.Position{a, b, c}); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("by a recorder: %v, want forbidden", err)
	}
}

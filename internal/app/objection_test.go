package app_test

import (
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// fields lists an error's violations as "field code", in order.
func fields(err error) []string {
	e, _ := fault.As(err)
	if e == nil {
		return nil
	}
	var out []string
	for _, v := range e.Violations {
		out = append(out, v.Field+" "+string(v.Code))
	}
	slices.Sort(out)
	return out
}

// In a context of Objecting a use case says what is wrong and writes nothing.
func TestObjecting(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	objection := errors.New("already refused")
	ctx := app.Objecting(t.Context(), objection)
	anchor := h.anchor(t, "B1")
	rules := houserules.Default()
	rules.BadState.Value++
	text, err := rules.JSON()
	if err != nil {
		t.Fatal(err)
	}
	for name, use := range map[string]func() error{
		"an import": func() error {
			_, err := h.Import(ctx, h.who, parse(t, "other.csv", []byte("Crag,Bolt\nOther Edge,B1\n")), false)
			return err
		},
		"a site": func() error {
			_, _, err := h.AddSite(ctx, h.who, registry.Site{Name: "Other", Kind: registry.Crag})
			return err
		},
		"an inspection": func() error {
			_, _, err := h.RecordInspection(ctx, h.who, inspected(anchor.ID, firstDay, nil))
			return err
		},
		"a change of an anchor": func() error {
			_, err := h.ChangeAnchor(ctx, h.who, anchor.ID, 1, func(a *registry.Anchor) error { a.Notes = "x"; return nil })
			return err
		},
		"house rules": func() error {
			_, err := h.SetHouseRules(ctx, h.who, text, 1)
			return err
		},
	} {
		if err := use(); !errors.Is(err, objection) {
			t.Errorf("%s: %v, want the objection", name, err)
		}
	}
	_, _, err = h.AddSite(ctx, h.who, registry.Site{Name: " ", Kind: registry.Crag})
	violated(t, "a site without a name", err, "name", fault.Blank)
	sites, err := h.Sites(t.Context(), h.who, registry.Page{})
	if err != nil || len(sites) != 1 || h.anchor(t, "B1").Version != 1 {
		t.Errorf("sites %+v, %v; want what there was", sites, err)
	}
}

// What a record says and what it points to is told in one error.
func TestRecordNamesEverything(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	nobody := uuid.New()
	_, _, err := h.RecordInstallation(t.Context(), h.who, registry.Installation{
		Record: registry.Record{
			ID: uuid.New(), AnchorID: h.anchor(t, "B1").ID, DoneOn: calendar.Exactly(firstDay + 1), PersonID: &nobody, Replaces: &nobody,
		},
		AdhesiveID: &nobody, BatchID: &nobody, RockSound: "loud",
	})
	want := []string{
		"adhesive_id no-such-reference", "batch_id no-such-reference", "done_on date-ahead", "person_id no-such-reference",
		"replaces no-such-reference", "rock_sound unknown",
	}
	if diff := cmp.Diff(want, fields(err)); diff != "" {
		t.Errorf("violations of %v (-want +got):\n%s", err, diff)
	}
	_, _, err = h.AddNotice(t.Context(), h.who, registry.Notice{IssuedOn: firstDay, InspectBy: firstDay, AnchorIDs: []uuid.UUID{nobody}})
	if diff := cmp.Diff([]string{"anchor_ids no-such-reference", "title blank"}, fields(err)); diff != "" {
		t.Errorf("violations of a notice (-want +got):\n%s", diff)
	}
}

// A place does not end while an anchor stands there.
func TestPlacesEndEmpty(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	h.enter(t, "Crag,Sector,Route,Bolt\nTarn Edge,Left,Plum Line,B1\nTarn Edge,Right,Pear Line,B2\n")
	stays, goes := h.anchor(t, "B1"), h.anchor(t, "B2")
	if _, _, err := h.RecordRemoval(ctx, h.who, registry.Removal{Record: registry.Record{
		ID: uuid.New(), AnchorID: goes.ID, DoneOn: calendar.Exactly(firstDay),
	}}); err != nil {
		t.Fatal(err)
	}
	end := func(a registry.Anchor) map[string]error {
		p, err := h.Position(ctx, h.who, a.PositionID)
		if err != nil {
			t.Fatal(err)
		}
		stops, err := h.Stops(ctx, h.who, a.PositionID)
		if err != nil || len(stops) != 1 {
			t.Fatalf("stops %+v, %v; want one", stops, err)
		}
		_, atPosition := h.ChangePosition(ctx, h.who, p.ID, 1, func(p *registry.Position, _ *[]registry.Stop) error { p.EndedOn = firstDay; return nil })
		_, atRoute := h.ChangeRoute(ctx, h.who, stops[0].RouteID, 1, func(r *registry.Route) error { r.EndedOn = firstDay; return nil })
		_, atSector := h.ChangeSector(ctx, h.who, *p.SectorID, 1, func(s *registry.Sector) error { s.EndedOn = firstDay; return nil })
		return map[string]error{"position": atPosition, "route": atRoute, "sector": atSector}
	}
	for kind, err := range end(goes) {
		if err != nil {
			t.Errorf("an empty %s: %v", kind, err)
		}
	}
	for kind, err := range end(stays) {
		violated(t, "a "+kind+" with an anchor", err, "ended_on", fault.InUse)
	}
	_, err := h.ChangeSite(ctx, h.who, stays.SiteID, 1, func(s *registry.Site) error { s.EndedOn = firstDay; return nil })
	violated(t, "a site with an anchor", err, "ended_on", fault.InUse)
	if e, _ := fault.As(err); e.Violations[0].Values["standing"] != "1" {
		t.Errorf("values %v, want one anchor", e.Violations[0].Values)
	}
}

func TestAnchorsRejects(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	_, err := h.Anchors(t.Context(), h.who, registry.AnchorFilter{Metal: "xyz", Standing: "safe", DueState: "late"}, registry.Page{})
	if diff := cmp.Diff([]string{"due_state unknown", "metal unknown-metal", "standing unknown"}, fields(err)); diff != "" {
		t.Errorf("violations of a filter (-want +got):\n%s", diff)
	}
}

package postgres_test

import (
	"errors"
	"slices"
	"strconv"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

func noList(registry.PastList) error { return errors.New("no list was asked for") }

// inForce is the scene with its list not undone.
func inForce(s *scene) registry.Change {
	ch := s.change()
	ch.ImportUndo = nil
	return ch
}

func TestEachListed(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, inForce(s))
	var past registry.Import
	var cells [][]string
	var got []registry.ListEntry
	err := r.store.EachListed(t.Context(), r.group.ID, registry.ListAsk{Own: true}, func(p registry.PastList) error {
		past = p.Import
		for range 2 { // as often as asked
			cells = slices.Collect(p.Cells)
		}
		return nil
	}, func(e registry.ListEntry) error {
		got = append(got, e)
		return nil
	})
	if err != nil || len(got) != 1 {
		t.Fatalf("EachListed() = %v with %d entries, want one", err, len(got))
	}
	s.intake.Report = past.Report // the database writes JSON in its own way
	if d := diff(s.intake, past); d != "" {
		t.Errorf("list taken over (-want +got):\n%s", d)
	}
	if d := diff([][]string{s.row.Cells}, cells); d != "" {
		t.Errorf("cells (-want +got):\n%s", d)
	}
	e := got[0]
	if d := diff(s.facts(), e.Facts); d != "" {
		t.Errorf("facts (-want +got):\n%s", d)
	}
	if e.Line.Place.Sector != s.sector.Name || e.Line.Landowner != s.landowner.Name {
		t.Errorf("place %+v of %q", e.Line.Place, e.Line.Landowner)
	}
	if d := diff([]string{s.route.Name}, e.Routes); d != "" {
		t.Errorf("routes (-want +got):\n%s", d)
	}
	if e.Persons[s.person.ID] != s.person.Name || e.Products[s.adhesive.ID] != s.adhesive.Name || e.Batches[s.batch.ID].Text != s.batch.Text {
		t.Errorf("named %v, %v, %v", e.Persons, e.Products, e.Batches)
	}
	if e.Row == nil || e.Row.Line != s.row.Line || diff(s.row.Cells, e.Row.Cells) != "" {
		t.Errorf("row %+v, want the one entered", e.Row)
	}
}

// TestEachListedOrder enters anchors in no order, more than are held at a time,
// and wants them by site, route and stop, the one in the rock first.
func TestEachListedOrder(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	ch := registry.Change{What: "test"}
	var sites []registry.Site
	for _, name := range []string{"Tarn Edge", "Fell End"} {
		sites = append(sites, sample.Site(func(s *registry.Site) { s.Name = name }))
	}
	ch.Sites = sites
	var want []uuid.UUID
	for k := range sites {
		site := sites[1-k] // by name
		route := sample.Route(site)
		ch.Routes = append(ch.Routes, route)
		ids := make([]uuid.UUID, 600)
		for i := range ids {
			stop := len(ids) - i // entered from the last stop to the first
			p := sample.Position(site, func(p *registry.Position) { p.Label = strconv.Itoa(i) })
			a := sample.Anchor(p)
			ch.Positions, ch.Anchors = append(ch.Positions, p), append(ch.Anchors, a)
			ch.Stops = append(ch.Stops, registry.Stop{RouteID: route.ID, PositionID: p.ID, Rank: stop})
			ids[stop-1] = a.ID
			if i == len(ids)-1 { // two came after it, and one of them is in the rock
				gone := sample.Anchor(p, func(a *registry.Anchor) { a.Removed = true })
				first := sample.Anchor(p)
				ch.Anchors[len(ch.Anchors)-1].Removed = true
				ch.Anchors = append(ch.Anchors, first, gone)
				ids = append([]uuid.UUID{first.ID, gone.ID}, ids...)
				break
			}
		}
		want = append(want, ids...)
	}
	r.enter(t, ch)
	var got []uuid.UUID
	err := r.store.EachListed(t.Context(), r.group.ID, registry.ListAsk{}, noList, func(e registry.ListEntry) error {
		got = append(got, e.Facts.Anchor.ID)
		return nil
	})
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("EachListed() = %v after %d anchors, want %d in their order", err, len(got), len(want))
	}
}

func TestEachListedRejects(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	other := addGroup(t, r.admin)
	r.enter(t, inForce(s))
	sentinel := errors.New("enough")
	fn := func(registry.ListEntry) error { return sentinel }
	if err := r.store.EachListed(t.Context(), r.group.ID, registry.ListAsk{}, noList, fn); err != sentinel { //nolint:errorlint // it must be the very error
		t.Errorf("EachListed() = %v, want the error of fn as it is", err)
	}
	begin := func(registry.PastList) error { return sentinel }
	if err := r.store.EachListed(t.Context(), r.group.ID, registry.ListAsk{Own: true}, begin, fn); err != sentinel { //nolint:errorlint // it must be the very error
		t.Errorf("EachListed() = %v, want the error of begin as it is", err)
	}
	for _, ask := range []registry.ListAsk{{Own: true}, {Own: true, ImportID: &s.intake.ID}} {
		if err := r.store.EachListed(t.Context(), other.ID, ask, begin, fn); fault.KindOf(err) != fault.NotFound {
			t.Errorf("EachListed(%+v) of another group = %v, want not found", ask, err)
		}
	}
	if err := r.store.EachListed(t.Context(), other.ID, registry.ListAsk{}, noList, fn); err != nil {
		t.Errorf("EachListed() of an empty group = %v, want no anchors", err)
	}
}

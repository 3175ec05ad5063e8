package postgres_test

import (
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

func TestPlacesAreListedInPages(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	ch := s.change()
	for range 4 {
		ch.Sites = append(ch.Sites, sample.Site())
	}
	r.enter(t, ch)
	var got []uuid.UUID
	page := registry.Page{Limit: 2}
	for {
		sites, err := r.store.Sites(t.Context(), r.group.ID, page)
		if err != nil {
			t.Fatal(err)
		}
		if len(sites) == 0 {
			break
		}
		if len(sites) > page.Limit {
			t.Errorf("a page of %d sites, want at most %d", len(sites), page.Limit)
		}
		for _, site := range sites {
			got = append(got, site.ID)
		}
		page.After = got[len(got)-1]
	}
	var want []uuid.UUID
	for _, site := range ch.Sites {
		want = append(want, site.ID)
	}
	if d := diff(want, got); d != "" {
		t.Errorf("pages differ from the order of entry (-want +got):\n%s", d)
	}
}

func TestListsAreNarrowed(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	ctx, group, all, none := t.Context(), r.group.ID, registry.Page{}, sample.ID()
	counts := map[string]func(id *uuid.UUID) (int, error){
		"sectors of site": func(id *uuid.UUID) (int, error) { l, err := r.store.Sectors(ctx, group, id, all); return len(l), err },
		"routes of site":  func(id *uuid.UUID) (int, error) { l, err := r.store.Routes(ctx, group, id, all); return len(l), err },
		"positions of site": func(id *uuid.UUID) (int, error) {
			l, err := r.store.Positions(ctx, group, id, nil, all)
			return len(l), err
		},
		"positions of route": func(id *uuid.UUID) (int, error) {
			l, err := r.store.Positions(ctx, group, nil, id, all)
			return len(l), err
		},
		"batches of product": func(id *uuid.UUID) (int, error) { l, err := r.store.Batches(ctx, group, id, all); return len(l), err },
	}
	of := map[string]uuid.UUID{
		"sectors of site": s.site.ID, "routes of site": s.site.ID, "positions of site": s.site.ID, "positions of route": s.route.ID,
		"batches of product": s.adhesive.ID,
	}
	for name, count := range counts {
		id := of[name]
		for asked, want := range map[*uuid.UUID]int{nil: 1, &id: 1, &none: 0} {
			if got, err := count(asked); err != nil || got != want {
				t.Errorf("%s, asked for %v: %d, %v, want %d", name, asked, got, err, want)
			}
		}
	}
	for kind, want := range map[registry.ProductKind]int{"": 2, registry.Adhesive: 1, registry.Hardware: 1, "none": 0} {
		if got, err := r.store.Products(ctx, group, kind, all); err != nil || len(got) != want {
			t.Errorf("Products(%q) = %d, %v, want %d", kind, len(got), err, want)
		}
	}
}

func TestAnchorsAreFiltered(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	ch := s.change()
	plain := sample.Position(s.site, func(p *registry.Position) { p.Label = "Ä 7" })
	bare := sample.Anchor(plain, func(a *registry.Anchor) { a.Metal, a.Notes = nil, "under the Roof" })
	ch.Positions, ch.Anchors = append(ch.Positions, plain), append(ch.Anchors, bare)
	ch.Assessments = append(ch.Assessments, sample.Assessment(bare, func(a *registry.Assessment) {
		a.Standing, a.DueOn = registry.StandingSuspect, calendar.NewDate(2026, 6, 1)
	}))
	r.enter(t, ch)
	none := sample.ID()
	tests := []struct {
		name   string
		filter registry.AnchorFilter
		want   []uuid.UUID
	}{
		{"all", registry.AnchorFilter{}, []uuid.UUID{s.anchor.ID, bare.ID}},
		{"site", registry.AnchorFilter{SiteID: &s.site.ID}, []uuid.UUID{s.anchor.ID, bare.ID}},
		{"no such site", registry.AnchorFilter{SiteID: &none}, nil},
		{"route", registry.AnchorFilter{RouteID: &s.route.ID}, []uuid.UUID{s.anchor.ID}},
		{"sector", registry.AnchorFilter{SectorID: &s.sector.ID}, []uuid.UUID{s.anchor.ID}},
		{"no such sector", registry.AnchorFilter{SectorID: &none}, nil},
		{"due state", registry.AnchorFilter{DueState: registry.NotDue}, []uuid.UUID{s.anchor.ID, bare.ID}},
		{"another due state", registry.AnchorFilter{DueState: registry.Overdue}, nil},
		{"standing", registry.AnchorFilter{Standing: registry.StandingSuspect}, []uuid.UUID{bare.ID}},
		{"due before the day after", registry.AnchorFilter{DueBefore: calendar.NewDate(2026, 6, 2)}, []uuid.UUID{bare.ID}},
		{"due before the day itself", registry.AnchorFilter{DueBefore: calendar.NewDate(2026, 6, 1)}, nil},
		{"metal", registry.AnchorFilter{Metal: metal.Grade("1.4404")}, []uuid.UUID{s.anchor.ID}},
		{"another metal", registry.AnchorFilter{Metal: metal.Grade("1.4401")}, nil},
		{"batch", registry.AnchorFilter{BatchID: &s.batch.ID}, []uuid.UUID{s.anchor.ID}},
		{"text in a label, another case", registry.AnchorFilter{Text: " ä  7"}, []uuid.UUID{bare.ID}},
		{"text in a route", registry.AnchorFilter{Text: "groove"}, []uuid.UUID{s.anchor.ID}},
		{"text in notes", registry.AnchorFilter{Text: "the roof"}, []uuid.UUID{bare.ID}},
		{"text in a site", registry.AnchorFilter{Text: "EXAMPLE CRAG"}, []uuid.UUID{s.anchor.ID, bare.ID}},
		{"text with a pattern's characters", registry.AnchorFilter{Text: "%"}, nil},
		{
			"all at once", registry.AnchorFilter{
				SiteID: &s.site.ID, SectorID: &s.sector.ID, RouteID: &s.route.ID, DueState: registry.NotDue, BatchID: &s.batch.ID, Standing: registry.NoProblem,
				DueBefore: calendar.NewDate(2028, 1, 1), Metal: "1.4404", Text: "b1",
			}, []uuid.UUID{s.anchor.ID},
		},
	}
	for _, tt := range tests {
		lines, err := r.store.Anchors(t.Context(), r.group.ID, tt.filter, registry.Page{Limit: 100})
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		var got []uuid.UUID
		for _, l := range lines {
			got = append(got, l.Anchor.ID)
		}
		if d := diff(tt.want, got); d != "" {
			t.Errorf("%s: anchors differ (-want +got):\n%s", tt.name, d)
		}
	}
}

func TestAnchorLine(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	ch := s.change()
	first := sample.Route(s.site, func(r *registry.Route) { r.Name = "A first route" })
	ch.Routes = append(ch.Routes, first)
	ch.Stops = append(ch.Stops, sample.Stop(first, s.position))
	r.enter(t, ch)
	lines, err := r.store.Anchors(t.Context(), r.group.ID, registry.AnchorFilter{}, registry.Page{})
	if err != nil || len(lines) != 1 {
		t.Fatalf("Anchors() = %v, %v, want one line", lines, err)
	}
	want := registry.AnchorLine{
		Anchor: s.facts().Anchor, Site: s.site.Name, Sector: s.sector.Name, Route: first.Name, Label: s.position.Label,
		Role: s.position.Role, Standing: s.assessment.Standing, DueOn: s.assessment.DueOn, DueState: s.assessment.DueState,
		Band: s.assessment.Band,
	}
	if d := diff(want, lines[0]); d != "" {
		t.Errorf("line differs (-want +got):\n%s", d)
	}
}

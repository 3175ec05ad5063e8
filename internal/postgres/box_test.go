package postgres_test

import (
	"context"
	"testing"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

func TestAnchorsInABox(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	ch := s.change()
	at := make(map[string]uuid.UUID)
	put := func(name string, lat, lon float64) {
		p := sample.Position(s.site, func(p *registry.Position) { p.Lat, p.Lon = &lat, &lon })
		a := sample.Anchor(p)
		ch.Positions, ch.Anchors = append(ch.Positions, p), append(ch.Anchors, a)
		at[name] = a.ID
	}
	put("inside", 54.1, -2.3)
	put("corner", 54, -2.5)
	put("north", 55.1, -2.3)
	put("date line", 0, 179.5)
	put("past the date line", 0, -179.5)
	r.enter(t, ch)
	tests := []struct {
		name string
		box  registry.Box
		want []uuid.UUID
	}{
		{"edges included", registry.Box{West: -2.5, South: 54, East: -2, North: 55}, []uuid.UUID{at["inside"], at["corner"]}},
		{"a point", registry.Box{West: -2.3, South: 54.1, East: -2.3, North: 54.1}, []uuid.UUID{at["inside"]}},
		{"over the 180th meridian", registry.Box{West: 179, South: -1, East: -179, North: 1}, []uuid.UUID{at["date line"], at["past the date line"]}},
		{"nothing there", registry.Box{West: 10, South: 10, East: 11, North: 11}, nil},
	}
	for _, tt := range tests {
		lines, err := r.store.Anchors(t.Context(), r.group.ID, registry.AnchorFilter{Box: &tt.box}, registry.Page{})
		var got []uuid.UUID
		for _, l := range lines {
			got = append(got, l.Anchor.ID)
		}
		if d := diff(tt.want, got); err != nil || d != "" {
			t.Errorf("%s: %v, anchors differ (-want +got):\n%s", tt.name, err, d)
		}
	}
}

// The function behind the box runs as the owner, whom row security does not
// hold: it must hold the groups apart itself.
func TestBoxKeepsGroupsApart(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	s.position.Lat, s.position.Lon = sample.Of(54.1), sample.Of(-2.3)
	r.enter(t, s.change())
	other := addGroup(t, r.admin)
	const count = `SELECT count(*) FROM position_in_box($1, -180, -90, 180, 90)`
	for name, tt := range map[string]struct {
		of, within uuid.UUID
		want       int // -1: refused
	}{
		"its own":           {r.group.ID, r.group.ID, 1},
		"the other's own":   {other.ID, other.ID, 0},
		"another group's":   {r.group.ID, other.ID, -1},
		"without any group": {r.group.ID, uuid.Nil, -1},
	} {
		r.as(t, tt.within, func(ctx context.Context, tx pgx.Tx) {
			got := -1
			err := tx.QueryRow(ctx, count, tt.of).Scan(&got)
			if got != tt.want || refused(err) != (tt.want < 0) {
				t.Errorf("%s: %d positions, %v, want %d", name, got, err, tt.want)
			}
		})
	}
	box := registry.Box{West: -180, South: -90, East: 180, North: 90}
	lines, err := r.store.Anchors(t.Context(), other.ID, registry.AnchorFilter{Box: &box}, registry.Page{})
	if err != nil || len(lines) != 0 {
		t.Errorf("another group's anchors in the box: %d, %v, want none", len(lines), err)
	}
}

// Only two functions run as the owner, both with a fixed search path and for
// the application's role alone.
func TestFunctionsThatRunAsTheOwner(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	got := r.strings(t, `
SELECT p.proname || ' ' || array_to_string(p.proconfig, ' ') || ' ' || has_function_privilege('rockledger_app', p.oid, 'EXECUTE')
  || ' ' || (p.proacl::text LIKE '%{=X%' OR p.proacl::text LIKE '%,=X%')
FROM pg_proc AS p
WHERE p.pronamespace = 'public'::regnamespace
ORDER BY 1`)
	want := []string{
		"analyse_grown search_path=pg_catalog, pg_temp default_statistics_target=20 true false",
		"position_in_box search_path=pg_catalog, pg_temp enable_seqscan=off true false",
	}
	if d := diff(want, got); d != "" {
		t.Errorf("functions differ (-want +got):\n%s", d)
	}
}

func TestLargeChangeIsAnalysed(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	const known = `SELECT reltuples::int FROM pg_class WHERE relname = 'anchor' AND relkind = 'r'`
	if n := r.count(t, known); n != -1 {
		t.Fatalf("anchor is known to have %d rows before a large change, want not known", n)
	}
	var ch registry.Change
	for range 1000 {
		ch.Anchors = append(ch.Anchors, sample.Anchor(s.position))
	}
	if err := r.write(t, ch); err != nil {
		t.Fatal(err)
	}
	if n := r.count(t, known); n != 1001 {
		t.Errorf("anchor is known to have %d rows, want 1001", n)
	}
}

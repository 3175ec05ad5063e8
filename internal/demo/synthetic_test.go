package demo_test

import (
	"context"
	"iter"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/demo"
	"rockledger/internal/houserules"
	"rockledger/internal/pgtest"
	"rockledger/internal/postgres"
)

func synthetic(t *testing.T, anchors int) *demo.Synthetic {
	t.Helper()
	rules, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	s, err := demo.NewSynthetic(anchors, noon, rules, 1)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSyntheticSizes(t *testing.T) {
	t.Parallel()
	for anchors, want := range map[int][2]int{1: {1, 1}, 2000: {1, 40}, 10_000: {1, 200}, 100_001: {5, 2004}, 1_000_000: {50, 20_000}} {
		s := synthetic(t, anchors)
		sum := 0
		for g := range s.Groups {
			_, ids := s.Group(g)
			sum += len(ids)
		}
		if got := [2]int{s.Groups, s.Sites()}; got != want || sum != anchors {
			t.Errorf("of %d anchors: %d anchors, groups and sites %v, want %v", anchors, sum, got, want)
		}
	}
	for _, anchors := range []int{0, -1, demo.MostSynthetic + 1} {
		if _, err := demo.NewSynthetic(anchors, noon, nil, 1); err == nil {
			t.Errorf("NewSynthetic(%d) = nil, want an error", anchors)
		}
	}
}

func TestSyntheticIsTheSameEachTime(t *testing.T) {
	t.Parallel()
	one, other := synthetic(t, 120).Tables(), synthetic(t, 120).Tables()
	for i := range one {
		next, stop := iter.Pull(other[i].Rows)
		defer stop()
		for row := range one[i].Rows {
			if again, _ := next(); !cmp.Equal(row, again) {
				t.Fatalf("%s: %v, then %v", one[i].Name, row, again)
			}
		}
	}
}

// The tables are copied with every constraint in force, and read back through
// the store.
func TestSyntheticFitsTheSchema(t *testing.T) {
	t.Parallel()
	const anchors = 2000
	db, s := pgtest.New(t), synthetic(t, anchors)
	for _, table := range s.Tables() {
		copied := copyIn(t.Context(), t, db, table)
		if copied == 0 {
			t.Errorf("table %s has no rows", table.Name)
		}
	}
	store := postgres.New(db.App)
	next, stop := iter.Pull(s.Probes())
	defer stop()
	for range 20 {
		p, _ := next()
		if got, err := store.Anchors(t.Context(), p.Group, p.All, p.Alone); err != nil || len(got) != 1 || got[0].Anchor.Removed {
			t.Errorf("alone: %d anchors, %v, want 1 in the rock", len(got), err)
		} else if got[0].Route == "" || got[0].Standing == "" {
			t.Errorf("line = %+v, want a route and a standing", got[0])
		}
		if got, err := store.Anchors(t.Context(), p.Group, p.All, p.Page); err != nil || len(got) != 100 {
			t.Errorf("page: %d anchors, %v, want 100", len(got), err)
		}
		if got, err := store.Anchors(t.Context(), p.Group, p.Near, p.Whole); err != nil || len(got) != 200 {
			t.Errorf("box %+v: %d anchors, %v, want 200", *p.Near.Box, len(got), err)
		}
		if got, err := store.AnchorStory(t.Context(), p.Group, p.Anchor); err != nil || got.Facts.Anchor.ID != p.Anchor {
			t.Errorf("story: %v, want no error", err)
		}
	}
	late, err := store.OverdueLines(t.Context(), first(s), s.AsOf)
	if err != nil || len(late) < anchors/20 || len(late) > anchors/5 {
		t.Errorf("overdue: %d of %d anchors, %v, want about one in nine", len(late), anchors, err)
	}
	stale, err := store.Stale(t.Context(), first(s), s.Engine, s.AsOf, 10)
	if err != nil || len(stale) != 0 {
		t.Errorf("stale: %v, %v, want none on the day of the register", stale, err)
	}
}

func first(s *demo.Synthetic) uuid.UUID {
	id, _ := s.Group(0)
	return id
}

func copyIn(ctx context.Context, t *testing.T, db *pgtest.DB, table demo.Table) int64 {
	t.Helper()
	next, stop := iter.Pull(table.Rows)
	defer stop()
	n, err := db.Owner().CopyFrom(ctx, pgx.Identifier{table.Name}, table.Columns, pgx.CopyFromFunc(func() ([]any, error) {
		row, _ := next()
		return row, nil
	}))
	if err != nil {
		t.Fatalf("copy into %s: %v", table.Name, err)
	}
	return n
}

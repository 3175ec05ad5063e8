package main

import (
	"iter"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"rockledger/internal/assess"
	"rockledger/internal/demo"
	"rockledger/internal/houserules"
	"rockledger/internal/pgtest"
	"rockledger/internal/postgres"
)

// What bench measures does what the service does.
func TestBenchChanges(t *testing.T) {
	t.Parallel()
	rules, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	made, err := demo.NewSynthetic(60, time.Now(), rules, assess.Engine)
	if err != nil {
		t.Fatal(err)
	}
	db := pgtest.New(t)
	for _, table := range made.Tables() {
		next, stop := iter.Pull(table.Rows)
		defer stop()
		row := pgx.CopyFromFunc(func() ([]any, error) {
			values, _ := next()
			return values, nil
		})
		if _, err := db.Owner().CopyFrom(t.Context(), pgx.Identifier{table.Name}, table.Columns, row); err != nil {
			t.Fatalf("copy into %s: %v", table.Name, err)
		}
	}
	store := postgres.New(db.App)
	next, stop := iter.Pull(made.Probes())
	defer stop()
	probe, _ := next()
	group, anchors := made.Group(0)

	before, err := store.AnchorStory(t.Context(), group, probe.Anchor)
	if err != nil {
		t.Fatal(err)
	}
	if err := benchReassess(t.Context(), store, group, anchors); err != nil {
		t.Fatal(err)
	}
	if err := benchInspect(t.Context(), store, group, probe.Anchor); err != nil {
		t.Fatal(err)
	}
	after, err := store.AnchorStory(t.Context(), group, probe.Anchor)
	if err != nil {
		t.Fatal(err)
	}
	if was, is := len(before.Facts.Inspections), len(after.Facts.Inspections); is != was+1 {
		t.Errorf("inspections: %d before, %d after, want one more", was, is)
	}
	if len(after.History) < 2 || after.Assessment.Engine != assess.Engine || len(after.Assessment.Candidates) == 0 {
		t.Errorf("assessment = %+v after %d changes, want one of this engine with its candidates", after.Assessment, len(after.History))
	}
}

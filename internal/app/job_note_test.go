package app_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/registry"
)

// notedRows is an invented list of n anchors, each with two notes, of one
// length.
func notedRows(n int, length string) []byte {
	rows := []string{"Crag,Route,Bolt,Steel,Length,Last checked,Notes"}
	for i := range n {
		rows = append(rows, fmt.Sprintf("Low Tor,Route %d,B%d,316L,%s,2025-05-02,bird ban Mar-Jul; hollow sounding", i/10, i, length))
	}
	return []byte(strings.Join(rows, "\n") + "\n")
}

// A corrected list, entered in pieces, neither ends nor doubles what the notes
// of the list before it propose, where those are as they were: be that one
// entered at once or in pieces too.
func TestLongCorrectionKeepsProposals(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.CutPieces(7)
	short := parse(t, "noted.csv", notedRows(50, "80 mm"))
	if _, err := h.Import(t.Context(), h.who, short, false); err != nil {
		t.Fatal(err)
	}
	open := func() (ids []string) {
		for _, p := range h.proposals(t, registry.ProposalFilter{State: registry.ProposalOpen}) {
			ids = append(ids, p.ID.String())
		}
		slices.Sort(ids)
		return ids
	}
	before := open()
	if len(before) != 100 {
		t.Fatalf("%d open proposals of 50 rows with two notes, want 100", len(before))
	}
	for _, c := range []struct {
		rows    int
		length  string
		changed int
	}{
		{52, "90 mm", 50},  // after a list entered at once
		{54, "100 mm", 52}, // after one entered in pieces
	} {
		done := h.runThrough(t, h.who, h.handIn(t, h.who, parse(t, "noted.csv", notedRows(c.rows, c.length))).ID).Report
		if done.Entered != 2 || done.Changed != c.changed || done.Proposals != 4 {
			t.Errorf("%d rows: entered %d, changed %d, proposed %d; want 2, %d and 4", c.rows, done.Entered, done.Changed, done.Proposals, c.changed)
		}
		now := open()
		if kept := slices.DeleteFunc(slices.Clone(now), func(id string) bool { return !slices.Contains(before, id) }); !slices.Equal(kept, before) {
			t.Errorf("%d rows: open before and not now (-before +now):\n%s", c.rows, cmp.Diff(before, kept))
		}
		if want := len(before) + 4; len(now) != want {
			t.Errorf("%d rows: %d open proposals, want %d", c.rows, len(now), want)
		}
		before = now
	}
	if ended := h.proposals(t, registry.ProposalFilter{State: registry.ProposalEnded}); len(ended) > 0 {
		t.Errorf("%d proposals ended, want none", len(ended))
	}
}

package app

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// The moves that a preview names are the first of all by their order, whatever
// order the anchors come in.
func TestAmongFirstKeepsTheFirst(t *testing.T) {
	t.Parallel()
	standings := registry.Standings()
	r := rand.New(rand.NewPCG(1, 2))
	var all, kept []report.RulesMove
	for i := range 200 {
		var m report.RulesMove
		m.Line.Assessment = registry.Assessment{AnchorID: uuid.UUID{15: byte(i)}, Standing: standings[r.IntN(len(standings))], DueOn: calendar.Date(20_000)}
		m.Then = registry.Assessment{Standing: standings[r.IntN(len(standings))], DueOn: calendar.Date(19_900 + r.IntN(200))}
		all = append(all, m)
		kept = amongFirst(kept, m)
	}
	slices.SortFunc(all, compareMoves)
	for i, m := range kept {
		if m.Line.Assessment.AnchorID != all[i].Line.Assessment.AnchorID {
			t.Errorf("move %d is that of %v, want %v", i, m.Line.Assessment.AnchorID, all[i].Line.Assessment.AnchorID)
		}
	}
	if len(kept) != report.MostRulesMoves {
		t.Errorf("%d moves kept, want %d", len(kept), report.MostRulesMoves)
	}
	first, last := &kept[0], &all[len(all)-1]
	if first.Line.Assessment.Standing == first.Then.Standing || last.Line.Assessment.Standing != last.Then.Standing {
		t.Errorf("first %q to %q, last %q to %q: want changes of standing first", first.Line.Assessment.Standing, first.Then.Standing, last.Line.Assessment.Standing, last.Then.Standing)
	}
}

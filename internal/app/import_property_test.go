package app

import (
	"testing"
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// someRows draws lists with blank and nameless rows, repeats and every state.
func someRows() *rapid.Generator[[]registry.ListRow] {
	states := []registry.ListState{
		"", registry.StateOK, registry.StateSpins, registry.StateRemoved, registry.StateReplaced, registry.StateNotFound,
	}
	one := rapid.Custom(func(t *rapid.T) registry.ListRow {
		return row(0, rapid.SampledFrom([]string{"", "B1", "b1", "B2", "belay L", "belay R"}).Draw(t, "label"), func(r *registry.ListRow) {
			r.Blank = rapid.IntRange(0, 9).Draw(t, "blank") == 0
			r.Site = rapid.SampledFrom([]string{"Tarn Edge", "tarn edge ", "Deep Cave", ""}).Draw(t, "site")
			r.Route = rapid.SampledFrom([]string{"", "Plum Line", "Other"}).Draw(t, "route")
			r.Role = rapid.SampledFrom([]registry.PositionRole{"", registry.Belay}).Draw(t, "role")
			r.State = rapid.SampledFrom(states).Draw(t, "state")
			r.StateWords, r.Notes = string(r.State), rapid.SampledFrom([]string{"", "n"}).Draw(t, "notes")
			year := rapid.IntRange(1990, 2026).Draw(t, "year")
			r.SetOn = calendar.Exactly(calendar.NewDate(year, time.January, 1))
			if r.State == registry.StateReplaced {
				r.ReplacedOn = calendar.Exactly(calendar.NewDate(2010, time.January, 1))
			}
		})
	})
	return rapid.Custom(func(t *rapid.T) []registry.ListRow {
		rows := rapid.SliceOfN(one, 0, 25).Draw(t, "rows")
		if n := len(rows); n > 0 {
			for _, i := range rapid.SliceOfN(rapid.IntRange(0, n-1), 0, 5).Draw(t, "repeats") {
				rows = append(rows, rows[i])
			}
		}
		for i := range rows {
			rows[i].Line = i + 2
		}
		return rows
	})
}

func TestImportProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		list := listOf(someRows().Draw(rt, "list")...)
		c, r := takeOver(t, list, registry.Known{})
		checkSums(rt, "first", r)
		if len(c.Anchors) != r.Entered+r.Successors || len(c.ImportRows) != r.Entered || len(c.Assessments) != len(c.Anchors) {
			rt.Fatalf("%d anchors, %d rows, %d assessments for %+v", len(c.Anchors), len(c.ImportRows), len(c.Assessments), countsOf(r))
		}
		checkWhole(rt, c)
		again, r2 := takeOver(t, list, after(registry.Known{}, c))
		checkSums(rt, "again", r2)
		if r2.Entered != 0 || r2.Unchanged != r.Entered || r2.Duplicates != r.Duplicates || again.Import != nil {
			rt.Fatalf("again: %+v after %+v", countsOf(r2), countsOf(r))
		}
	})
}

func checkSums(t *rapid.T, when string, r report.Import) {
	if sum := r.Entered + r.Duplicates + r.Blank + r.Refused + r.Unchanged; r.Rows != sum {
		t.Fatalf("%s: %d rows, but %d accounted for: %+v", when, r.Rows, sum, countsOf(r))
	}
	if len(r.Refusals) != r.Refused || len(r.DuplicateRows) != r.Duplicates {
		t.Fatalf("%s: %d refusals and %d repeats named for %+v", when, len(r.Refusals), len(r.DuplicateRows), countsOf(r))
	}
}

// checkWhole wants every reference of a change to be to something in it.
func checkWhole(t *rapid.T, c registry.Change) {
	there := make(map[uuid.UUID]bool)
	note := func(id uuid.UUID) {
		if there[id] {
			t.Fatalf("id %v used twice", id)
		}
		there[id] = true
	}
	for _, s := range c.Sites {
		note(s.ID)
	}
	for _, r := range c.Routes {
		note(r.ID)
	}
	for _, p := range c.Positions {
		note(p.ID)
		if !there[p.SiteID] {
			t.Fatalf("position %+v at no site", p)
		}
	}
	for _, a := range c.Anchors {
		note(a.ID)
		if err := a.Validate(); err != nil || !there[a.SiteID] || !there[a.PositionID] {
			t.Fatalf("anchor %+v: %v, or its place is not there", a, err)
		}
	}
	for _, s := range c.Stops {
		if !there[s.RouteID] || !there[s.PositionID] {
			t.Fatalf("stop %+v points to nothing", s)
		}
	}
	for _, i := range c.Inspections {
		if !there[i.AnchorID] {
			t.Fatalf("inspection %+v of no anchor", i)
		}
	}
}

package app

import (
	"maps"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// The lists in these tests are invented.

var (
	entryDay = calendar.NewDate(2026, time.May, 3)
	entryAt  = time.Date(2026, time.May, 3, 9, 0, 0, 0, time.UTC)
)

// row returns a fit row; its cells are made from what edit leaves.
func row(line int, label string, edit func(*registry.ListRow)) registry.ListRow {
	r := registry.ListRow{
		Line: line, Site: "Tarn Edge", Route: "Plum Line", Label: label,
		SiteKind: registry.Crag, RouteKind: registry.Climb,
	}
	if edit != nil {
		edit(&r)
	}
	r.Cells = []string{r.Site, r.Sector, r.Route, r.Label, r.StateWords, r.SetOn.Words, r.Notes}
	return r
}

func listOf(rows ...registry.ListRow) registry.List {
	return registry.List{
		FileName: "list.csv", Columns: map[string]string{"position": "Bolt", "state": "State"},
		Headings: []string{"Crag", "Bolt", "State"}, Rows: rows,
	}
}

// takeOver enters a list into a register that holds known.
func takeOver(t testing.TB, list registry.List, known registry.Known) (registry.Change, report.Import) {
	t.Helper()
	in := newIntake(list, known, entryDay, entryAt)
	in.takeRows(houserules.Default())
	c, err := in.change(houserules.Default())
	if err != nil {
		t.Fatalf("change: %v", err)
	}
	if c.Assess != nil {
		c.Assessments = append(c.Assessments, c.Assess()...)
	}
	return c, in.report
}

// after returns what a register knows once a change is written.
func after(k registry.Known, c registry.Change) registry.Known {
	rows, past := maps.Clone(k.Rows), maps.Clone(k.Past)
	if rows == nil {
		rows, past = make(map[string]registry.KnownRow), make(map[uuid.UUID]registry.PastRow)
	}
	for _, r := range c.ImportRows {
		rows[r.Key] = registry.KnownRow{Print: r.Print, AnchorID: r.AnchorID}
		past[r.AnchorID] = registry.PastRow{
			Key: r.Key, Headings: c.Import.Headings, Columns: columnsIn(c.Import.Report), Cells: r.Cells, Taken: r.Taken,
		}
	}
	k.Past, k.Facts = past, factsAfter(k.Facts, c, k.Sites)
	k.Sites = slices.Concat(k.Sites, c.Sites)
	k.Sectors = slices.Concat(k.Sectors, c.Sectors)
	k.Routes = slices.Concat(k.Routes, c.Routes)
	k.Positions = slices.Concat(k.Positions, c.Positions)
	k.Stops = slices.Concat(k.Stops, c.Stops)
	k.Persons = slices.Concat(k.Persons, c.Persons)
	k.Landowners = slices.Concat(k.Landowners, c.Landowners)
	k.Parcels = slices.Concat(k.Parcels, c.Parcels)
	k.Products = slices.Concat(k.Products, c.Products)
	k.Batches = slices.Concat(k.Batches, c.Batches)
	k.Rows = rows
	return k
}

// counts are the numbers of a report.
type counts struct{ Rows, Entered, Successors, Duplicates, Blank, Refused, Unchanged int }

func countsOf(r report.Import) counts {
	return counts{r.Rows, r.Entered, r.Successors, r.Duplicates, r.Blank, r.Refused, r.Unchanged}
}

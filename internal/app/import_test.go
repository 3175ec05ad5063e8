package app

import (
	"encoding/json"
	"maps"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
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
	in.takeRows()
	c, err := in.change(houserules.Default())
	if err != nil {
		t.Fatalf("change: %v", err)
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

func TestImportCountsEachRowOnce(t *testing.T) {
	t.Parallel()
	list := listOf(
		row(3, "B1", nil),
		row(4, " b1 ", func(r *registry.ListRow) { r.Notes = "the same spot, other cells" }),
		registry.ListRow{Line: 5, Blank: true},
		row(6, "B1", nil),
		row(7, "B2", func(r *registry.ListRow) { r.Site = "  " }),
		row(8, "B3", nil),
	)
	c, r := takeOver(t, list, registry.Known{})
	want := counts{Rows: 6, Entered: 2, Duplicates: 1, Blank: 1, Refused: 2}
	if diff := cmp.Diff(want, countsOf(r)); diff != "" {
		t.Errorf("counts (-want +got):\n%s", diff)
	}
	refusals := []registry.Doubt{
		{Line: 4, Column: "Bolt", Text: " b1 ", Code: registry.RefusedSpotRepeated, Values: registry.Values{{Name: "line", Text: "3"}}},
		{Line: 7, Text: "  ", Code: registry.RefusedSiteNotNamed},
	}
	if diff := cmp.Diff(refusals, r.Refusals); diff != "" {
		t.Errorf("refusals (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]report.Repeat{{Line: 6, Of: 3}}, r.DuplicateRows); diff != "" {
		t.Errorf("duplicates (-want +got):\n%s", diff)
	}
	if len(c.Anchors) != 2 || len(c.ImportRows) != 2 {
		t.Errorf("%d anchors and %d import rows written, want 2 and 2", len(c.Anchors), len(c.ImportRows))
	}
}

func TestImportAgain(t *testing.T) {
	t.Parallel()
	first, _ := takeOver(t, listOf(row(3, "B1", nil), row(4, "B2", nil)), registry.Known{})
	known := after(registry.Known{}, first)
	for id, past := range known.Past {
		past.Taken = nil // as before it was kept
		known.Past[id] = past
	}
	changed := row(4, "B2", func(r *registry.ListRow) { r.Notes = "other cells" })
	c, r := takeOver(t, listOf(row(3, "B1", nil), changed), known)
	if diff := cmp.Diff(counts{Rows: 2, Unchanged: 1, Refused: 1}, countsOf(r)); diff != "" {
		t.Errorf("counts (-want +got):\n%s", diff)
	}
	if got := r.Refusals[0].Code; got != registry.RefusedDiffers {
		t.Errorf("refusal = %q, want %q", got, registry.RefusedDiffers)
	}
	if c.Import != nil || r.ID != "" {
		t.Errorf("import row %v, id %q: want none, for nothing was entered", c.Import, r.ID)
	}
	if diff := cmp.Diff(registry.Change{}, c); diff != "" {
		t.Errorf("change (-want +got):\n%s", diff)
	}
}

func TestImportRefusesPositionFromNoList(t *testing.T) {
	t.Parallel()
	first, _ := takeOver(t, listOf(row(3, "B1", nil)), registry.Known{})
	known := after(registry.Known{}, first)
	known.Rows = nil // as if a person had recorded it
	_, r := takeOver(t, listOf(row(3, "b1", nil), row(4, "B2", nil)), known)
	if diff := cmp.Diff(counts{Rows: 2, Entered: 1, Refused: 1}, countsOf(r)); diff != "" {
		t.Errorf("counts (-want +got):\n%s", diff)
	}
	if got := r.Refusals[0].Code; got != registry.RefusedPositionTaken {
		t.Errorf("refusal = %q, want %q", got, registry.RefusedPositionTaken)
	}
}

func TestImportFindsWhatIsThere(t *testing.T) {
	t.Parallel()
	named := func(r *registry.ListRow) {
		r.Sector, r.SetBy, r.Landowner, r.Glue, r.Batch = "Left", "Ada X.", "Moor Farm", "resin one", "L12-A"
	}
	first, _ := takeOver(t, listOf(row(3, "B1", named)), registry.Known{})
	known := after(registry.Known{}, first)
	again := func(r *registry.ListRow) {
		r.Site, r.Route, r.Sector, r.SetBy = "tarn  edge", "PLUM LINE", " left", "ada x."
		r.Landowner, r.Glue, r.Batch = "MOOR FARM ", "Resin  One", "l 12 a"
	}
	c, r := takeOver(t, listOf(row(9, "B2", again)), known)
	if r.Entered != 1 {
		t.Fatalf("entered %d, want 1", r.Entered)
	}
	made := map[string]int{
		"sites": len(c.Sites), "sectors": len(c.Sectors), "routes": len(c.Routes), "persons": len(c.Persons),
		"landowners": len(c.Landowners), "parcels": len(c.Parcels), "products": len(c.Products), "batches": len(c.Batches),
	}
	for noun, n := range made {
		if n != 0 {
			t.Errorf("%d new %s made, want the known ones found", n, noun)
		}
	}
	i, p := c.Installations[0], c.Positions[0]
	if *i.AdhesiveID != known.Products[0].ID || *i.BatchID != known.Batches[0].ID || *i.PersonID != known.Persons[0].ID {
		t.Errorf("installation %+v does not point to what is known", i)
	}
	if *p.ParcelID != known.Parcels[0].ID || p.SiteID != known.Sites[0].ID || *p.SectorID != known.Sectors[0].ID {
		t.Errorf("position %+v does not point to what is known", p)
	}
	if got := c.Stops[0]; got.RouteID != known.Routes[0].ID || got.Rank != 2 {
		t.Errorf("stop = %+v, want the second of the known route", got)
	}
}

func TestImportBatchIsOfItsProduct(t *testing.T) {
	t.Parallel()
	glued := func(glue, batch string) func(*registry.ListRow) {
		return func(r *registry.ListRow) { r.Glue, r.Batch = glue, batch }
	}
	c, _ := takeOver(t, listOf(
		row(3, "B1", glued("resin one", "L1")), row(4, "B2", glued("resin two", "L1")),
		row(5, "B3", glued("", "l-1")), row(6, "B4", glued("Resin One", "L 1")), row(7, "B5", glued("", "--")),
	), registry.Known{})
	if len(c.Products) != 2 || len(c.Batches) != 3 {
		t.Errorf("%d products and %d batches, want 2 and 3: the same text under another product is another batch",
			len(c.Products), len(c.Batches))
	}
}

func TestImportReplaced(t *testing.T) {
	t.Parallel()
	year := func(y int, words string) calendar.Span {
		return calendar.Span{From: calendar.NewDate(y, time.January, 1), To: calendar.NewDate(y, time.December, 31), Words: words}
	}
	replaced := func(setOn calendar.Span) func(*registry.ListRow) {
		return func(r *registry.ListRow) {
			r.State, r.StateWords, r.ReplacedOn = registry.StateReplaced, "replaced 2019", year(2019, "2019")
			r.SetOn, r.Form, r.Metal = setOn, registry.WedgeAnchor, metal.Set{"1.4401"}
		}
	}
	for _, c := range []struct {
		name     string
		set      calendar.Span
		removed  calendar.Span
		next     calendar.Span
		doubtful bool
	}{
		{"set before", year(1998, "1998"), year(2019, "2019"), year(2019, "2019"), false},
		{"set in the same year", year(2019, "2019"), year(2019, "2019"), year(2019, "2019"), false},
		{"set when is not known", calendar.Span{}, year(2019, "2019"), year(2019, "2019"), false},
		{"set after", year(2021, "2021"), calendar.Span{Words: "replaced 2019"}, calendar.Span{Words: "replaced 2019"}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			change, r := takeOver(t, listOf(row(3, "B1", replaced(c.set))), registry.Known{})
			if r.Entered != 1 || r.Successors != 1 || len(change.Anchors) != 2 {
				t.Fatalf("entered %d, successors %d, anchors %d; want 1, 1, 2", r.Entered, r.Successors, len(change.Anchors))
			}
			old, next := change.Anchors[0], change.Anchors[1]
			if !old.Removed || old.RemovedOn != c.removed || old.SetOn != c.set {
				t.Errorf("old anchor %+v, want removed on %v, set on %v", old, c.removed, c.set)
			}
			if next.Removed || next.SetOn != c.next || next.Metal != nil || next.Form != "" || next.PositionID != old.PositionID {
				t.Errorf("successor %+v, want a living one at the position, set on %v, form and metal not known", next, c.next)
			}
			if len(change.Positions) != 1 || len(change.Removals) != 1 || change.Removals[0].AnchorID != old.ID {
				t.Errorf("%d positions, removals %+v; want one position, the old anchor's removal", len(change.Positions), change.Removals)
			}
			if got := len(r.Doubts) == 1 && r.Doubts[0].Code == registry.DoubtSetAfterReplace; got != c.doubtful {
				t.Errorf("doubts = %+v, want doubtful %v", r.Doubts, c.doubtful)
			}
		})
	}
}

func TestImportDoubtsReplacementOnce(t *testing.T) {
	t.Parallel()
	list := listOf(row(3, "B1", func(r *registry.ListRow) {
		r.State, r.StateWords = registry.StateReplaced, "replaced 2019"
		r.ReplacedOn = calendar.Exactly(calendar.NewDate(2019, time.June, 1))
		r.SetOn = calendar.Exactly(calendar.NewDate(2021, time.June, 1))
	}))
	list.Doubts = []registry.Doubt{{Line: 3, Column: "State", Code: registry.DoubtSetAfterReplace}}
	if _, r := takeOver(t, list, registry.Known{}); len(r.Doubts) != 1 {
		t.Errorf("doubts = %+v, want the one that the list came with", r.Doubts)
	}
}

func TestImportStates(t *testing.T) {
	t.Parallel()
	day := calendar.Exactly(calendar.NewDate(2020, time.May, 1))
	no := false
	for _, c := range []struct {
		name    string
		state   registry.ListState
		checked calendar.Span
		want    *registry.Inspection // nil: none
	}{
		{"neither date nor state", "", calendar.Span{}, nil},
		{"a date alone", "", day, &registry.Inspection{}},
		{"ok is a glance without verdict", registry.StateOK, calendar.Span{}, &registry.Inspection{}},
		{"spins", registry.StateSpins, day, &registry.Inspection{Observations: []registry.Observation{registry.Spins}}},
		{"loose nut", registry.StateLooseNut, day, &registry.Inspection{Observations: []registry.Observation{registry.LooseNut}}},
		{"rusty", registry.StateRusty, day, &registry.Inspection{Observations: []registry.Observation{registry.Rust}}},
		{"surface rust", registry.StateSurfaceRust, day, &registry.Inspection{Observations: []registry.Observation{registry.SurfaceRust}}},
		{"cracked glue", registry.StateCrackedGlue, day, &registry.Inspection{Observations: []registry.Observation{registry.CrackedGlue}}},
		{"hanger bent", registry.StateHangerBent, day, &registry.Inspection{Observations: []registry.Observation{registry.HangerBent}}},
		{"not found", registry.StateNotFound, calendar.Span{}, &registry.Inspection{Found: &no}},
		{"not understood", registry.StateOther, calendar.Span{}, &registry.Inspection{Observations: []registry.Observation{registry.UnclearWords}}},
		{"called unsafe", registry.StateUnsafe, day, &registry.Inspection{Observations: []registry.Observation{registry.CalledUnsafe}}},
		{"removed is no sight of it", registry.StateRemoved, calendar.Span{}, nil},
		{"removed, and seen before", registry.StateRemoved, day, &registry.Inspection{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			change, _ := takeOver(t, listOf(row(3, "B1", func(r *registry.ListRow) {
				r.State, r.StateWords, r.CheckedOn = c.state, "as written", c.checked
			})), registry.Known{})
			if c.want == nil {
				if len(change.Inspections) != 0 {
					t.Errorf("inspections = %+v, want none", change.Inspections)
				}
				return
			}
			want := *c.want
			want.Level, want.DoneOn, want.Words, want.Origin = registry.Glance, c.checked, "as written", registry.Imported
			want.RecordedAt, want.AnchorID = entryAt, change.Anchors[0].ID
			got := change.Inspections[0]
			want.ID = got.ID
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("inspection (-want +got):\n%s", diff)
			}
		})
	}
}

// What a list says after "replaced 2019" is of the anchor that came instead.
func TestImportStateOfASuccessor(t *testing.T) {
	t.Parallel()
	replaced := calendar.Span{From: calendar.NewDate(2019, time.January, 1), To: calendar.NewDate(2019, time.December, 31), Words: "2019"}
	before, after := calendar.Exactly(replaced.To-1), calendar.Exactly(replaced.To+400)
	for _, c := range []struct {
		name    string
		next    registry.ListState
		checked calendar.Span
		want    []registry.Observation
		on      calendar.Span
	}{
		{"spins, checked since", registry.StateSpins, after, []registry.Observation{registry.Spins}, after},
		{"unsafe, checked perhaps before", registry.StateUnsafe, before, []registry.Observation{registry.CalledUnsafe}, calendar.Span{}},
		{"not understood, never checked", registry.StateOther, calendar.Span{}, []registry.Observation{registry.UnclearWords}, calendar.Span{}},
	} {
		change, _ := takeOver(t, listOf(row(3, "B1", func(r *registry.ListRow) {
			r.State, r.StateWords, r.ReplacedOn, r.NextState, r.CheckedOn = registry.StateReplaced, "as written", replaced, c.next, c.checked
		})), registry.Known{})
		old, next := change.Anchors[0], change.Anchors[1]
		var got []registry.Inspection
		for _, i := range change.Inspections {
			if i.AnchorID == next.ID {
				got = append(got, i)
			}
		}
		if !old.Removed || next.Removed || len(got) != 1 || !slices.Equal(got[0].Observations, c.want) || got[0].DoneOn != c.on || got[0].Words != "as written" {
			t.Errorf("%s: old removed %v, inspections of the new one %+v, want %v on %v", c.name, old.Removed, got, c.want, c.on)
		}
		for _, a := range change.Assessments {
			if a.AnchorID == next.ID && a.Standing == registry.NoProblem {
				t.Errorf("%s: no problem on record", c.name)
			}
		}
	}
}

func TestImportInstallation(t *testing.T) {
	t.Parallel()
	hole := 12 * quantity.Millimetre
	for name, edit := range map[string]func(*registry.ListRow){
		"a hole": func(r *registry.ListRow) { r.Hole = &hole },
		"a glue": func(r *registry.ListRow) { r.Glue = "resin" },
		"a date": func(r *registry.ListRow) { r.SetOn = calendar.Exactly(entryDay) },
		"a name": func(r *registry.ListRow) { r.SetBy = "Ada X." },
	} {
		c, _ := takeOver(t, listOf(row(3, "B1", edit)), registry.Known{})
		if len(c.Installations) != 1 || c.Installations[0].Origin != registry.Imported {
			t.Errorf("%s: installations = %+v, want one, imported", name, c.Installations)
		}
	}
	c, _ := takeOver(t, listOf(row(3, "B1", func(r *registry.ListRow) { r.HasHanger = true })), registry.Known{})
	if len(c.Installations) != 0 {
		t.Errorf("nothing of the setting: installations = %+v, want none", c.Installations)
	}
	if len(c.Fittings) != 1 || c.Fittings[0].Kind != registry.Hanger || c.Fittings[0].Metal != nil {
		t.Errorf("fittings = %+v, want one hanger of metal not known", c.Fittings)
	}
}

func TestImportCave(t *testing.T) {
	t.Parallel()
	lat, lon := 54.0, -2.0
	cave := func(words string) func(*registry.ListRow) {
		return func(r *registry.ListRow) { r.SiteKind, r.CoordinateWords = registry.Cave, words }
	}
	first, _ := takeOver(t, listOf(row(3, "B1", cave("SD 1 2")), row(4, "B2", cave("SD 1 2")), row(5, "B3", cave("SD 3 4"))), registry.Known{})
	if got, want := first.Sites[0].CoordinateWords, "SD 1 2; SD 3 4"; got != want {
		t.Errorf("site's coordinates = %q, want %q", got, want)
	}
	known := after(registry.Known{}, first)
	known.Sites[0].Version = 1
	c, _ := takeOver(t, listOf(row(9, "B9", func(r *registry.ListRow) { // a list that takes it for a crag
		r.Lat, r.Lon, r.CoordinateWords = &lat, &lon, "54 N 2 W"
	})), known)
	if p := c.Positions[0]; p.Lat != nil || p.Lon != nil {
		t.Errorf("position in a known cave at %v, %v; want none", *p.Lat, *p.Lon)
	}
	if len(c.Sites) != 1 || c.Sites[0].Version != 1 || c.Sites[0].CoordinateWords != "SD 1 2; SD 3 4; 54 N 2 W" {
		t.Errorf("sites = %+v, want the known one with the words added", c.Sites)
	}
}

func TestImportAssemblies(t *testing.T) {
	t.Parallel()
	belay := func(r *registry.ListRow) { r.Role = registry.Belay }
	c, _ := takeOver(t, listOf(
		row(3, "belay L", belay), row(4, "belay R", belay), row(5, "belay 2 left", belay), row(6, "belay 2 right", belay),
		row(7, "top L", belay), // its right one is not on the list
		row(8, "B1 L", nil), row(9, "B1 R", nil),
	), registry.Known{})
	var got []string
	for _, a := range c.Assemblies {
		got = append(got, a.Name+" "+strconv.Itoa(len(a.PositionIDs))+string(a.Kind))
	}
	if diff := cmp.Diff([]string{"belay 2", "belay 2 2"}, got); diff != "" {
		t.Errorf("assemblies (-want +got):\n%s", diff)
	}
}

func TestImportRefusesWhatCannotBeStored(t *testing.T) {
	t.Parallel()
	thick := 300 * quantity.Millimetre
	_, r := takeOver(t, listOf(
		row(3, "B1", func(r *registry.ListRow) { r.Shank = &thick }),
		row(4, "", nil),
		row(5, "B3", func(r *registry.ListRow) { r.Hole = &thick }),
	), registry.Known{})
	var got []string
	for _, d := range r.Refusals {
		got = append(got, d.Code+" "+d.Values.Text("field")+" "+d.Values.Text("code"))
	}
	want := []string{
		registry.RefusedInvalid + " anchor.shank_diameter_mm out-of-range",
		registry.RefusedInvalid + " position.label blank",
		registry.RefusedInvalid + " hole_diameter_mm out-of-range",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("refusals (-want +got):\n%s", diff)
	}
}

func TestImportColumns(t *testing.T) {
	t.Parallel()
	list := registry.List{
		Headings: []string{"Bolt", "Size", "Grade?", "Bolt"},
		Columns:  map[string]string{"position": "Bolt", "diameter": "Size", "length": "Size"},
	}
	want := []report.Column{
		{Heading: "Bolt", Field: "position"},
		{Heading: "Size", Field: "diameter"},
		{Heading: "Size", Field: "length"},
		{Heading: "Grade?"},
		{Heading: "Bolt"},
	}
	if diff := cmp.Diff(want, columns(list)); diff != "" {
		t.Errorf("columns (-want +got):\n%s", diff)
	}
}

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

func TestImportReportIsKept(t *testing.T) {
	t.Parallel()
	c, r := takeOver(t, listOf(row(3, "B1", nil)), registry.Known{})
	var kept report.Import
	if err := json.Unmarshal(c.Import.Report, &kept); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(r, kept); diff != "" {
		t.Errorf("kept report (-want +got):\n%s", diff)
	}
	if r.ID != c.Import.ID.String() {
		t.Errorf("id = %q, want %v", r.ID, c.Import.ID)
	}
}

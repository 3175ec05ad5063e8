package app

import (
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

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

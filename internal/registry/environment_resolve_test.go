package registry_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// said is a statement about the wetness, from one day until another.
func said(id byte, kind registry.PlaceKind, from, until calendar.Date, w registry.Wetness) registry.Environment {
	return registry.Environment{
		ID: uuid.UUID{id}, Place: registry.Place{Kind: kind, ID: uuid.UUID{id + 100}}, From: from, Until: until, Wetness: w,
	}
}

// of puts a statement about the place of another.
func of(place byte, e registry.Environment) registry.Environment {
	e.Place.ID = uuid.UUID{place + 100}
	return e
}

// The nearest place wins for each field, of two of one kind the less
// favourable, of two statements about one place the later, then the greater id:
// judgement of this project.
func TestResolveEnvironment(t *testing.T) {
	t.Parallel()
	const dry, drips, stream = registry.Dry, registry.Dripping, registry.Stream
	tests := []struct {
		name string
		list []registry.Environment
		want registry.Wetness
	}{
		{"nothing stated", nil, ""},
		{"the site", []registry.Environment{said(1, registry.AtSite, 10, 0, dry)}, dry},
		{"the sector is nearer", []registry.Environment{said(1, registry.AtSite, 20, 0, dry), said(2, registry.AtSector, 10, 0, drips)}, drips},
		{"the route is nearer", []registry.Environment{said(1, registry.AtSector, 10, 0, dry), said(2, registry.AtRoute, 10, 0, drips)}, drips},
		{"the position is nearest", []registry.Environment{said(1, registry.AtPosition, 10, 0, dry), said(2, registry.AtRoute, 10, 0, drips)}, dry},
		{"nearer but silent", []registry.Environment{said(1, registry.AtPosition, 10, 0, ""), said(2, registry.AtSite, 10, 0, drips)}, drips},
		{"of two routes the wetter, not the later", []registry.Environment{said(1, registry.AtRoute, 30, 0, dry), said(2, registry.AtRoute, 20, 0, stream)}, stream},
		{"whichever comes first", []registry.Environment{said(1, registry.AtRoute, 20, 0, stream), said(2, registry.AtRoute, 30, 0, drips)}, stream},
		{"of one place the later", []registry.Environment{said(1, registry.AtRoute, 20, 0, stream), of(1, said(2, registry.AtRoute, 30, 0, dry))}, dry},
		{"of one day the greater id", []registry.Environment{of(2, said(1, registry.AtRoute, 20, 0, stream)), said(2, registry.AtRoute, 20, 0, dry)}, dry},
		{
			"each route by its later word",
			[]registry.Environment{said(1, registry.AtRoute, 20, 0, stream), of(1, said(2, registry.AtRoute, 30, 0, dry)), said(3, registry.AtRoute, 10, 0, drips)},
			drips,
		},
		{"not begun", []registry.Environment{said(1, registry.AtPosition, 101, 0, dry), said(2, registry.AtSite, 10, 0, drips)}, drips},
		{"begins today", []registry.Environment{said(1, registry.AtPosition, 100, 0, dry)}, dry},
		{"ends today", []registry.Environment{said(1, registry.AtPosition, 10, 100, dry)}, dry},
		{"over", []registry.Environment{said(1, registry.AtPosition, 10, 99, dry), said(2, registry.AtSite, 10, 0, drips)}, drips},
	}
	for _, test := range tests {
		if got := registry.ResolveEnvironment(test.list, 100).Wetness; got != test.want {
			t.Errorf("%s: wetness = %q, want %q", test.name, got, test.want)
		}
	}
}

// What is less favourable, field by field: judgement of this project.
func TestTwoRoutesThatDisagree(t *testing.T) {
	t.Parallel()
	number := func(v float64) *float64 { return &v }
	no, yes := false, true
	good, bad := said(1, registry.AtRoute, 30, 0, registry.Dry), said(2, registry.AtRoute, 20, 0, registry.Dripping)
	good.TemperatureC, bad.TemperatureC = number(5), number(15)
	good.HumidityPct, bad.HumidityPct = number(60), number(80)
	good.SulphurDioxide, bad.SulphurDioxide = number(1), number(9)
	good.Chloride, bad.Chloride = number(2), number(100)
	good.SeaKm, bad.SeaKm = number(20), number(0.5)
	good.RoadKm, bad.RoadKm = number(5), number(0.05)
	good.SurfaceMaxC, bad.SurfaceMaxC = number(15), number(35)
	good.MineralSalts, bad.MineralSalts = &no, &yes
	good.Washed, bad.Washed = &yes, &no
	good.Coast, bad.Coast = registry.BalticOrGermanNorthSea, registry.OtherCoast
	good.SteelCategory, bad.SteelCategory = "C2", "C4"
	good.ZincCategory, bad.ZincCategory = "C2", "C4"
	good.CopperCategory, bad.CopperCategory = "C2", "C4"
	good.AluminiumCategory, bad.AluminiumCategory = "C2", "CX"
	got := registry.ExplainEnvironment([]registry.Environment{good, bad}, 100)
	if d := cmp.Diff(registry.ExplainEnvironment([]registry.Environment{bad}, 100), got); d != "" || len(got) != 15 {
		t.Errorf("ExplainEnvironment of both (-the worse alone +got):\n%s", d)
	}
}

func TestExplainEnvironment(t *testing.T) {
	t.Parallel()
	far, no := 12.5, false
	site := said(1, registry.AtSite, 10, 0, registry.Dry)
	site.SeaKm, site.Washed = &far, &no
	route := said(2, registry.AtRoute, 20, 0, registry.Dripping)
	want := []registry.EnvironmentField{
		{Field: "sea_km", Value: "12.5", Place: site.Place, EnvironmentID: site.ID, From: 10},
		{Field: "wetness", Value: "dripping", Place: route.Place, EnvironmentID: route.ID, From: 20},
		{Field: "washed", Value: "false", Place: site.Place, EnvironmentID: site.ID, From: 10},
	}
	if d := cmp.Diff(want, registry.ExplainEnvironment([]registry.Environment{site, route}, 100)); d != "" {
		t.Errorf("ExplainEnvironment (-want +got):\n%s", d)
	}
}

// Both say the same, whatever the order of the list.
func TestExplainedIsResolved(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOfNDistinct(rapid.Custom(anyEnvironment), 0, 5, func(e registry.Environment) uuid.UUID { return e.ID }).Draw(t, "statements")
		shuffled := rapid.Permutation(list).Draw(t, "reordered")
		resolved := registry.ResolveEnvironment(list, 100)
		if d := cmp.Diff(resolved, registry.ResolveEnvironment(shuffled, 100)); d != "" {
			t.Fatalf("reordered (-want +got):\n%s", d)
		}
		var got []string
		for _, f := range registry.ExplainEnvironment(shuffled, 100) {
			got = append(got, f.Field+" "+f.Value)
		}
		var want []string
		for _, f := range registry.ExplainEnvironment([]registry.Environment{resolved}, 100) {
			want = append(want, f.Field+" "+f.Value)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("explained (-resolved +explained):\n%s", d)
		}
	})
}

func anyEnvironment(t *rapid.T) registry.Environment {
	number := func(name string) *float64 {
		if rapid.Bool().Draw(t, name+" known") {
			v := float64(rapid.IntRange(0, 50).Draw(t, name))
			return &v
		}
		return nil
	}
	flag := func(name string) *bool {
		if rapid.Bool().Draw(t, name+" known") {
			v := rapid.Bool().Draw(t, name)
			return &v
		}
		return nil
	}
	category := func(name string) registry.Category {
		return rapid.SampledFrom(append(registry.Categories(), "")).Draw(t, name)
	}
	e := said(rapid.Byte().Draw(t, "id"), rapid.SampledFrom(registry.PlaceKinds()).Draw(t, "place"),
		calendar.Date(rapid.IntRange(90, 110).Draw(t, "from")), 0, rapid.SampledFrom(append(registry.Wetnesses(), "")).Draw(t, "wetness"))
	e.ID[1] = rapid.Byte().Draw(t, "id's second byte")
	e.ID[2] = rapid.Byte().Draw(t, "id's third byte")
	e.TemperatureC, e.HumidityPct, e.SulphurDioxide, e.Chloride = number("temperature"), number("humidity"), number("sulphur"), number("chloride")
	e.SeaKm, e.RoadKm, e.SurfaceMaxC = number("sea"), number("road"), number("surface")
	e.MineralSalts, e.Washed = flag("salts"), flag("washed")
	e.SteelCategory, e.ZincCategory, e.CopperCategory, e.AluminiumCategory = category("steel"), category("zinc"), category("copper"), category("aluminium")
	e.Coast = rapid.SampledFrom(append(registry.Coasts(), "")).Draw(t, "coast")
	return e
}

func TestPresetsAreValidAndNameTheirSource(t *testing.T) {
	t.Parallel()
	for _, k := range registry.SiteKinds() {
		e := registry.Preset(k)
		if e.Preset == "" {
			continue
		}
		if e.Place.Kind, e.From = registry.AtSite, 1; e.Validate() != nil || e.Source == "" {
			t.Errorf("Preset(%v) = %+v, %v, want a valid one with its source", k, e, e.Validate())
		}
	}
	cliff, cave := registry.Preset(registry.SeaCliff), registry.Preset(registry.Cave)
	if cliff.SeaKm == nil || *cliff.SeaKm != 0 || cliff.Washed != nil || cave.Wetness != registry.Dripping || registry.Preset(registry.Crag).Preset != "" {
		t.Errorf("presets: sea cliff %+v, cave %+v, want the sea at 0 km, washing open, dripping rock, and none for a crag", cliff, cave)
	}
}

package demo

import (
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// fashion is how anchors were set in a span of years at one kind of place.
type fashion struct {
	until  int // last year of the fashion
	form   registry.Form
	metal  metal.Set
	words  string
	shank  float64 // mm
	length float64 // mm
	hole   float64 // mm
}

// sitePlan is one invented site.
type sitePlan struct {
	name     string
	kind     registry.SiteKind
	rock     registry.RockClass
	words    string
	lat, lon float64
	owner    string
	parcel   string
	sectors  []sectorPlan
	fashions []fashion
}

// sectorPlan is a sector with its routes.
type sectorPlan struct {
	name   string
	routes []string
}

func set(grades ...metal.Grade) metal.Set { return metal.NewSet(grades...) }

var cragFashions = []fashion{
	{2002, registry.WedgeAnchor, set("steel-zinc-electroplated"), "zinc plated", 10, 80, 10},
	{2009, registry.ThroughBolt, set("1.4301"), "A2 / 304", 10, 80, 10},
	{2016, registry.SingleShank, set("1.4401", "1.4404"), "A4", 10, 90, 12},
	{2100, registry.TwistedLeg, set("1.4404"), "316L", 8, 100, 12},
}

var seaFashions = []fashion{
	{1999, registry.ThroughBolt, set("1.4301"), "304", 10, 80, 10},
	{2014, registry.SingleShank, set("1.4404"), "316L", 10, 100, 12},
	{2100, registry.TwistedLeg, set("titanium-2"), "Ti grade 2", 8, 100, 12},
}

var caveFashions = []fashion{
	{2003, registry.SelfDrillSleeve, set("steel-zinc-electroplated"), "plated sleeve", 8, 30, 12},
	{2013, registry.ThroughBolt, set("1.4401"), "316", 8, 75, 8},
	{2100, registry.TwistedLeg, set("1.4404"), "316L", 8, 100, 12},
}

// plan is the invented group's ground.
var plan = []sitePlan{
	{
		"Varrow Scar", registry.Crag, registry.RockHard, "limestone", 54.4021, -2.1817, "Harrowby Commons Trust (invented)", "The Scar and the scree below",
		[]sectorPlan{
			{"Pulpit", []string{"Borrowed Ladder", "Slow Arithmetic", "Tin Whistle", "Second Helping"}},
			{"Long Wall", []string{"Weathercock", "Paper Lantern", "Half a Crown", "Grey Matter"}},
			{"Quiet End", []string{"Late Harvest", "Cold Porridge", "Spare Key"}},
		},
		cragFashions,
	},
	{
		"Pellory Head", registry.SeaCliff, registry.RockOther, "granite", 50.7314, -4.9120, "Pellory Parish (invented)", "The headland",
		[]sectorPlan{
			{"South Zawn", []string{"Driftwood", "Salt Ledger", "Tide Table", "Storm Glass"}},
			{"Lantern Wall", []string{"Gannet", "Last Ferry", "Fathom Line", "Undertow"}},
		},
		seaFashions,
	},
	{
		"Hollin Deep Cave", registry.Cave, registry.RockHard, "limestone", 0, 0, "Hollin Farm (invented)", "Deep Pasture",
		[]sectorPlan{
			{"Entrance Series", []string{"Doorstep Pitch", "Window Pitch", "Coal Chute"}},
			{"Far Series", []string{"Organ Pitch", "Letterbox Traverse", "Damp Patience", "Sump Approach"}},
		},
		caveFashions,
	},
	{
		"Old Brackwater Quarry", registry.Quarry, registry.RockSoft, "sandstone", 53.1189, -1.7402, "Harrowby Commons Trust (invented)", "The old quarry",
		[]sectorPlan{
			{"Upper Bay", []string{"Day Shift", "Powder House", "Tally Board", "Winding Gear"}},
			{"Lower Bay", []string{"Blunt Chisel", "Dust Sheet", "Payday", "Narrow Gauge"}},
		},
		cragFashions,
	},
}

// people are invented.
var people = []string{
	"Tamsin V. (invented)", "Odo K. (invented)", "Wren A. (invented)",
	"Piers L. (invented)", "Maud S. (invented)", "Iolo F. (invented)",
}

// resins are generic and invented.
var resins = []struct{ name, chemistry string }{
	{"Slow resin, generic (invented)", "vinylester"},
	{"Two-part resin, generic (invented)", "epoxy"},
}

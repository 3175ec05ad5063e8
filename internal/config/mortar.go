package config

// Mortar works out how much mortar holes that are alike take. Lengths are
// millimetres, or carry their unit: "12 mm", "1/2 in".
type Mortar struct {
	HoleDiameter  string   `required:"" placeholder:"LENGTH" help:"Of the hole: 12, \"12 mm\" or \"1/2 in\"."`
	HoleDepth     string   `required:"" placeholder:"LENGTH" help:"Of the hole."`
	Embedded      string   `required:"" placeholder:"LENGTH" help:"Length of the steel in the hole."`
	ShankDiameter string   `placeholder:"LENGTH" help:"Of a smooth round shank; needed unless --steel-area is given."`
	SteelArea     *float64 `placeholder:"MM2" help:"Real section of the steel, mm2: for threads, notches and twisted legs."`
	Count         int      `default:"1" placeholder:"N" help:"How many anchors (default: 1)."`
	HolesEach     int      `default:"1" placeholder:"N" help:"Holes of one anchor, 2 for a staple (default: 1)."`
	Waste         *float64 `placeholder:"TIMES" help:"By how much more is injected than the hole keeps (default of this project: 1.3)."`
	CartridgeML   *float64 `name:"cartridge-ml" placeholder:"ML" help:"Content of a cartridge (default of this project: 300)."`
	PurgeML       *float64 `name:"purge-ml" placeholder:"ML" help:"Thrown away with each nozzle (default of this project: 10)."`
	Nozzles       *int     `placeholder:"N" help:"Nozzles of one cartridge (default: 1)."`
	Format        string   `enum:"text,json" default:"text" help:"text or json."`
}

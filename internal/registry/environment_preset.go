package registry

// The names of the presets.
const (
	PresetSeaCliff = "sea-cliff"
	PresetCave     = "cave"
)

// Preset returns the values that a new statement about a site of a kind starts
// from, with their source in words; the steward corrects them. A sea cliff
// stands at the sea; the rock of a cave drips. A crag or a quarry has none, as
// its distance to the sea decides and only people can say it: the result is
// then empty, and its Preset too.
//
// Source: default of this project.
func Preset(k SiteKind) Environment {
	switch k {
	case SeaCliff:
		var atSea float64
		return Environment{
			Preset: PresetSeaCliff, Source: "preset for a sea cliff, default of this project",
			SeaKm: &atSea, Coast: OtherCoast,
		}
	case Cave:
		return Environment{
			Preset: PresetCave, Source: "preset for a cave, default of this project",
			Wetness: Dripping,
		}
	}
	return Environment{}
}

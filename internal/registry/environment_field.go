package registry

import (
	"slices"
	"strconv"
)

// environmentField is one field of a climate.
type environmentField struct {
	name  string // in JSON
	known func(*Environment) bool
	text  func(*Environment) string
	worse func(a, b *Environment) bool // both known; equal is not worse
	take  func(to, from *Environment)
}

// environmentFields are the fields of a climate, in the order in which they
// are explained.
var environmentFields = []environmentField{
	greaterIsWorse("temperature_c", func(e *Environment) **float64 { return &e.TemperatureC }),
	greaterIsWorse("humidity_pct", func(e *Environment) **float64 { return &e.HumidityPct }),
	greaterIsWorse("sulphur_dioxide_mg_per_m2_day", func(e *Environment) **float64 { return &e.SulphurDioxide }),
	greaterIsWorse("chloride_mg_per_m2_day", func(e *Environment) **float64 { return &e.Chloride }),
	laterIsWorse("steel_category", Categories(), func(e *Environment) *Category { return &e.SteelCategory }),
	laterIsWorse("zinc_category", Categories(), func(e *Environment) *Category { return &e.ZincCategory }),
	laterIsWorse("copper_category", Categories(), func(e *Environment) *Category { return &e.CopperCategory }),
	laterIsWorse("aluminium_category", Categories(), func(e *Environment) *Category { return &e.AluminiumCategory }),
	lessIsWorse("sea_km", func(e *Environment) **float64 { return &e.SeaKm }),
	lessIsWorse("road_km", func(e *Environment) **float64 { return &e.RoadKm }),
	laterIsWorse("coast", Coasts(), func(e *Environment) *Coast { return &e.Coast }),
	worseIf("mineral_salts", true, func(e *Environment) **bool { return &e.MineralSalts }),
	laterIsWorse("wetness", Wetnesses(), func(e *Environment) *Wetness { return &e.Wetness }),
	worseIf("washed", false, func(e *Environment) **bool { return &e.Washed }),
	greaterIsWorse("surface_max_c", func(e *Environment) **float64 { return &e.SurfaceMaxC }),
}

func greaterIsWorse(name string, at func(*Environment) **float64) environmentField {
	return pointed(name, at, number, func(a, b float64) bool { return a > b })
}

func lessIsWorse(name string, at func(*Environment) **float64) environmentField {
	return pointed(name, at, number, func(a, b float64) bool { return a < b })
}

func worseIf(name string, bad bool, at func(*Environment) **bool) environmentField {
	return pointed(name, at, strconv.FormatBool, func(a, b bool) bool { return a == bad && b != bad })
}

// pointed is a field that is known where it points to something.
func pointed[T any](name string, at func(*Environment) **T, text func(T) string, worse func(a, b T) bool) environmentField {
	return environmentField{
		name:  name,
		known: func(e *Environment) bool { return *at(e) != nil },
		text:  func(e *Environment) string { return text(**at(e)) },
		worse: func(a, b *Environment) bool { return worse(**at(a), **at(b)) },
		take:  func(to, from *Environment) { *at(to) = *at(from) },
	}
}

// laterIsWorse is a field whose word is one of a list, the worst last; a blank
// one is not known.
func laterIsWorse[T ~string](name string, list []T, at func(*Environment) *T) environmentField {
	return environmentField{
		name:  name,
		known: func(e *Environment) bool { return *at(e) != "" },
		text:  func(e *Environment) string { return string(*at(e)) },
		worse: func(a, b *Environment) bool { return slices.Index(list, *at(a)) > slices.Index(list, *at(b)) },
		take:  func(to, from *Environment) { *at(to) = *at(from) },
	}
}

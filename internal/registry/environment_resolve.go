package registry

import (
	"bytes"
	"cmp"
	"slices"
	"strconv"

	"rockledger/internal/calendar"
)

// ResolveEnvironment returns what the statements in force on a day say
// together: for each field the nearest place that states it wins, of two
// statements at places of one kind (two routes, or dates that overlap) the one
// that began later, then the one with the greater id. The order of the list
// means nothing; it is not modified.
//
// The list is of one position: statements about itself, its routes, its sector
// and its site. Of the result only the fields of the climate are set; those
// that nobody stated are not known.
func ResolveEnvironment(list []Environment, asOf calendar.Date) Environment {
	var e Environment
	var room [4]*Environment
	for _, from := range inForce(room[:0], list, asOf) {
		e.complete(from)
	}
	return e
}

// ExplainEnvironment returns the fields of ResolveEnvironment that are stated,
// each with where it came from, in a fixed order.
func ExplainEnvironment(list []Environment, asOf calendar.Date) []EnvironmentField {
	ordered := inForce(nil, list, asOf)
	var out []EnvironmentField
	for _, field := range environmentFields {
		for _, e := range ordered {
			if text := field.text(e); text != "" {
				out = append(out, EnvironmentField{field.name, text, e.Place, e.ID, e.From})
				break
			}
		}
	}
	return out
}

// inForce appends the statements that hold on a day, the one that wins first.
func inForce(out []*Environment, list []Environment, asOf calendar.Date) []*Environment {
	for i := range list {
		if list[i].InForce(asOf) {
			out = append(out, &list[i])
		}
	}
	slices.SortFunc(out, func(a, b *Environment) int {
		return cmp.Or(
			cmp.Compare(a.Place.Kind.distance(), b.Place.Kind.distance()),
			cmp.Compare(b.From, a.From),
			bytes.Compare(b.ID[:], a.ID[:]))
	})
	return out
}

// distance orders kinds of place, the nearest 0.
func (k PlaceKind) distance() int {
	switch k {
	case AtPosition:
		return 0
	case AtRoute:
		return 1
	case AtSector:
		return 2
	}
	return 3
}

// complete takes over every field of the climate that is not known yet.
func (e *Environment) complete(from *Environment) {
	take(&e.TemperatureC, from.TemperatureC)
	take(&e.HumidityPct, from.HumidityPct)
	take(&e.SulphurDioxide, from.SulphurDioxide)
	take(&e.Chloride, from.Chloride)
	take(&e.SeaKm, from.SeaKm)
	take(&e.RoadKm, from.RoadKm)
	take(&e.MineralSalts, from.MineralSalts)
	take(&e.Washed, from.Washed)
	take(&e.SurfaceMaxC, from.SurfaceMaxC)
	e.SteelCategory = cmp.Or(e.SteelCategory, from.SteelCategory)
	e.ZincCategory = cmp.Or(e.ZincCategory, from.ZincCategory)
	e.CopperCategory = cmp.Or(e.CopperCategory, from.CopperCategory)
	e.AluminiumCategory = cmp.Or(e.AluminiumCategory, from.AluminiumCategory)
	e.Coast = cmp.Or(e.Coast, from.Coast)
	e.Wetness = cmp.Or(e.Wetness, from.Wetness)
}

func take[T any](to **T, from *T) {
	if *to == nil {
		*to = from
	}
}

// environmentFields are the fields of a climate by JSON name.
var environmentFields = []struct {
	name string
	text func(*Environment) string
}{
	{"temperature_c", func(e *Environment) string { return numberText(e.TemperatureC) }},
	{"humidity_pct", func(e *Environment) string { return numberText(e.HumidityPct) }},
	{"sulphur_dioxide_mg_per_m2_day", func(e *Environment) string { return numberText(e.SulphurDioxide) }},
	{"chloride_mg_per_m2_day", func(e *Environment) string { return numberText(e.Chloride) }},
	{"steel_category", func(e *Environment) string { return string(e.SteelCategory) }},
	{"zinc_category", func(e *Environment) string { return string(e.ZincCategory) }},
	{"copper_category", func(e *Environment) string { return string(e.CopperCategory) }},
	{"aluminium_category", func(e *Environment) string { return string(e.AluminiumCategory) }},
	{"sea_km", func(e *Environment) string { return numberText(e.SeaKm) }},
	{"road_km", func(e *Environment) string { return numberText(e.RoadKm) }},
	{"coast", func(e *Environment) string { return string(e.Coast) }},
	{"mineral_salts", func(e *Environment) string { return flagText(e.MineralSalts) }},
	{"wetness", func(e *Environment) string { return string(e.Wetness) }},
	{"washed", func(e *Environment) string { return flagText(e.Washed) }},
	{"surface_max_c", func(e *Environment) string { return numberText(e.SurfaceMaxC) }},
}

func numberText(v *float64) string {
	if v == nil {
		return ""
	}
	return number(*v)
}

func flagText(v *bool) string {
	if v == nil {
		return ""
	}
	return strconv.FormatBool(*v)
}

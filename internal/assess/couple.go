package assess

import (
	"slices"

	"rockledger/internal/calendar"
	"rockledger/internal/corrosion"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// materials are the groups of the anodic index that grades fall in.
var materials = func() []corrosion.Material {
	var list []corrosion.Material
	for _, e := range metal.All() {
		if m, ok := corrosion.MaterialOf(e.Grade); ok && !slices.Contains(list, m) {
			list = append(list, m)
		}
	}
	return list
}()

func materialBit(g metal.Grade) int {
	m, ok := corrosion.MaterialOf(g)
	if !ok {
		return 0
	}
	return 1 << slices.Index(materials, m)
}

// farApart and mixed hold, for each material's bit, those of the materials that
// it is too far apart from, or merely different from, outdoors.
var farApart, mixed = func() (far, other []int) {
	far, other = make([]int, len(materials)), make([]int, len(materials))
	for i, a := range materials {
		for k, b := range materials {
			switch coupleOf(a, b) {
			case registry.FarApart:
				far[i] |= 1 << k
			case registry.MixedMetals:
				other[i] |= 1 << k
			}
		}
	}
	return far, other
}()

// coupleOf judges two materials that touch outdoors. Zinc on steel is meant to
// go first, and titanium with stainless steel is low: both are merely mixed.
// Two zinc coatings are one material here.
func coupleOf(a, b corrosion.Material) registry.Couple {
	zinc := []corrosion.Material{corrosion.ZincPlate, corrosion.HotDipZinc}
	if a == b || slices.Contains(zinc, a) && slices.Contains(zinc, b) {
		return ""
	}
	c, err := corrosion.CoupleOf(a, b, corrosion.Harsh)
	meant := slices.Contains(c.Advice, corrosion.Sacrificial) || slices.Contains(c.Advice, corrosion.PassivePair)
	if err == nil && !c.Within && !meant {
		return registry.FarApart
	}
	return registry.MixedMetals
}

// couples judges every fitting that hangs against the anchor and the other
// fittings; nil if there are none.
func couples(f *registry.Facts, anchor int, asOf calendar.Date) []registry.Couple {
	if len(f.Fittings) == 0 {
		return nil
	}
	out := make([]registry.Couple, len(f.Fittings))
	for i := range f.Fittings {
		if !present(&f.Fittings[i], asOf) {
			continue
		}
		bits := materialsOf(f.Fittings[i].Metal)
		worst := touch(bits, anchor)
		for k := range f.Fittings {
			if k != i && present(&f.Fittings[k], asOf) {
				worst = worseCouple(worst, touch(bits, materialsOf(f.Fittings[k].Metal)))
			}
		}
		out[i] = worst
	}
	return out
}

func present(f *registry.Fitting, asOf calendar.Date) bool {
	return f.Presence == registry.Present && f.Hangs(asOf)
}

func materialsOf(s metal.Set) int {
	bits := 0
	for _, g := range s {
		bits |= traitsOf[g].material
	}
	return bits
}

// touch returns the worst couple that two sets of materials can be. Sets that
// can be one material are not held to be mixed.
func touch(a, b int) registry.Couple {
	different := a&b == 0 && a != 0 && b != 0
	worst := registry.Couple("")
	for i := range materials {
		switch {
		case a&(1<<i) == 0:
		case farApart[i]&b != 0:
			return registry.FarApart
		case different && mixed[i]&b != 0:
			worst = registry.MixedMetals
		}
	}
	return worst
}

func worseCouple(a, b registry.Couple) registry.Couple {
	if a == registry.FarApart || b == "" {
		return a
	}
	return b
}

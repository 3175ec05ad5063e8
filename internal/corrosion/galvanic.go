package corrosion

import (
	"slices"

	"rockledger/internal/fault"
	"rockledger/internal/metal"
)

// Centivolts is an electrical potential in hundredths of a volt, whole so that
// a difference can be compared with a limit exactly.
type Centivolts int

// Volts returns v in volts.
func (v Centivolts) Volts() float64 { return float64(v) / 100 }

// Material is a group of the anodic index.
type Material string

// The materials.
const (
	Gold             Material = "gold"
	Silver           Material = "silver"
	Nickel           Material = "nickel"
	TitaniumMetal    Material = "titanium"
	CopperMetal      Material = "copper"
	Brass            Material = "brass"
	HighBrass        Material = "high-brass"
	Stainless18      Material = "stainless-18-chromium"
	Stainless12      Material = "stainless-12-chromium"
	TinPlate         Material = "tin-plate"
	Lead             Material = "lead"
	Aluminium2000    Material = "aluminium-2000"
	PlainSteel       Material = "carbon-steel"
	AluminiumWrought Material = "aluminium-wrought"
	AluminiumCast    Material = "aluminium-cast"
	Cadmium          Material = "cadmium"
	HotDipZinc       Material = "hot-dip-zinc"
	ZincPlate        Material = "zinc-plate"
	Magnesium        Material = "magnesium"
)

// anodicIndex lists the materials against gold, noble ones first. Seen in design
// charts that agree, but for wrought aluminium and hot-dip zinc, and which row
// plain steel belongs to: from memory. Charts differ; this is the one used here.
var anodicIndex = []struct {
	material Material
	index    Centivolts
}{
	{Gold, 0},
	{Silver, 15},
	{Nickel, 30},
	{TitaniumMetal, 30},
	{CopperMetal, 35},
	{Brass, 40},
	{HighBrass, 45},
	{Stainless18, 50},
	{Stainless12, 60},
	{TinPlate, 60},
	{Lead, 70},
	{Aluminium2000, 75},
	{PlainSteel, 85},
	{AluminiumWrought, 90},
	{AluminiumCast, 95},
	{Cadmium, 95},
	{HotDipZinc, 120},
	{ZincPlate, 125},
	{Magnesium, 175},
}

// AnodicIndex returns how anodic a material is against gold, false for one that
// is not in the table. It is a guide of equipment design, not a clause of a
// corrosion standard.
func AnodicIndex(m Material) (Centivolts, bool) {
	for _, row := range anodicIndex {
		if row.material == m {
			return row.index, true
		}
	}
	return 0, false
}

// MaterialOf returns the group of a grade, false for one that is not in the
// table of metals. Coated steel is its coating; sherardised counts as zinc plate.
func MaterialOf(g metal.Grade) (Material, bool) {
	switch g {
	case metal.SteelElectroplated, metal.SteelSherardised:
		return ZincPlate, true
	case metal.SteelHotDipGalvanised:
		return HotDipZinc, true
	}
	switch familyOf(g) {
	case metal.Austenitic, metal.SuperAustenitic, metal.Duplex:
		return Stainless18, true
	case metal.Ferritic:
		return Stainless12, true
	case metal.TitaniumFamily:
		return TitaniumMetal, true
	case metal.CarbonSteel:
		return PlainSteel, true
	case metal.AluminiumFamily:
		return AluminiumWrought, true
	}
	return "", false
}

// Surrounding is what a couple of metals is exposed to.
type Surrounding string

// The surroundings, with the greatest difference allowed in each.
const (
	Harsh      Surrounding = "harsh"      // outdoors, humid, salt: 0.15 V
	Normal     Surrounding = "normal"     // in a store, not controlled: 0.25 V
	Controlled Surrounding = "controlled" // temperature and humidity: 0.50 V
)

// LimitIn returns the greatest difference of the anodic index allowed in a
// surrounding, false for one that is not in the list.
func LimitIn(s Surrounding) (Centivolts, bool) {
	switch s {
	case Harsh:
		return 15, true
	case Normal:
		return 25, true
	case Controlled:
		return 50, true
	}
	return 0, false
}

// Advice is a word beside the bare difference of a couple.
type Advice string

// The advices.
const (
	// PassivePair: titanium with passive stainless steel. The index puts them
	// 0.20 V apart, the seawater series 0.05 V: low.
	PassivePair Advice = "passive-pair"
	// Sacrificial: zinc on its own steel is a coating that is meant to go first.
	Sacrificial Advice = "sacrificial-coating"
	// AnodeSize: the worst case is a small anode on a large cathode, as a plated
	// bolt in a stainless hanger.
	AnodeSize Advice = "small-anode-is-worst"
)

// Couple is two metals that touch.
type Couple struct {
	Difference, Limit Centivolts
	// Within: the difference is at most the limit.
	Within bool
	// Anode is the one that is eaten, blank if neither is.
	Anode  Material
	Advice []Advice
}

// CoupleOf returns how two materials get on where they touch in a surrounding:
// the difference of their anodic indexes against the limit, which may be met.
//
// The index knows no difference between active and passive stainless steel, and
// nothing of areas or of what wets both; Advice says so where it matters.
//
// CoupleOf returns an error of kind fault.Invalid for a material or a surrounding
// that is not in the list.
//
// Source: anodic index and limits of equipment design charts, see AnodicIndex;
// the advice is judgement of this project, that on titanium upon ASTM G82.
func CoupleOf(a, b Material, in Surrounding) (Couple, error) {
	limit, okLimit := LimitIn(in)
	ia, okA := AnodicIndex(a)
	ib, okB := AnodicIndex(b)
	if !okLimit || !okA || !okB {
		return Couple{}, fault.Reject(fault.Unknown, "couple %q with %q in %q", string(a), string(b), string(in))
	}
	c := Couple{Difference: max(ia, ib) - min(ia, ib), Limit: limit}
	c.Within = c.Difference <= limit
	switch {
	case ia > ib:
		c.Anode = a
	case ib > ia:
		c.Anode = b
	}
	c.Advice = adviceOn(a, b, c.Within)
	return c, nil
}

func adviceOn(a, b Material, within bool) []Advice {
	pair := []Material{a, b}
	has := func(m Material) bool { return slices.Contains(pair, m) }
	switch {
	case has(TitaniumMetal) && has(Stainless18):
		return []Advice{PassivePair}
	case has(PlainSteel) && (has(ZincPlate) || has(HotDipZinc)):
		return []Advice{Sacrificial}
	case !within:
		return []Advice{AnodeSize}
	}
	return nil
}

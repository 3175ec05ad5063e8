package corrosion

// SeaMetal is a metal of the galvanic series in flowing sea water.
type SeaMetal string

// The metals of the series that anchors are made of or meet.
const (
	SeaMagnesium           SeaMetal = "magnesium"
	SeaZinc                SeaMetal = "zinc"
	SeaAluminium3003       SeaMetal = "aluminium-3003"
	SeaAluminium6061       SeaMetal = "aluminium-6061"
	SeaCadmium             SeaMetal = "cadmium"
	SeaCarbonSteel         SeaMetal = "carbon-steel"
	SeaStainless430Active  SeaMetal = "430-active"
	SeaStainless304Active  SeaMetal = "304-active"
	SeaStainless410Active  SeaMetal = "410-active"
	SeaCopper              SeaMetal = "copper"
	SeaStainless430Passive SeaMetal = "430-passive"
	SeaStainless316Active  SeaMetal = "316-active"
	SeaTitanium            SeaMetal = "titanium"
	SeaStainless304Passive SeaMetal = "304-passive"
	SeaStainless316Passive SeaMetal = "316-passive"
	SeaGraphite            SeaMetal = "graphite"
)

// SeaPotential returns the potential of a metal in sea water against the
// saturated calomel electrode, false for one that is not in the table. A more
// negative one is the anode of a pair. In crevices stainless steel can be active.
//
// Source: ASTM G82, as issued by the US Naval Research Laboratory; active 316
// from another table of the same series, approximate.
func SeaPotential(m SeaMetal) (Centivolts, bool) {
	v, ok := seaPotentials[m]
	return v, ok
}

var seaPotentials = map[SeaMetal]Centivolts{
	SeaMagnesium: -164, SeaZinc: -103, SeaAluminium3003: -79, SeaAluminium6061: -76,
	SeaCadmium: -69, SeaCarbonSteel: -61, SeaStainless430Active: -57,
	SeaStainless304Active: -53, SeaStainless410Active: -52, SeaCopper: -36,
	SeaStainless430Passive: -22, SeaStainless316Active: -18, SeaTitanium: -10,
	SeaStainless304Passive: -8, SeaStainless316Passive: -5, SeaGraphite: 25,
}

// SeaDifference returns how far apart two metals are in sea water, never
// negative; 0 and false if either is not in the table.
func SeaDifference(a, b SeaMetal) (Centivolts, bool) {
	va, okA := seaPotentials[a]
	vb, okB := seaPotentials[b]
	if !okA || !okB {
		return 0, false
	}
	return max(va, vb) - min(va, vb), true
}

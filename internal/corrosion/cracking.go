package corrosion

import (
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
)

// Risk is how much a place favours stress-corrosion cracking.
type Risk string

// The risks.
const (
	RiskHigh   Risk = "high"
	RiskMedium Risk = "medium"
	RiskNone   Risk = "none"
	// RiskNotAsked: neither a source of chloride nor the distance of the sea is
	// on record, so that nothing can be said. It is not none.
	RiskNotAsked Risk = "not-asked"
)

// crackingFrom is the surface temperature from which chloride cracks stainless
// steel. Source: UIAA Safety Commission, notice of 2015 (20 degrees are enough,
// warmer is worse).
const crackingFrom quantity.Temperature = 20

// Cracking returns how much a place favours stress-corrosion cracking of
// stainless steel by chlorides.
//
// A source of chloride is necessary: the sea within 1 km, a sea cliff or sea
// cave, airborne salinity of S2 or more, a salted road within 100 m or a salted
// tunnel, or mineral salts. With a source, unwashed and a surface that reaches
// 20 degrees is high, one of the two medium, neither none. With the sea at 1 to
// 10 km and no source, both is medium. Washed is washed by rain: a cleaning
// regime is not counted on. Not known counts as unwashed and as warm, never as a
// source: without one, and with the distance of the sea not on record, the risk
// is not asked.
//
// Limits of distance belong to the nearer side. Rock type does not enter. An
// atmosphere category does not either, and never lowers the risk. A place that
// Validate rejects has no meaningful answer.
//
// Source: judgement of this project, upon the notices of the UIAA Safety
// Commission of 2009 and 2015, Corrosion 65 (2009) 105 and Corrosion 75 (2019)
// 1371; salted road within 100 m: the distance of EN 1993-1-4, Table A.1.
func Cracking(p *Place) Risk {
	unwashed := p.Washing != Rain
	warm := p.SurfaceTemperature == nil || !(*p.SurfaceTemperature < crackingFrom)
	source := p.chlorideSource()
	switch {
	case source && unwashed && warm:
		return RiskHigh
	case source && (unwashed || warm):
		return RiskMedium
	case source:
		return RiskNone
	case p.SeaDistance == nil && !p.Indoors:
		return RiskNotAsked
	case within(p.SeaDistance, 10*quantity.Kilometre) && unwashed && warm && !p.Indoors:
		return RiskMedium
	}
	return RiskNone
}

// chlorideSource reports whether a source of chloride is on record.
func (p *Place) chlorideSource() bool {
	switch {
	case p.MineralSalts != nil && *p.MineralSalts:
		return true
	case p.Chloride != nil && *p.Chloride >= S2:
		return true
	case p.Indoors:
		return false
	}
	return p.SeaCliff || p.Cave == CaveSea || p.RoadTunnel ||
		within(p.SeaDistance, quantity.Kilometre) || within(p.RoadDistance, 100*quantity.Metre)
}

// Concern is whether stress-corrosion cracking by chlorides concerns a metal.
type Concern string

// The concerns.
const (
	// Concerned: no inspection can rule a crack out.
	Concerned Concern = "concerned"
	// ExpertNeeded: laboratory results do not agree, or none were found.
	ExpertNeeded Concern = "expert-needed"
	NotConcerned Concern = "not-concerned"
)

// ConcernOf returns whether cracking by chlorides concerns a grade. Austenitic
// steels are concerned, 1.4404 and its kin too (316L has broken by hand beside
// the sea). Duplex steels need an expert, as do 1.4539 and ferritic steels, on
// which nothing was found. Titanium, 1.4529, 1.4547 and 1.4565 are not concerned,
// nor are metals that are no stainless steel: those waste away in the open
// instead. A grade that is not in the table needs an expert.
//
// Source: judgement of this project, upon J. Fail. Anal. Prev. 8 (2008) 410
// (316L), CEST 49 (2014) 535 and Metals 6 (2016) 167 (duplex), and EN 1993-1-4,
// Table A.4 (from memory), which keeps super duplex out of uncleaned pools.
func ConcernOf(g metal.Grade) Concern {
	switch family := familyOf(g); {
	case isHighAlloy(g), family == metal.TitaniumFamily,
		family == metal.CarbonSteel, family == metal.AluminiumFamily:
		return NotConcerned
	case family == metal.Austenitic:
		return Concerned
	}
	return ExpertNeeded
}

// isHighAlloy reports one of the austenitic grades of class V.
func isHighAlloy(g metal.Grade) bool { return g == "1.4529" || g == "1.4547" || g == "1.4565" }

package suspicion

import "rockledger/internal/rule"

// fillPlace gives the operands of the anchor's exposure.
func (j *judge) fillPlace() {
	o, x := &j.operands, j.exposure
	e := &x.Environment
	o.SetFlag(rule.EnvironmentKnown, x.EnvironmentKnown)
	o.SetNumber(rule.SeaKm, e.SeaKm)
	o.SetNumber(rule.RoadKm, e.RoadKm)
	o.SetNumber(rule.Chloride, e.Chloride)
	o.SetNumber(rule.SurfaceMax, e.SurfaceMaxC)
	if e.MineralSalts != nil {
		o.SetFlag(rule.MineralSalts, *e.MineralSalts)
	}
	if e.Washed != nil {
		o.SetFlag(rule.Washed, *e.Washed)
	}
	o.SetWords(rule.MetalKind, x.Kinds)
	o.SetWord(rule.RequiredClass, x.RequiredClass)
	o.SetNumber(rule.ClassesShort, x.ClassesShort)
	o.SetWord(rule.Cracking, x.Cracking)
	o.SetWords(rule.Concern, x.Concerns)
	o.SetWord(rule.Atmosphere, string(x.Atmosphere))
	o.SetDate(rule.CoatingGoneOn, x.CoatingGoneOn)
	o.SetDate(rule.SectionWatchOn, x.SectionWatchOn)
	o.SetDate(rule.SectionSuspectOn, x.SectionSuspectOn)
	o.SetDate(rule.ServiceEndsOn, x.ServiceEndsOn)
}

package suspicion

import (
	"bytes"

	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/rule"
)

// fillAnchor gives the operands that are the anchor's own.
func (j *judge) fillAnchor() {
	o, f := &j.operands, j.facts
	a, p := &f.Anchor, &f.Position
	o.SetWord(rule.Form, string(a.Form))
	if bonded := f.Bonded(); bonded != nil {
		o.SetFlag(rule.Bonded, *bonded)
	}
	o.SetDate(rule.AsOf, j.asOf)
	o.SetGrades(rule.Metal, a.Metal)
	o.SetDate(rule.SetOn, f.SetDay().From)
	setLength(o, rule.ShankDiameter, a.Shank)
	setLength(o, rule.OverallLength, a.Length)
	o.SetWord(rule.SiteKind, string(f.Site.Kind))
	o.SetWord(rule.Rock, string(f.Site.Rock))
	o.SetWord(rule.Traffic, string(f.Traffic))
	o.SetWord(rule.Role, string(p.Role))
	o.SetWord(rule.Face, string(p.Face))
	if p.BackedUp != nil {
		o.SetFlag(rule.BackedUp, *p.BackedUp)
	}
	j.fillInstallation()
}

func setLength(o *rule.Operands, v rule.Operand, l *quantity.Length) {
	if l != nil {
		mm := l.Millimetres()
		o.SetNumber(v, &mm)
	}
}

// fillInstallation gives what the installations say; of two sizes the
// later record's.
func (j *judge) fillInstallation() {
	o, f := &j.operands, j.facts
	var hole, depth *registry.Installation
	recorded, allowed, batch := false, true, false
	for k := range f.Installations {
		i := &f.Installations[k]
		batch = batch || f.AsSet(i).BatchID != nil
		if i.HoleDiameter != nil && laterSet(i, hole) {
			hole = i
		}
		if i.HoleDepth != nil && laterSet(i, depth) {
			depth = i
		}
		if i.Origin == registry.Recorded {
			recorded = true
			allowed = allowed && firstUseAfter(f.FirstUses, i)
		}
	}
	o.SetFlag(rule.BatchRecorded, batch)
	o.SetFlag(rule.InstallationRecorded, recorded)
	o.SetFlag(rule.FirstUseAllowed, allowed)
	if hole != nil {
		setLength(o, rule.HoleDiameter, hole.HoleDiameter)
	}
	if depth != nil {
		setLength(o, rule.HoleDepth, depth.HoleDepth)
	}
}

// laterSet orders installations by the earliest day, then by id.
func laterSet(i, than *registry.Installation) bool {
	if than == nil || i.DoneOn.From != than.DoneOn.From {
		return than == nil || i.DoneOn.From > than.DoneOn.From
	}
	return bytes.Compare(i.ID[:], than.ID[:]) > 0
}

// firstUseAfter says whether a person allowed first use after the anchor was
// surely set; the same day is after.
func firstUseAfter(list []registry.FirstUse, i *registry.Installation) bool {
	for k := range list {
		if list[k].DoneOn.Known() && list[k].DoneOn.From >= i.DoneOn.To {
			return true
		}
	}
	return false
}

// fillInspection gives the operands of one inspection.
func (j *judge) fillInspection(i *registry.Inspection) {
	o := &j.operands
	o.SetID(rule.RecordID, i.ID)
	o.SetWord(rule.SeenOrigin, string(i.Origin))
	o.SetWord(rule.SeenLevel, string(i.Level))
	o.SetDate(rule.SeenOn, i.DoneOn.From)
	o.SetDate(rule.SeenUntil, 0)
	if !i.DoneOn.Exact() {
		o.SetDate(rule.SeenUntil, i.DoneOn.To)
	}
}

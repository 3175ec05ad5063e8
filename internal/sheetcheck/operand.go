package sheetcheck

import (
	"math"
	"slices"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/rule"
)

// fill gives the operands of one setting.
func fill(o *rule.Operands, s *asSet, f *registry.Facts, r *houserules.Rules) {
	o.SetID(rule.RecordID, s.ID)
	o.SetWord(rule.Form, string(s.form))
	setFlag(o, rule.Bonded, s.bonded)
	o.SetDate(rule.InstalledOn, s.on.From)
	o.SetDate(rule.InstalledUntil, s.on.To)
	fillSizes(o, s, f)
	fillRock(o, s, f, r)
	fillHole(o, s)
	fillTemperatures(o, s)
	o.SetDate(rule.ExpiresOn, s.expiresOn())
	var t registry.CureTime
	if s.perhapsBonded() {
		t = s.cure(f, r)
		o.SetInstant(rule.NotBefore, t.NotBefore)
		surely, perhaps := s.loadedAt(f)
		o.SetInstant(rule.LoadedAt, surely)
		o.SetInstant(rule.LoadedPerhaps, perhaps)
		fillUse(o, s, f)
		o.SetWord(rule.SampleFound, string(s.session.SampleFound))
		o.SetDate(rule.SampleFoundOn, s.session.SampleFoundOn)
	}
	o.SetWords(rule.Gaps, s.gaps(f, &t))
}

// fillUse gives what was done with a setting recorded here, whether or not there
// is a cure time: a list says nothing of one.
func fillUse(o *rule.Operands, s *asSet, f *registry.Facts) {
	if s.Origin != registry.Recorded {
		return
	}
	o.SetInstant(rule.LoadRecorded, s.loadRecorded())
	o.SetFlag(rule.FirstUseAllowed, slices.ContainsFunc(f.FirstUses, s.since))
}

// fillSizes gives what was drilled and what sits in it.
func fillSizes(o *rule.Operands, s *asSet, f *registry.Facts) {
	setLength(o, rule.HoleDiameter, holeOf(f))
	shank := f.Anchor.Shank
	if v := s.hardware; v != nil {
		shank = orElse(shank, v.Shank)
		setLength(o, rule.MakerHole, v.Hole)
		setLength(o, rule.MakerEmbedded, v.Embedded)
		setLength(o, rule.SheetEdge, v.EdgeLeast)
		setLength(o, rule.SheetSpacing, v.SpacingLeast)
		setTorque(o, v.TorqueNM)
	}
	setLength(o, rule.ShankDiameter, shank)
	o.SetNumber(rule.Torque, s.TorqueNM)
	setLength(o, rule.EmbeddedLength, s.Embedded)
	setLength(o, rule.HoleDepth, s.HoleDepth)
	setLength(o, rule.EmbeddedAtMost, s.embeddedAtMost(f))
}

// torqueBand is how far a torque may be off the sheet's, as a part of it: what
// an ordinary torque wrench and a hand in a cave make of it. Judgement of this
// project.
const torqueBand = 0.2

// setTorque gives a sheet's torque, and what counts as kept to it, rounded to a
// hundredth of a newton metre.
func setTorque(o *rule.Operands, nm *float64) {
	if nm == nil {
		return
	}
	hundredth := func(v float64) *float64 { v = math.Round(v*100) / 100; return &v }
	o.SetNumber(rule.SheetTorque, nm)
	o.SetNumber(rule.TorqueLeast, hundredth(*nm*(1-torqueBand)))
	o.SetNumber(rule.TorqueMost, hundredth(*nm*(1+torqueBand)))
}

// holeOf returns the diameter of the hole, of two installations the later
// one's.
func holeOf(f *registry.Facts) *quantity.Length {
	last := f.LatestSet(func(i *registry.Installation) bool { return i.HoleDiameter != nil })
	if last == nil {
		return nil
	}
	return last.HoleDiameter
}

// embeddedAtMost returns the most of the anchor that can sit in the rock: the
// embedded length on record, but no anchor sits deeper than its hole, nor deeper
// than it is long. Nil: nothing of that is known.
func (s *asSet) embeddedAtMost(f *registry.Facts) *quantity.Length {
	long := f.Anchor.Length
	if long == nil && s.hardware != nil {
		long = s.hardware.Length
	}
	return shorter(s.Embedded, shorter(s.HoleDepth, long))
}

// shorter returns the shorter of two lengths, of which either may not be known.
func shorter(a, b *quantity.Length) *quantity.Length {
	if a == nil || b != nil && *b < *a {
		return b
	}
	return a
}

// fillRock gives the rock at the hole and what lies near it.
func fillRock(o *rule.Operands, s *asSet, f *registry.Facts, r *houserules.Rules) {
	rock := s.Rock
	if rock == "" {
		rock = f.Site.Rock
	}
	o.SetWord(rule.Rock, string(rock))
	o.SetWord(rule.SoundWhenSet, string(s.RockSound))
	setFlag(o, rule.CracksWhenSet, s.CracksSeen)
	setLength(o, rule.EdgeDistance, s.EdgeDistance)
	setLength(o, rule.NeighbourDistance, s.NeighbourDistance)
	setLength(o, rule.OldHoleDistance, s.OldHoleDistance)
	setHouse(o, rule.LeastEdge, r.Edge)
	setHouse(o, rule.LeastSpacing, r.Spacing)
	setHouse(o, rule.SoftRockEmbedded, r.SoftDepth)
}

// fillHole gives how the hole was cleaned and how wet it was, and what the sheet
// asks of that.
func fillHole(o *rule.Operands, s *asSet) {
	setWhole(o, rule.CleaningCycles, s.CleaningCycles)
	o.SetWord(rule.HoleMoisture, string(s.Moisture))
	if v := s.sheet; v != nil {
		setWhole(o, rule.SheetCycles, v.CleaningCycles)
		if t := tableOf(v); len(t.Allowed) > 0 && s.Moisture != "" {
			o.SetFlag(rule.MoistureAllowed, s.Moisture == registry.HoleDry || t.Allows(hole(s)))
		}
	}
}

// fillTemperatures gives what was read, and what the sheet asks for. What the
// house rules assume of a cave is no reading.
func fillTemperatures(o *rule.Operands, s *asSet) {
	low, _ := s.lowestRead()
	setReading(o, rule.RockLowest, low)
	setReading(o, rule.RockAtSetting, s.session.RockC)
	setReading(o, rule.CartridgeC, s.session.CartridgeC)
	if v := s.sheet; v != nil {
		from, to := bounds(v)
		setTemperature(o, rule.SheetRockLow, from)
		setTemperature(o, rule.SheetRockHigh, to)
		setTemperature(o, rule.SheetCartridgeLow, v.CartridgeLowC)
		setTemperature(o, rule.SheetCartridgeHigh, v.CartridgeHighC)
	}
}

// expiresOn is the earlier of what the cartridge and the batch say; zero if
// neither is known.
func (s *asSet) expiresOn() calendar.Date {
	on := s.session.ExpiresOn
	if s.batch != nil && !s.batch.ExpiresOn.IsZero() && (on.IsZero() || s.batch.ExpiresOn < on) {
		on = s.batch.ExpiresOn
	}
	return on
}

// bounds are the rock temperatures that a sheet covers, by its own word and its
// rows; nil if it says neither.
func bounds(v *registry.ProductVersion) (low, high *quantity.Temperature) {
	for k := range v.CureRows {
		row := &v.CureRows[k]
		if low == nil || row.FromC < *low {
			low = &row.FromC
		}
		if high == nil || row.ToC > *high {
			high = &row.ToC
		}
	}
	if c := v.RockLowC; c != nil && (low == nil || *c > *low) {
		low = c
	}
	if c := v.RockHighC; c != nil && (high == nil || *c < *high) {
		high = c
	}
	return low, high
}

func setFlag(o *rule.Operands, v rule.Operand, b *bool) {
	if b != nil {
		o.SetFlag(v, *b)
	}
}

func setLength(o *rule.Operands, v rule.Operand, l *quantity.Length) {
	if l != nil {
		mm := l.Millimetres()
		o.SetNumber(v, &mm)
	}
}

func setWhole(o *rule.Operands, v rule.Operand, n *int) {
	if n != nil {
		x := float64(*n)
		o.SetNumber(v, &x)
	}
}

func setHouse(o *rule.Operands, v rule.Operand, n houserules.Number) { setWhole(o, v, &n.Value) }

func setReading(o *rule.Operands, v rule.Operand, r *registry.Reading) {
	if r != nil {
		setTemperature(o, v, &r.C)
	}
}

func setTemperature(o *rule.Operands, v rule.Operand, t *quantity.Temperature) {
	if t != nil {
		c := t.Celsius()
		o.SetNumber(v, &c)
	}
}

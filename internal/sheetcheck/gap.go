package sheetcheck

import "rockledger/internal/registry"

// gap is one thing that nobody recorded of a setting, by the name of its field
// without unit; glued: asked only of what is bonded or may be.
type gap struct {
	name  string
	glued bool
	open  func(s *asSet) bool
}

// asked are the things that the check needs, in the order of the card.
var asked = []gap{
	{"hole_depth", false, func(s *asSet) bool { return s.HoleDepth == nil }},
	{"embedded_length", false, func(s *asSet) bool { return s.Embedded == nil }},
	{"cleaning_cycles", true, func(s *asSet) bool { return s.CleaningCycles == nil }},
	{"moisture", true, func(s *asSet) bool { return s.Moisture == "" }},
	{"set_at", true, func(s *asSet) bool { return !s.SetAt.Known() }},
	{"adhesive", true, func(s *asSet) bool { return s.adhesive == nil }},
	{"expires_on", true, func(s *asSet) bool { return s.expiresOn().IsZero() }},
	{"rock_temperature", true, func(s *asSet) bool { return s.session.RockC == nil }},
	{"cartridge_temperature", true, func(s *asSet) bool { return s.session.CartridgeC == nil }},
	{"sample_kept", true, func(s *asSet) bool { return s.session.SampleKept == nil }},
	{"set_by", true, func(s *asSet) bool { return s.PersonID == nil }},
}

// The gaps that rest on more than the setting itself.
const (
	gapLowest = "lowest_temperature" // of the rock until release
	gapCure   = "cure_time"
)

// Gaps lists what may be missing of a setting: words of wording's list.
func Gaps() []string {
	out := make([]string, len(asked), len(asked)+2)
	for i, g := range asked {
		out[i] = g.name
	}
	return append(out, gapLowest, gapCure)
}

// gaps lists what nobody recorded of a setting. A list is not asked, nor is a
// piton.
//
// It is a function and no rule since a rule is one finding, and a dozen of them
// for one unfinished card would hide what matters.
func (s *asSet) gaps(f *registry.Facts, t *registry.CureTime) []string {
	if s.Origin != registry.Recorded || s.form == registry.Piton {
		return nil
	}
	glued := s.perhapsBonded()
	var out []string
	for _, g := range asked {
		if (glued || !g.glued) && g.open(s) {
			out = append(out, g.name)
		}
	}
	if glued && f.Site.Kind != registry.Cave && !s.nightRead() {
		out = append(out, gapLowest)
	}
	if glued && t.Basis == registry.CureNone {
		out = append(out, gapCure)
	}
	return out
}

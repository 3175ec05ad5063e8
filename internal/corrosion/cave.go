package corrosion

import "rockledger/internal/metal"

// Cave is how a part of a cave is. Caves lie outside the model of ISO 9223: at
// about 100 % relative humidity they are beyond its range, and drips, guano and
// permanent films of water are not in it. No rate of loss in a natural cave was
// found published.
type Cave string

// The parts of caves.
const (
	CaveDry      Cave = "dry"
	CaveDripping Cave = "dripping"
	// CaveStream: in or by a stream, under guano, at an entrance with salt from
	// road or sea, or in water from pyrite or a mine.
	CaveStream Cave = "stream"
	CaveSea    Cave = "sea"
	// CaveNotKnown is a cave of which no more is on record; it counts as
	// dripping.
	CaveNotKnown Cave = "not-known"
)

// CaveCategory returns the category that stands in for the atmosphere of a cave,
// for steel and for zinc: dry C3, dripping and not known C4, stream C5, sea CX,
// and not known for a place that is no cave. In a sea cave cracking is asked too.
//
// Source: judgement of this project, guided by ISO 9223:2012, Annex C (mines and
// caverns with condensation: C5; near permanent condensation with chlorides: CX)
// and by figures for rail tunnels (ordinary C3, seepage C4, much seepage C5).
func CaveCategory(c Cave) Category {
	switch c {
	case CaveDry:
		return C3
	case CaveDripping, CaveNotKnown:
		return C4
	case CaveStream:
		return C5
	case CaveSea:
		return CX
	}
	return 0
}

// LastsUnderground reports whether a metal may stay in a cave for good, as far
// as uniform loss goes: titanium, and stainless steel of class III upwards (as
// 1.4404). Lower stainless grades should not, and plated steel, bare steel and
// aluminium must not. It does not ask about stress-corrosion cracking: see
// Suits.
//
// Source: judgement of this project.
func LastsUnderground(g metal.Grade) bool {
	c, ok := ClassOf(g)
	return familyOf(g) == metal.TitaniumFamily || ok && c >= ClassIII
}

package registry

import (
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
)

// WorkKind is what an anchor asks for.
type WorkKind string

// The kinds of work, heaviest first.
const (
	WorkReplace WorkKind = "replace" // a new anchor, the old one out
	WorkRepair  WorkKind = "repair"  // the anchor stays, something on it is put right
	WorkInspect WorkKind = "inspect" // look closely, then decide
)

// WorkKinds lists the kinds of work, heaviest first.
func WorkKinds() []WorkKind { return []WorkKind{WorkReplace, WorkRepair, WorkInspect} }

// Rank orders kinds of work, heaviest 1.
func (k WorkKind) Rank() int { return rankOf(k, WorkKinds()) + 1 }

// KitKind is what a line of a kit list is about.
type KitKind string

// The kinds of kit.
const (
	KitAnchor   KitKind = "anchor"   // a new anchor, with its form, metal and shank
	KitFitting  KitKind = "fitting"  // a hanger, ring, chain, maillon or hook
	KitNut      KitKind = "nut"      // a nut with its washer
	KitAdhesive KitKind = "adhesive" // for one bonded anchor
	KitHole     KitKind = "hole"     // a hole to drill, and the old one to fill
	KitTools    KitKind = "tools"    // what a hands-on inspection takes
	KitMarking  KitKind = "marking"  // what keeps people off an anchor that is out of use
	KitMending  KitKind = "mending"  // what putting right takes where no part of it is known
)

// KitKinds lists the kinds of kit.
func KitKinds() []KitKind {
	return []KitKind{KitAnchor, KitFitting, KitNut, KitAdhesive, KitHole, KitTools, KitMarking, KitMending}
}

// KitLine is one thing to bring, and how many of it.
type KitLine struct {
	Kind    KitKind
	Form    Form        // of a new anchor; empty: to be chosen at the rock
	Fitting FittingKind // of a fitting
	// Metal is any of the grades that suit the place. Empty: which do is not
	// known, or the thing has none to choose.
	Metal metal.Set
	// MetalOpen says that the metal cannot be named before the place's
	// environment is known.
	MetalOpen bool
	Shank     *quantity.Length // as the old one had it; nil: not known
	Count     int
}

// WorkItem is one anchor on a work list.
type WorkItem struct {
	Line  ReportLine
	Do    WorkKind
	For   []Finding // those that ask for work, worst first
	Bring []KitLine // each for this one anchor
}

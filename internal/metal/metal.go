// Package metal answers which grade an anchor's metal is or can be: the grades
// with their compositions, how people write them, and sets of grades.
//
// A set stands where the exact grade is not known. ISO 3506 marks name a class,
// not a grade: "A4" on a bolt does not tell 1.4401 from 1.4404. The package says
// nothing on how a metal fares in a place; that is corrosion's.
//
// Resistance classes (EN 1993-1-4:2006+A1:2015, Table A.3) and many of the
// compositions are stated from memory; each entry says which.
package metal

import (
	"slices"
	"sync"
)

// Grade is the id of a metal: an EN 10088 number for stainless steel, words for
// others.
type Grade string

// The grades that are not numbered after EN 10088.
const (
	Titanium1             Grade = "titanium-1"
	Titanium2             Grade = "titanium-2"
	Titanium5             Grade = "titanium-5"
	SteelBare             Grade = "steel-bare"
	SteelElectroplated    Grade = "steel-zinc-electroplated"
	SteelHotDipGalvanised Grade = "steel-hot-dip-galvanised"
	SteelSherardised      Grade = "steel-sherardised"
	Aluminium             Grade = "aluminium"
)

// Family groups grades that behave alike.
type Family string

// The families.
const (
	Austenitic      Family = "austenitic"
	SuperAustenitic Family = "super-austenitic"
	Duplex          Family = "duplex"
	Ferritic        Family = "ferritic"
	TitaniumFamily  Family = "titanium"
	CarbonSteel     Family = "carbon-steel"
	AluminiumFamily Family = "aluminium"
)

// Confidence says how the figures of an entry are known.
type Confidence string

// The confidences.
const (
	Found    Confidence = "found"  // seen in the source named
	Partly   Confidence = "partly" // some figures seen, the rest from memory
	Memory   Confidence = "memory" // from memory; check against the standard
	NoFigure Confidence = "none"   // the entry has no figures
)

// Range is a share of the mass in per cent, both limits included.
type Range struct{ Min, Max float64 }

// Limit is the share of an element, by its chemical symbol.
type Limit struct {
	Element string
	Range   Range
}

// Entry is what is known of a grade. It is not to be changed.
type Entry struct {
	Grade  Grade
	Family Family
	// CommonNames are what people call it, the most usual first. Some names
	// stand for several grades; see Parse.
	CommonNames []string
	// CRC is the corrosion resistance class of EN 1993-1-4, Table A.3 (from
	// memory), I as 1 to V as 5. 0: the table does not list the grade.
	CRC int
	// Cr, Ni, Mo and N are the limits of the standard; where it sets only an
	// upper one the lower is 0. Nil: no limit, or not in our reference.
	Cr, Ni, Mo, N *Range
	// Other limits our reference gives, as carbon, in no order that matters.
	Other []Limit
	// Source names the standard the composition is of. Empty: no composition.
	Source     string
	Confidence Confidence
}

// Stainless reports whether the entry is a stainless steel.
func (e Entry) Stainless() bool {
	switch e.Family {
	case Austenitic, SuperAustenitic, Duplex, Ferritic:
		return true
	}
	return false
}

// Lookup returns the entry of a grade, false if the table has none.
func Lookup(g Grade) (Entry, bool) {
	i, ok := index()[g]
	if !ok {
		return Entry{}, false
	}
	return entries[i], true
}

var index = sync.OnceValue(func() map[Grade]int {
	m := make(map[Grade]int, len(entries))
	for i, e := range entries {
		m[e.Grade] = i
	}
	return m
})

// All returns every entry, family by family. The slice is the caller's.
func All() []Entry { return slices.Clone(entries) }

// Of returns the grades of the given families.
func Of(families ...Family) Set {
	var grades []Grade
	for _, e := range entries {
		if slices.Contains(families, e.Family) {
			grades = append(grades, e.Grade)
		}
	}
	return NewSet(grades...)
}

// Stainless returns every stainless grade.
func Stainless() Set { return Of(Austenitic, SuperAustenitic, Duplex, Ferritic) }

// PREN returns the pitting resistance equivalent at the lower and the upper
// limit of the grade's composition,
//
//	PREN = Cr + 3.3 Mo + 16 N
//
// with shares in per cent of the mass. It ranks grades within a family only and
// says nothing of stress-corrosion cracking. For a decision take min unless
// there is a mill certificate. ok is false without a full composition, and for
// everything but austenitic and duplex stainless steel (for ferritics the term
// with nitrogen does not hold).
//
// Source: IMOA, "Stainless grades and properties".
func PREN(e Entry) (min, max float64, ok bool) {
	if e.Cr == nil || e.Mo == nil || e.N == nil || !e.Stainless() || e.Family == Ferritic {
		return 0, 0, false
	}
	pren := func(cr, mo, n float64) float64 { return cr + 3.3*mo + 16*n }
	return pren(e.Cr.Min, e.Mo.Min, e.N.Min), pren(e.Cr.Max, e.Mo.Max, e.N.Max), true
}

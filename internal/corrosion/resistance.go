package corrosion

import (
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// Class is a corrosion resistance class of stainless steel, I to V. A higher one
// resists more. The zero value is none.
type Class int

// The classes.
const (
	ClassI Class = iota + 1
	ClassII
	ClassIII
	ClassIV
	ClassV
)

// String returns "I" to "V", and nothing for no class.
func (c Class) String() string { return name(int(c), "", "I", "II", "III", "IV", "V") }

// Resistance is the corrosion resistance a place asks of stainless steel, and
// how that was scored.
type Resistance struct {
	// FromSea and FromRoad score chlorides of either origin by themselves; the
	// more negative one is F1.
	FromSea, FromRoad int
	F1, F2, F3        int
	// CRF is the corrosion resistance factor F1 + F2 + F3.
	CRF   int
	Class Class
	// Assumed names the fields that were not on record and what was done: see
	// Required. Nil: none.
	Assumed []Assumption
}

// Assumption is a field that is not on record, or outside the table, and the
// word for what it was taken for.
type Assumption struct{ Field, As string }

// Required returns the corrosion resistance class that a place asks of
// stainless steel,
//
//	CRF = F1 + F2 + F3
//
// where F1 scores chlorides (1 indoors, 0 to -15), F2 sulphur dioxide (0 to
// -10) and F3 washing (0 to -7, only if F1 + F2 < 0), all dimensionless. Class
// I is CRF 1, II above -7, III above -15, IV down to -20, V below.
//
// Sea and salted road are scored apart and the more negative one counts: the
// table's "or", taken literally, would let a distant sea clear a roadside crag.
//
// The distance of the sea must be on record, but for indoors, road tunnels and
// sea cliffs (taken as on the shore). Other fields not on record are named in
// Assumed: no salted road, low sulphur dioxide, no washing, the worse coast.
// More than 250 µg/m3 of sulphur dioxide, outside the table, scores as the worst
// row and is named too.
//
// The procedure is for Europe, for parts in the open, not immersed, splashed or
// in a hole. It never asks about stress-corrosion cracking, and a sheltered place
// far from the sea scores 0: see Cracking, which overrides it.
//
// Required returns an error of kind fault.Invalid, with fault.Required for
// FieldSeaDistance if that is missing, or what Validate finds.
//
// Source: EN 1993-1-4:2006+A1:2015, Annex A: F1 and F2 of Table A.1 from
// concordant copies, which limit belongs to which row, F3 and Table A.2 from
// memory; scoring sea and road apart is judgement of this project.
func Required(p *Place) (Resistance, error) {
	if err := p.Validate(); err != nil {
		return Resistance{}, err
	}
	return required(p)
}

// required takes a place that was checked.
func required(p *Place) (Resistance, error) {
	if p.Indoors {
		return Resistance{F1: 1, CRF: 1, Class: classFor(1)}, nil
	}
	sea := p.seaDistance()
	if sea == nil && !p.RoadTunnel {
		var c fault.Checks
		c.Require(false, FieldSeaDistance, fault.Required)
		return Resistance{}, c.Err()
	}
	var r Resistance
	r.scoreChlorides(p, sea)
	r.scoreSulphur(p)
	r.scoreWashing(p)
	r.CRF = r.F1 + r.F2 + r.F3
	r.Class = classFor(r.CRF)
	return r, nil
}

// seaDistance is the distance on record, on the shore at a sea cliff or in a sea
// cave.
func (p *Place) seaDistance() *quantity.Length {
	if p.SeaCliff || p.Cave == CaveSea {
		return new(quantity.Length)
	}
	return p.SeaDistance
}

func (r *Resistance) scoreChlorides(p *Place, sea *quantity.Length) {
	if sea != nil {
		r.FromSea = r.sea(*sea, p.Coast)
	}
	switch {
	case p.RoadTunnel:
		r.FromRoad = -10
	case p.RoadDistance == nil:
		r.assume(FieldRoadDistance, "none")
	case *p.RoadDistance <= 10*quantity.Metre:
		r.FromRoad = -7
	case *p.RoadDistance <= 100*quantity.Metre:
		r.FromRoad = -3
	}
	r.F1 = min(r.FromSea, r.FromRoad)
}

func (r *Resistance) sea(d quantity.Length, coast Coast) int {
	switch {
	case d > 10*quantity.Kilometre:
		return 0
	case d > quantity.Kilometre:
		return -3
	case d > 250*quantity.Metre:
		return -7
	case coast == BalticCoast:
		return -10
	case coast == "":
		r.assume(FieldCoast, string(OtherCoast))
	}
	return -15
}

func (r *Resistance) scoreSulphur(p *Place) {
	switch so2 := p.SulphurDioxide; {
	case so2 == nil:
		r.assume(FieldSulphurDioxideAir, "low")
	case *so2 >= 90:
		r.F2 = -10
		if *so2 > 250 {
			r.assume(FieldSulphurDioxideAir, "high")
		}
	case *so2 >= 10:
		r.F2 = -5
	}
}

func (r *Resistance) scoreWashing(p *Place) {
	if r.F1+r.F2 >= 0 {
		return
	}
	switch p.Washing {
	case Rain:
	case Cleaned:
		r.F3 = -2
	case "":
		r.assume(FieldWashing, string(Never))
		r.F3 = -7
	default:
		r.F3 = -7
	}
}

func (r *Resistance) assume(field, as string) {
	r.Assumed = append(r.Assumed, Assumption{field, as})
}

func classFor(crf int) Class {
	switch {
	case crf > 0:
		return ClassI
	case crf > -7:
		return ClassII
	case crf > -15:
		return ClassIII
	case crf >= -20:
		return ClassIV
	}
	return ClassV
}

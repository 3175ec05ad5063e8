package corrosion

import (
	"slices"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// Plating is a step of electroplated zinc.
type Plating struct {
	Designation string
	Local       quantity.Length // least thickness anywhere
	Use         string          // what the step is meant for
}

var platings = []Plating{
	{"Fe//Zn 5", 5 * quantity.Micrometre, "mild: indoors, dry"},
	{"Fe//Zn 8", 8 * quantity.Micrometre, "moderate: indoors, condensation now and then"},
	{"Fe//Zn 12", 12 * quantity.Micrometre, "severe: damp, or outdoors in a temperate climate"},
	{"Fe//Zn 25", 25 * quantity.Micrometre, "very severe: exposed outdoors"},
}

// Platings returns the steps of electroplated zinc on iron and steel, thinnest
// first. The slice is the caller's.
//
// Source: ISO 2081:2018; the uses by the service conditions of ASTM B633; both
// from memory.
func Platings() []Plating { return slices.Clone(platings) }

// Sherardising returns the least local thickness of the classes of sherardised
// zinc, thinnest first. The slice is the caller's.
//
// Source: a sherardiser's table of the standard's classes 15, 30 and 45.
func Sherardising() []quantity.Length {
	return []quantity.Length{15 * quantity.Micrometre, 30 * quantity.Micrometre, 45 * quantity.Micrometre}
}

// Article is what is dipped into molten zinc.
type Article string

// The articles.
const (
	Steel    Article = "steel"    // rolled or forged, not centrifuged
	Casting  Article = "casting"  // not centrifuged
	Threaded Article = "threaded" // bolts and nuts, centrifuged
)

// Thickness is what a standard asks of a coating at least: anywhere, and as a
// mean over the reference area.
type Thickness struct{ Local, Mean quantity.Length }

// HotDip returns the thickness of zinc that the standard asks for on an article
// of the given material thickness. For threaded ones the thickness does not
// matter. What is asked for when made is no measurement: a coating found today
// may be thinner.
//
// HotDip returns an error of kind fault.Invalid if the material thickness is not
// above 0 or not a finite number, or if the article is not known.
//
// Source: ISO 1461:2009, Table 3, not centrifuged; threaded: ISO 10684, as
// adopted in AS/NZS 1214:2016.
func HotDip(a Article, material quantity.Length) (Thickness, error) {
	if !finite(float64(material)) || material == 0 {
		return Thickness{}, fault.New(fault.Invalid, "material thickness %v mm: want > 0", material.Millimetres())
	}
	switch {
	case a == Threaded:
		return microns(40, 50), nil
	case a == Casting && material >= 6:
		return microns(70, 80), nil
	case a == Casting:
		return microns(60, 70), nil
	case a != Steel:
		return Thickness{}, fault.Reject(fault.Unknown, "article %q", string(a)).With("article", string(a))
	case material > 6:
		return microns(70, 85), nil
	case material > 3:
		return microns(55, 70), nil
	case material >= 1.5:
		return microns(45, 55), nil
	}
	return microns(35, 45), nil
}

func microns(local, mean quantity.Length) Thickness {
	return Thickness{Local: local * quantity.Micrometre, Mean: mean * quantity.Micrometre}
}

package app

import (
	"strconv"

	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/strength"
)

// SheetNotes says which figures of a product's sheet are below what EN 959:2018
// asks of a rock anchor as a product. They are type tests: nothing of them is
// asked of an anchor in service. None for an adhesive.
func SheetNotes(p registry.Product, v registry.ProductVersion) []report.SheetNote {
	if p.Kind != registry.Hardware {
		return nil
	}
	short := strength.EN959(strength.Sheet{
		Hold: holdOf(p.Form), Hole: v.Hole, Embedded: v.Embedded, Axial: v.AxialKN, Radial: v.RadialKN,
	})
	notes := make([]report.SheetNote, len(short))
	for i, s := range short {
		notes[i] = report.SheetNote{
			Code:   string(s.Figure),
			Values: registry.Values{{Name: "given", Text: figure(s.Given)}, {Name: "least", Text: figure(s.Least)}},
			Source: strength.Source,
		}
	}
	return notes
}

func figure(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// holdOf says how a form holds as EN 959 tells the ways apart.
func holdOf(f registry.Form) strength.Hold {
	switch {
	case f.Bonded():
		return strength.Bonded
	case f.Expansion() || f == registry.ConcreteScrew || f == registry.SelfDrillSleeve:
		return strength.Mechanical
	}
	return strength.HoldNotKnown
}

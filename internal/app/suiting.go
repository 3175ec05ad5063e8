package app

import (
	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/corrosion"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
	"rockledger/internal/worklist"
)

// newMetals are what a group would set, the plainest first: of the first row
// with a metal that suits a place, all that do are named.
//
// Source: judgement of this project.
var newMetals = [...]metal.Set{
	metal.NewSet("1.4404"),
	metal.NewSet(metal.Titanium2, "1.4529", "1.4547", "1.4565"),
}

// suiting says which metal to set at an anchor's place as far as corrosion
// goes. With the sea's distance not on record, or nothing that tells which
// class of stainless steel the place asks for, it is open.
func suiting(f *registry.Facts, asOf calendar.Date) worklist.Suiting {
	p := assess.PlaceOf(f, asOf)
	if p.Cave == "" && corrosion.Cracking(&p) == corrosion.RiskNotAsked {
		return worklist.Suiting{Open: true}
	}
	for _, row := range newMetals {
		var suits []metal.Grade
		for _, g := range row {
			switch corrosion.Suits(g, &p) {
			case corrosion.Suitable:
				suits = append(suits, g)
			case corrosion.SuitNotKnown:
				return worklist.Suiting{Open: true}
			}
		}
		if len(suits) > 0 {
			return worklist.Suiting{Metal: metal.NewSet(suits...)}
		}
	}
	return worklist.Suiting{Open: true}
}

package main

import (
	"io"
	"strings"

	"rockledger/internal/app"
	"rockledger/internal/config"
	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/httpapi"
	"rockledger/internal/quantity"
	"rockledger/internal/report"
)

// runMortar works out how much mortar holes take. It asks no database, so
// anybody at the command line may read it.
func runMortar(c config.Mortar, stdout io.Writer) error {
	hole, err := mortarHole(c)
	if err != nil {
		return err
	}
	made, err := app.MortarOf(report.MortarQuery{
		Holes: []report.MortarHole{hole}, Waste: c.Waste, CartridgeML: c.CartridgeML, PurgeML: c.PurgeML, Nozzles: c.Nozzles,
	})
	if err != nil {
		return ofOnlyHole(err)
	}
	if c.Format == "json" {
		return printJSON(stdout, httpapi.MortarDocument(made))
	}
	return exchange.WriteMortarText(stdout, made)
}

// ofOnlyHole names the fields of the first hole without saying which: there is
// one.
func ofOnlyHole(err error) error {
	e, known := fault.As(err)
	if !known || len(e.Violations) == 0 {
		return err
	}
	var k fault.Checks
	for _, v := range e.Violations {
		v.Field = strings.TrimPrefix(v.Field, "holes[0].")
		k.Add(v)
	}
	return k.Err()
}

// mortarHole reads the lengths as they were written; those that cannot be read
// are fault.Invalid naming every field.
func mortarHole(c config.Mortar) (report.MortarHole, error) {
	var k fault.Checks
	length := func(field, text string) float64 {
		l, err := quantity.ParseLength(text, quantity.InMillimetres)
		k.Nest(field, err)
		return l.Millimetres()
	}
	h := report.MortarHole{
		DiameterMM: length("hole_diameter_mm", c.HoleDiameter), DepthMM: length("hole_depth_mm", c.HoleDepth),
		EmbeddedMM: length("embedded_mm", c.Embedded), SteelAreaMM2: c.SteelArea, Count: c.Count, HolesEach: c.HolesEach,
	}
	if c.ShankDiameter != "" {
		h.ShankMM = length("shank_diameter_mm", c.ShankDiameter)
	}
	return h, k.Err()
}

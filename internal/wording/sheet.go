package wording

import "rockledger/internal/registry"

// sheetFigures name the figures of a product's sheet, with their units.
var sheetFigures = map[string][2]string{
	"embedded-length": {"embedded length", "mm"},
	"rated-axial":     {"axial load", "kN"},
	"rated-radial":    {"radial load", "kN"},
}

// SheetNote says that a figure of a product's sheet is below what a standard
// asks of the product: "The sheet's embedded length is 65 mm; EN 959:2018 asks
// for at least 70 mm. ..."
func SheetNote(code string, values registry.Values, source string) string {
	figure, ok := sheetFigures[code]
	if !ok {
		figure = [2]string{"figure", ""}
	}
	return "The sheet's " + figure[0] + " is " + values.Text("given") + " " + figure[1] + ", below the least of " +
		values.Text("least") + " " + figure[1] + " that a product is type tested for in concrete (" + source +
		"). Ask the maker. This is never asked of an anchor in service."
}

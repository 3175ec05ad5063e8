package report

import "rockledger/internal/registry"

// SheetNote is a figure of a product's sheet that is below what a standard asks
// of the product; its sentence is wording's.
type SheetNote struct {
	Code   string          // "embedded-length", "rated-axial", "rated-radial"
	Values registry.Values // "given" and "least", in mm or kN
	Source string
}

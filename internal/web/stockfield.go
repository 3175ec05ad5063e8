package web

// stockLabels name the fields of products, sheets and batches, by their names
// in the API.
var stockLabels = map[string]string{
	"kind": "Kind", "name": "Name", "maker": "Maker", "form": "Form", "metal": "Metal", "chemistry": "Chemistry", "notes": "Notes",

	"hole_diameter_mm":   "Hole, diameter in mm",
	"shank_diameter_mm":  "Shank, diameter in mm",
	"overall_length_mm":  "Overall length in mm",
	"embedded_length_mm": "Embedded length in mm",
	"steel_area_mm2":     "Real section of the steel in mm²",
	"edge_least_mm":      "Least distance from an edge in mm",
	"spacing_least_mm":   "Least distance from the next anchor in mm",
	"torque_nm":          "Torque in N m",
	"rated_axial_kn":     "Rated axial load in kN",
	"rated_radial_kn":    "Rated radial load in kN",
	"drawing":            "Orientation, as drawn",
	"cure_rows":          "Cure table",
	"wet_factor":         "Cure time in a wet hole, times",
	"moistures":          "The hole may be",
	"rock_low_c":         "Coldest rock allowed in °C",
	"rock_high_c":        "Warmest rock allowed in °C",
	"cartridge_low_c":    "Coldest cartridge allowed in °C",
	"cartridge_high_c":   "Warmest cartridge allowed in °C",
	"cleaning_cycles":    "Rounds of blowing and brushing",
	"shelf_months":       "Shelf life in months",
	"cartridge_ml":       "Content of a cartridge in mL",

	"product_id":     "Product",
	"text":           "What is printed as its batch",
	"received_on":    "Received on",
	"expires_on":     "Expires on",
	"quantity":       "What was delivered, in words",
	"count_received": "How many were received",
	"count_on_hand":  "How many are left",
	"ended_on":       "Used up or thrown away on",
}

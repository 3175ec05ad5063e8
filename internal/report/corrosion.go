package report

import "rockledger/internal/registry"

// Climate is the yearly mean of an atmosphere in the open: degrees Celsius,
// relative humidity in per cent, deposition of sulphur dioxide and chloride in
// mg/(m2 day).
type Climate struct {
	TemperatureC   float64
	HumidityPct    float64
	SulphurDioxide float64
	Chloride       float64
}

// Corrosion is what a climate does to the four metals: uniform loss in the
// open, never what is left of an anchor.
type Corrosion struct {
	Climate       Climate
	Used          Climate // what went into the equations
	SulphurClass  string  // "P0" to "P3", "above P3"
	ChlorideClass string  // "S0" to "S3", "above S3"
	Years         *float64
	Metals        []CorrosionMetal // carbon steel, zinc, copper, aluminium
	Warnings      []CorrosionWarning
	Sources       []CorrosionSource
}

// CorrosionMetal is what a climate does to one metal.
type CorrosionMetal struct {
	Name         string // "carbon_steel", "zinc", "copper", "aluminium"
	RateUM       float64
	Category     string // "C1" to "CX", "above CX"
	LowUM        float64
	LowCategory  string
	HighUM       float64
	HighCategory string
	B1, B2       float64      // time exponents, dimensionless
	LossUM       *LossByYears // nil: no number of years was asked
}

// LossByYears is the depth lost by either exponent, micrometres.
type LossByYears struct{ B1, B2 float64 }

// CorrosionWarning is something that makes an estimate less certain; its
// sentence is wording's.
type CorrosionWarning struct {
	Code   string
	Values registry.Values
}

// CorrosionSource is where figures come from and how they are known: "found",
// "partly" or "memory".
type CorrosionSource struct {
	Title      string
	Covers     string
	Confidence string
}

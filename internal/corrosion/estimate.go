package corrosion

import (
	"rockledger/internal/fault"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
)

// FieldYears is the name of the number of years, as violations and warnings
// carry it.
const FieldYears = "years"

// Years reckoned with: the standard's table of multipliers ends at 100; more
// than 1000 is taken for a mistake.
const (
	yearsTabled   = 100
	yearsPossible = 1000
)

// Estimate is what a climate does to the four metals in the open, uniform loss
// only.
type Estimate struct {
	Given Climate
	// Used is the climate that went into the equations; see Climate.Fitted.
	Used Climate
	// SulphurClass and ChlorideClass are those of the climate given.
	SulphurClass  SulphurClass
	ChlorideClass ChlorideClass
	Metals        []MetalEstimate // one for each of Metals, in that order
	Warnings      []Warning       // nil: none
	Sources       []Source        // of the rates and categories, and of the loss if asked
}

// MetalEstimate is what a climate does to one metal.
type MetalEstimate struct {
	Metal    Metal
	Rate     PerYear // in the first year
	Category Category
	// Low and High are the ends of the uncertainty of Rate, with their
	// categories.
	Low, High                 PerYear
	LowCategory, HighCategory Category
	// Loss is nil if no number of years was asked.
	Loss *Loss
}

// Loss is the depth lost after a number of years at the rate estimated, by
// either exponent.
type Loss struct {
	Years  float64
	B1, B2 quantity.Length
}

// Source is where figures come from, and whether they were seen there.
type Source struct {
	Title      string
	Covers     string
	Confidence metal.Confidence
}

// NewEstimate returns what a climate does to the four metals: the rate of the
// first year by Rate, at the values of Climate.Fitted; its category; the range
// of its uncertainty, 0.67 to 1.5 times the rate (aluminium 0.5 to 2 times); and
// for a number of years, nil for none, the depth lost by Depth. Past 100 years
// there is a warning, YearsOutside.
//
// It covers uniform loss in the open, not pits, crevices, holes, caves or
// cracking, and no stainless steel.
//
// NewEstimate returns an error of kind fault.Invalid with every violation of the
// climate, and of FieldYears if that is negative, not a number or above 1000.
//
// Source: ISO 9223:2012, equations (1) to (4), Tables 2 and 3, Annex A; ISO
// 9224:2012, equations (1) and (3), Table 2. Which of it is from memory, Sources
// says.
func NewEstimate(c Climate, years *float64) (Estimate, error) {
	if err := checkEstimate(c, years); err != nil {
		return Estimate{}, err
	}
	e := Estimate{Given: c, Metals: make([]MetalEstimate, 0, len(metals)), Sources: sources(years != nil)}
	e.Used, e.Warnings = c.Fitted()
	e.SulphurClass, _ = SulphurClassOf(c.SulphurDioxide) // both were checked
	e.ChlorideClass, _ = ChlorideClassOf(c.Chloride)
	for _, m := range metals {
		e.Metals = append(e.Metals, estimateOf(m, e.Used, years))
	}
	if years != nil && *years > yearsTabled {
		e.Warnings = append(e.Warnings, Warning{
			Code: YearsOutside, Field: FieldYears,
			Value: *years, Used: *years, High: yearsTabled, Treatment: Extrapolated,
		})
	}
	return e, nil
}

func checkEstimate(c Climate, years *float64) error {
	var checks fault.Checks
	checks.Nest("", c.Validate())
	if years != nil {
		checkNumber(&checks, FieldYears, *years, span{0, yearsPossible})
	}
	return checks.Err()
}

// estimateOf takes arguments that were checked.
func estimateOf(m Metal, c Climate, years *float64) MetalEstimate {
	k, _ := doseResponse(m)
	r := k.rate(c)
	low, high := Uncertainty(m, r)
	e := MetalEstimate{
		Metal: m, Rate: r, Category: classify(m, r),
		Low: low, High: high, LowCategory: classify(m, low), HighCategory: classify(m, high),
	}
	if years != nil {
		b, _ := ExponentsOf(m)
		e.Loss = &Loss{Years: *years, B1: depth(r, b.B1, *years), B2: depth(r, b.B2, *years)}
	}
	return e
}

// Uncertainty returns the ends of the range a rate by Rate stands for: 0.67 to
// 1.5 times the rate, for aluminium 0.5 to 2 times. The errors are log-normal, so
// that the range is not even.
//
// Source: ISO 9223:2012, Annex A.
func Uncertainty(m Metal, r PerYear) (low, high PerYear) {
	if m == Aluminium {
		return 0.5 * r, 2 * r
	}
	return 0.67 * r, 1.5 * r
}

func sources(withLoss bool) []Source {
	s := []Source{
		{"ISO 9223:2012, equations (1) and (2)", "rates of carbon steel and zinc", metal.Found},
		{"ISO 9223:2012, equations (3) and (4)", "rates of copper and aluminium", metal.Memory},
		{"ISO 9223:2012, Table 2", "categories", metal.Found},
		{"ISO 9223:2012, Table 3", "range of the equations", metal.Found},
		{"ISO 9223:2012, Annex A", "uncertainty", metal.Found},
	}
	if withLoss {
		s = append(s, Source{"ISO 9224:2012, equations (1) and (3), Table 2", "loss over the years", metal.Found})
	}
	return s
}

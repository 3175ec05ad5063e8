package corrosion

import (
	"math"
	"slices"

	"rockledger/internal/fault"
)

// Category is a corrosivity of the atmosphere, for one metal: the metals of one
// place can differ. A higher one is worse. The zero value is not known.
type Category int

// The categories, from very low to extreme, and what lies above.
const (
	C1 Category = iota + 1
	C2
	C3
	C4
	C5
	CX
	// AboveCX is faster than the standard's highest category ends; such rates
	// of zinc and copper were measured on subtropical islands.
	AboveCX
)

var categoryNames = [...]string{"", "C1", "C2", "C3", "C4", "C5", "CX", "above CX"}

// String returns "C1" to "CX" or "above CX", and nothing for one not known.
func (c Category) String() string {
	if c < C1 || c > AboveCX {
		return ""
	}
	return categoryNames[c]
}

// MarshalText writes the category as String does.
func (c Category) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads what MarshalText writes; the error is that of
// ParseCategory.
func (c *Category) UnmarshalText(text []byte) error {
	got, err := ParseCategory(string(text))
	if err == nil {
		*c = got
	}
	return err
}

// ParseCategory reads what String writes; nothing is read as not known. Anything
// else is an error of kind fault.Invalid with code fault.Unknown.
func ParseCategory(text string) (Category, error) {
	i := slices.Index(categoryNames[:], text)
	if i < 0 {
		return 0, fault.Reject(fault.Unknown, "atmosphere category %q", text).With("text", text)
	}
	return Category(i), nil
}

// Categories returns the categories in order, C1 to AboveCX. The slice is the
// caller's.
func Categories() []Category { return []Category{C1, C2, C3, C4, C5, CX, AboveCX} }

// Classify returns the category of the atmosphere for a metal that loses r in
// its first year. Upper limits belong to the category below them. Steel, zinc
// and copper are compared in micrometres, aluminium in grams (its only column,
// at 2.7 g/cm3): there C1 has no figure ("negligible"), so C2 stands for C2 or
// lower, and CX has no upper end.
//
// A category describes uniform loss. It says nothing of stainless steel.
//
// Classify returns an error of kind fault.Invalid if r is negative or not a
// finite number, or for a metal that is none of the four.
//
// Source: ISO 9223:2012, Table 2.
func Classify(m Metal, r PerYear) (Category, error) {
	if err := m.check(); err != nil {
		return 0, err
	}
	if !(r >= 0) || math.IsInf(float64(r), 1) {
		return 0, fault.New(fault.Invalid, "rate %v µm a year: want ≥ 0", float64(r))
	}
	return classify(m, r), nil
}

// classify takes a metal and a rate that were checked.
func classify(m Metal, r PerYear) Category {
	for c, upper := range limits(m) {
		if r <= upper {
			return Category(c)
		}
	}
	return AboveCX
}

// limits holds the upper limit of each category from C1 to CX, micrometres a
// year, at its own index; -1 where none can be met.
func limits(m Metal) *[AboveCX]PerYear {
	switch m {
	case CarbonSteel:
		return &steelLimits
	case Zinc:
		return &zincLimits
	case Copper:
		return &copperLimits
	}
	return &aluminiumLimits
}

var (
	steelLimits     = [AboveCX]PerYear{-1, 1.3, 25, 50, 80, 200, 700}
	zincLimits      = [AboveCX]PerYear{-1, 0.1, 0.7, 2.1, 4.2, 8.4, 25}
	copperLimits    = [AboveCX]PerYear{-1, 0.1, 0.6, 1.3, 2.8, 5.6, 10}
	aluminiumLimits = [AboveCX]PerYear{
		-1, -1, FromGrams(Aluminium, 0.6), FromGrams(Aluminium, 2),
		FromGrams(Aluminium, 5), FromGrams(Aluminium, 10), PerYear(math.Inf(1)),
	}
)

// Band is what a category says of the rate in the first year: above Low, up to
// High.
type Band struct {
	Low PerYear
	// High is nil where the standard sets no upper end: above CX, and CX of
	// aluminium.
	High *PerYear
}

// BandOf returns the rates of a category for a metal. It returns an error of
// kind fault.Invalid for a metal that is none of the four, a category that is
// not known, and C1 of aluminium, which has no figure.
//
// Source: ISO 9223:2012, Table 2.
func BandOf(m Metal, c Category) (Band, error) {
	if err := m.check(); err != nil {
		return Band{}, err
	}
	if c < C1 || c > AboveCX || m == Aluminium && (c == C1 || c == AboveCX) {
		return Band{}, fault.Reject(fault.OutOfRange, "category %q of %s has no rates", c.String(), m).With("category", c.String())
	}
	upper := limits(m)
	b := Band{Low: max(upper[c-1], 0)}
	if c < AboveCX && !math.IsInf(float64(upper[c]), 1) {
		high := upper[c]
		b.High = &high
	}
	return b, nil
}

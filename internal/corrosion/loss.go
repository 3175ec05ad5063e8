package corrosion

import (
	"math"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// knee is the age in years past which the loss goes on along its tangent.
const knee = 20

// Exponents are the time exponents of a metal: B1 the mean of the long
// exposures behind the standard, B2 that mean and two standard deviations, for
// upper limits (what the two stand for is from memory). An inspection service
// reckons with B2.
type Exponents struct{ B1, B2 float64 }

// ExponentsOf returns the time exponents of a metal, or an error of kind
// fault.Invalid for one that is none of the four.
//
// Source: ISO 9224:2012, Table 2.
func ExponentsOf(m Metal) (Exponents, error) {
	switch m {
	case CarbonSteel:
		return Exponents{0.523, 0.575}, nil
	case Zinc:
		return Exponents{0.813, 0.873}, nil
	case Copper:
		return Exponents{0.667, 0.726}, nil
	case Aluminium:
		return Exponents{0.728, 0.807}, nil
	}
	return Exponents{}, m.check()
}

// Depth returns the mean depth of metal lost from a freely exposed surface,
//
//	D(t) = r t^b                            0 ≤ t ≤ 20
//	D(t) = r (20^b + b 20^(b-1) (t - 20))   20 < t
//
// where r is the depth lost in the first year in micrometres a year, b the
// metal's time exponent (dimensionless, 0 < b ≤ 1) and t the age in years of
// 365.25 days.
//
// Depth is a mean over the surface. It does not describe pitting, crevices or
// stress corrosion, and so must not be used for stainless steel; pits of
// aluminium go deeper. The standard's own table goes on with t^b past 20 years,
// which gives less; the tangent is the answer on the safe side.
//
// Depth returns an error of kind fault.Invalid if r or t is negative or not a
// finite number, or if b lies outside (0, 1].
//
// Source: ISO 9224:2012, equations (1) and (3).
func Depth(r PerYear, b, t float64) (quantity.Length, error) {
	if err := checkLaw(r, b); err != nil {
		return 0, err
	}
	if !finite(t) {
		return 0, fault.New(fault.Invalid, "age %v years: want ≥ 0", t)
	}
	return depth(r, b, t), nil
}

// depth takes arguments that were checked.
func depth(r PerYear, b, t float64) quantity.Length {
	return quantity.Length(float64(r)*multiplier(b, t)) * quantity.Micrometre
}

// multiplier is how many times the loss of the first year is lost after t years.
func multiplier(b, t float64) float64 {
	if t <= knee {
		return math.Pow(t, b)
	}
	return math.Pow(knee, b) + b*math.Pow(knee, b-1)*(t-knee)
}

// DepthRate returns how fast metal is being lost at age t,
//
//	dD/dt = b r t^(b-1)     0 < t ≤ 20
//	dD/dt = b r 20^(b-1)    20 < t
//
// with the symbols and the limits of Depth.
//
// DepthRate returns an error of kind fault.Invalid where Depth does, and for
// t = 0, where the law has no rate unless b is 1.
//
// Source: ISO 9224:2012.
func DepthRate(r PerYear, b, t float64) (PerYear, error) {
	if err := checkLaw(r, b); err != nil {
		return 0, err
	}
	if !finite(t) || t == 0 {
		return 0, fault.New(fault.Invalid, "age %v years: want > 0", t)
	}
	return r * PerYear(b*math.Pow(min(t, knee), b-1)), nil
}

// YearsUntil returns the age at which a depth has been lost, the inverse of
// Depth,
//
//	t = (D/r)^(1/b)                                   D ≤ r 20^b
//	t = 20 + (D - r 20^b) / (r b 20^(b-1))            r 20^b < D
//
// in years, with the symbols and the limits of Depth. It is positive infinity
// if r is 0 and D is not, and 0 for a depth of 0.
//
// YearsUntil returns an error of kind fault.Invalid if r or D is negative or not
// a finite number, or if b lies outside (0, 1].
//
// Source: ISO 9224:2012, equations (1) and (3), solved for t.
func YearsUntil(d quantity.Length, r PerYear, b float64) (float64, error) {
	if err := checkLaw(r, b); err != nil {
		return 0, err
	}
	if !finite(float64(d)) {
		return 0, fault.New(fault.Invalid, "depth %v mm: want ≥ 0", d.Millimetres())
	}
	return yearsUntil(d, r, b), nil
}

// yearsUntil takes arguments that were checked.
func yearsUntil(d quantity.Length, r PerYear, b float64) float64 {
	switch {
	case d == 0:
		return 0
	case r == 0:
		return math.Inf(1)
	}
	times := d.Micrometres() / float64(r)
	atKnee := math.Pow(knee, b)
	if times <= atKnee {
		return math.Pow(times, 1/b)
	}
	return knee + (times-atKnee)/(b*math.Pow(knee, b-1))
}

func checkLaw(r PerYear, b float64) error {
	if !finite(float64(r)) {
		return fault.New(fault.Invalid, "first-year rate %v µm: want ≥ 0", float64(r))
	}
	if !(b > 0 && b <= 1) {
		return fault.New(fault.Invalid, "time exponent %v: want above 0, up to 1", b)
	}
	return nil
}

// finite reports whether x is a number from 0 up; written so that NaN fails.
func finite(x float64) bool { return x >= 0 && !math.IsInf(x, 1) }

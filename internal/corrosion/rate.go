package corrosion

import "math"

// Rate returns the depth of metal lost in the first year from a freely exposed
// surface, by the dose-response functions
//
//	r = a P^p exp(b H + f) + c S^s exp(d H + e T)
//	f = g (T - 10)    T ≤ 10
//	f = h (T - 10)    10 < T
//
// where r is in micrometres a year, T the yearly mean temperature in degrees
// Celsius, H the yearly mean relative humidity in per cent, P and S the
// depositions of sulphur dioxide and chloride in mg/(m2 day), and a to h, p and
// s are the constants of the metal.
//
// The climate is used as it is, inside the range of the equations or not: see
// Fitted for the range. Without any deposition the result is 0, which is no
// answer. It is a mean over the surface and describes neither pits, crevices
// nor cracking, nor stainless steel, nor a sheltered surface that no rain
// washes. NewEstimate gives its uncertainty.
//
// Rate returns an error of kind fault.Invalid for a metal that is none of the
// four, and for a climate that Validate rejects.
//
// Source: ISO 9223:2012, equations (1) to (4); those of copper and aluminium
// from memory.
func Rate(m Metal, c Climate) (PerYear, error) {
	k, ok := doseResponse(m)
	if !ok {
		return 0, m.check()
	}
	if err := c.Validate(); err != nil {
		return 0, err
	}
	return k.rate(c), nil
}

// response holds the constants of one dose-response function.
type response struct {
	a, p, b float64 // sulphur dioxide: factor, power, humidity
	g, h    float64 // temperature up to and above 10 degrees
	c, s    float64 // chloride: factor, power
	d, e    float64 // humidity and temperature beside it
}

func doseResponse(m Metal) (response, bool) {
	switch m {
	case CarbonSteel:
		return response{a: 1.77, p: 0.52, b: 0.020, g: 0.150, h: -0.054, c: 0.102, s: 0.62, d: 0.033, e: 0.040}, true
	case Zinc:
		return response{a: 0.0129, p: 0.44, b: 0.046, g: 0.038, h: -0.071, c: 0.0175, s: 0.57, d: 0.008, e: 0.085}, true
	case Copper:
		return response{a: 0.0053, p: 0.26, b: 0.059, g: 0.126, h: -0.080, c: 0.01025, s: 0.27, d: 0.036, e: 0.049}, true
	case Aluminium:
		return response{a: 0.0042, p: 0.73, b: 0.025, g: 0.009, h: -0.043, c: 0.0018, s: 0.60, d: 0.020, e: 0.094}, true
	}
	return response{}, false
}

func (k response) rate(c Climate) PerYear {
	t := c.Temperature.Celsius()
	f := k.g * (t - 10)
	if t > 10 {
		f = k.h * (t - 10)
	}
	sulphur := k.a * math.Pow(c.SulphurDioxide, k.p) * math.Exp(k.b*c.Humidity+f)
	chloride := k.c * math.Pow(c.Chloride, k.s) * math.Exp(k.d*c.Humidity+k.e*t)
	return PerYear(sulphur + chloride)
}

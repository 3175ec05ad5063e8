// Package quantity holds the physical quantities of the register as typed
// numbers in the unit of their column, and reads lengths as people write them.
//
// It does not judge whether a length is plausible for a bolt: those limits
// belong to whoever asks.
package quantity

// Length is a length in millimetres.
type Length float64

// Lengths to multiply with: 0.5 * Inch is 12.7 mm. All are exact (the inch is
// 25.4 mm by the international agreement of 1959).
const (
	Micrometre Length = 0.001
	Millimetre Length = 1
	Centimetre Length = 10
	Inch       Length = 25.4
	Metre      Length = 1000
	Kilometre  Length = 1_000_000
)

// Micrometres returns l in micrometres.
func (l Length) Micrometres() float64 { return float64(l) * 1000 }

// Millimetres returns l in millimetres.
func (l Length) Millimetres() float64 { return float64(l) }

// Metres returns l in metres.
func (l Length) Metres() float64 { return float64(l) / 1000 }

// Kilometres returns l in kilometres.
func (l Length) Kilometres() float64 { return float64(l) / 1_000_000 }

// Force is a force in kilonewtons.
type Force float64

// Forces to multiply with.
const (
	Newton     Force = 0.001
	Kilonewton Force = 1
)

// Newtons returns f in newtons.
func (f Force) Newtons() float64 { return float64(f) * 1000 }

// Kilonewtons returns f in kilonewtons.
func (f Force) Kilonewtons() float64 { return float64(f) }

// Temperature is a temperature in degrees Celsius.
type Temperature float64

// Celsius returns t in degrees Celsius.
func (t Temperature) Celsius() float64 { return float64(t) }

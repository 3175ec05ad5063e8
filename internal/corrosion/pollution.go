package corrosion

import (
	"math"

	"rockledger/internal/fault"
)

// SulphurClass is a class of pollution by sulphur dioxide. A higher one is
// worse.
type SulphurClass int

// The classes: rural, urban, industrial, heavily polluted, and what lies above.
const (
	P0 SulphurClass = iota
	P1
	P2
	P3
	AboveP3
)

// String returns "P0" to "P3" or "above P3".
func (p SulphurClass) String() string { return name(int(p), "P0", "P1", "P2", "P3", "above P3") }

// ChlorideClass is a class of airborne salinity. A higher one is worse.
type ChlorideClass int

// The classes, and what lies above.
const (
	S0 ChlorideClass = iota
	S1
	S2
	S3
	AboveS3
)

// String returns "S0" to "S3" or "above S3".
func (s ChlorideClass) String() string { return name(int(s), "S0", "S1", "S2", "S3", "above S3") }

func name(i int, names ...string) string {
	if i < 0 || i >= len(names) {
		return ""
	}
	return names[i]
}

// SulphurClassOf returns the class of a deposition of sulphur dioxide in
// mg/(m2 day): up to 4, 24, 80 and 200. It returns an error of kind
// fault.Invalid if the deposition is negative or not a finite number.
//
// Source: ISO 9223:2012, Annex B. (The edition of 1992 had other limits.)
func SulphurClassOf(deposition float64) (SulphurClass, error) {
	i, err := classOf("sulphur dioxide", deposition, 4, 24, 80, 200)
	return SulphurClass(i), err
}

// SulphurClassOfAir returns the class of a mean concentration of sulphur dioxide
// in the air in µg/m3: up to 5, 30, 90 and 250. Its errors are those of
// SulphurClassOf. The limits do not agree exactly with those of the deposition
// under Deposition; for a class, take the one that was measured.
//
// Source: ISO 9223:2012, Annex B, from memory.
func SulphurClassOfAir(concentration float64) (SulphurClass, error) {
	i, err := classOf("sulphur dioxide", concentration, 5, 30, 90, 250)
	return SulphurClass(i), err
}

// ChlorideClassOf returns the class of a deposition of chloride in mg/(m2 day):
// up to 3, 60, 300 and 1500. Its errors are those of SulphurClassOf.
//
// Source: ISO 9223:2012, Annex B.
func ChlorideClassOf(deposition float64) (ChlorideClass, error) {
	i, err := classOf("chloride", deposition, 3, 60, 300, 1500)
	return ChlorideClass(i), err
}

func classOf(of string, x float64, upper ...float64) (int, error) {
	if !(x >= 0) || math.IsInf(x, 1) {
		return 0, fault.New(fault.Invalid, "%s %v: want ≥ 0", of, x)
	}
	for i, u := range upper {
		if x <= u {
			return i, nil
		}
	}
	return len(upper), nil
}

// Deposition returns the deposition of sulphur dioxide in mg/(m2 day) that goes
// with a mean concentration in the air in µg/m3, 0.8 times that.
//
// Source: ISO 9223:2012, from memory.
func Deposition(concentration float64) float64 { return 0.8 * concentration }

// WetCandle returns the deposition of chloride by the wet candle method, which
// the equations ask for, that goes with one by the dry plate method, 2.4 times
// that, both in mg/(m2 day).
//
// Source: ISO 9223:2012, from memory.
func WetCandle(dryPlate float64) float64 { return 2.4 * dryPlate }

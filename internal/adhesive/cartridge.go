package adhesive

import (
	"math"
	"slices"
	"strconv"

	"rockledger/internal/fault"
)

// What a cartridge is taken to be where nobody says otherwise. Both are
// defaults of this project.
const (
	// DefaultCartridgeML is a common size, mL; sizes from 160 to 1400 mL are
	// sold. Common practice, no source.
	DefaultCartridgeML = 300
	// DefaultPurgeML is the first mix, thrown away with each nozzle, mL: three
	// strokes, about 10 mL. Common practice, no source.
	DefaultPurgeML = 10
)

// Cartridge is what one cartridge holds and what is thrown away of it.
type Cartridge struct {
	ML      float64 // content, as printed
	PurgeML float64 // thrown away with each nozzle
	// Nozzles is how many a cartridge takes: one, and one more for each pause
	// that is longer than the working time.
	Nozzles int
}

// DefaultCartridge returns a cartridge of the default size, emptied through one
// nozzle.
func DefaultCartridge() Cartridge {
	return Cartridge{ML: DefaultCartridgeML, PurgeML: DefaultPurgeML, Nozzles: 1}
}

// Validate reports every violation, keyed by JSON name.
func (c Cartridge) Validate() error {
	var k fault.Checks
	within(&k, "cartridge_ml", c.ML, 5000)
	k.Require(c.PurgeML >= 0, "purge_ml", fault.Negative)
	k.Require(c.Nozzles >= 1 && c.Nozzles <= 100, "nozzles_per_cartridge", fault.OutOfRange, "from", "1", "to", "100")
	if k.Err() == nil {
		k.Require(c.Usable() > 0, "purge_ml", fault.Mismatch, "with", "cartridge_ml")
	}
	return k.Err()
}

// Usable returns what of the cartridge reaches holes, mL.
func (c Cartridge) Usable() float64 { return c.ML - c.PurgeML*float64(c.Nozzles) }

// Holes returns how many whole holes of ml each one cartridge fills: a hole is
// never begun with what one cartridge has left and ended with the next. It is 0
// for a hole that takes more than a cartridge has.
func (c Cartridge) Holes(ml float64) int { return wholes(c.Usable(), ml) }

// wholes is how often part goes into whole, with the rounding of float64
// forgiven: 30 parts of 0.1 go into 3.
func wholes(whole, part float64) int { return int(math.Floor(whole/part + 1e-9)) }

// Lot is a number of holes that take the same volume each, waste included.
type Lot struct {
	ML    float64
	Holes int
}

// Pack returns how many cartridges fill all holes of the lots. Holes of one
// size take exactly so many; of several sizes it is what suffices when the
// biggest are filled first and each hole goes to the first cartridge that has
// enough left, which may be more than the fewest possible, and never fewer.
//
// Errors are Invalid: those of Validate, and fault.OutOfRange of "holes[i]" for
// a hole that no cartridge of this size fills.
//
// Source: first-fit decreasing bin packing. The lots are neither changed nor
// kept; lots without holes take nothing.
func (c Cartridge) Pack(lots []Lot) (int, error) {
	var k fault.Checks
	k.Nest("", c.Validate())
	if err := k.Err(); err != nil {
		return 0, err
	}
	for i, l := range lots {
		k.Require(c.Holes(l.ML) > 0, "holes["+strconv.Itoa(i)+"]", fault.OutOfRange, "to", figure(c.Usable())+" mL")
	}
	if err := k.Err(); err != nil {
		return 0, err
	}
	sorted := slices.Clone(lots)
	slices.SortStableFunc(sorted, func(a, b Lot) int {
		switch {
		case a.ML > b.ML:
			return -1
		case a.ML < b.ML:
			return 1
		}
		return 0
	})
	var left []float64 // in the cartridges opened, in order
	for _, l := range sorted {
		left = c.fill(left, l)
	}
	return len(left), nil
}

// fill puts the holes of a lot into the cartridges opened, and opens more.
func (c Cartridge) fill(left []float64, l Lot) []float64 {
	for i := 0; l.Holes > 0; i++ {
		if i == len(left) {
			left = append(left, c.Usable())
		}
		n := min(wholes(left[i], l.ML), l.Holes)
		left[i] -= float64(n) * l.ML
		l.Holes -= n
	}
	return left
}

func figure(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

package strength_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rockledger/internal/quantity"
	"rockledger/internal/strength"
)

func length(mm float64) *quantity.Length { l := quantity.Length(mm); return &l }
func force(kn float64) *quantity.Force   { f := quantity.Force(kn); return &f }

// Source of every figure: EN 959:2018, 4.2.6 (lengths), 4.3.1 (axial) and 4.3.2
// (radial), as a public preview prints them.
func TestEN959(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		sheet strength.Sheet
		want  []strength.Shortfall
	}{
		{"K100 bonded, 69 mm", strength.Sheet{Hold: strength.Bonded, Embedded: length(69)}, []strength.Shortfall{{strength.EmbeddedLength, 69, 70}}},
		{"K100 bonded, 70 mm", strength.Sheet{Hold: strength.Bonded, Embedded: length(70)}, nil},
		{"K101 mechanical, hole 12 mm, 59 mm", strength.Sheet{Hold: strength.Mechanical, Hole: length(12), Embedded: length(59)}, []strength.Shortfall{{strength.EmbeddedLength, 59, 60}}},
		{"K101 mechanical, hole 12 mm, 60 mm", strength.Sheet{Hold: strength.Mechanical, Hole: length(12), Embedded: length(60)}, nil},
		{"K102 axial 14.9 kN", strength.Sheet{Axial: force(14.9)}, []strength.Shortfall{{strength.RatedAxial, 14.9, 15}}},
		{"K102 axial 15 kN", strength.Sheet{Axial: force(15)}, nil},
		{"K102 radial 24.9 kN", strength.Sheet{Radial: force(24.9)}, []strength.Shortfall{{strength.RatedRadial, 24.9, 25}}},
		{"K102 radial 25 kN", strength.Sheet{Radial: force(25)}, nil},
		{"nothing said", strength.Sheet{Hold: strength.Bonded, Hole: length(12)}, nil},
		{"hole not said", strength.Sheet{Hold: strength.Mechanical, Embedded: length(20)}, nil},
		{"hold not known", strength.Sheet{Hole: length(12), Embedded: length(20)}, nil},
		{"length first", strength.Sheet{Hold: strength.Bonded, Embedded: length(7), Axial: force(1), Radial: force(2)}, []strength.Shortfall{
			{strength.EmbeddedLength, 7, 70}, {strength.RatedAxial, 1, 15}, {strength.RatedRadial, 2, 25},
		}},
	} {
		if diff := cmp.Diff(c.want, strength.EN959(c.sheet)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
	if got := strength.EN959(strength.Sheet{Axial: force(math.NaN())}); len(got) != 1 {
		t.Errorf("EN959(axial NaN) = %v, want it below the least", got)
	}
}

// A sheet that says more never falls shorter.
func TestEN959Monotonic(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		figure := rapid.Float64Range(0.1, 200)
		hold := rapid.SampledFrom([]strength.Hold{strength.HoldNotKnown, strength.Bonded, strength.Mechanical}).Draw(t, "hold")
		hole, embedded, axial, radial := figure.Draw(t, "hole"), figure.Draw(t, "embedded"), figure.Draw(t, "axial"), figure.Draw(t, "radial")
		more := rapid.Float64Range(1, 3).Draw(t, "more")
		less := strength.EN959(strength.Sheet{hold, length(hole), length(embedded), force(axial), force(radial)})
		better := strength.EN959(strength.Sheet{hold, length(hole), length(embedded * more), force(axial * more), force(radial * more)})
		if len(better) > len(less) {
			t.Fatalf("%v, then with more %v", less, better)
		}
	})
}

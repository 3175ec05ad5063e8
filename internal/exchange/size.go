package exchange

import (
	"math"
	"strconv"
	"strings"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// Sizes outside these limits are taken for slips of the pen (10cm for a
// shank). Common practice, no source.
const (
	thinnestShank quantity.Length = 4
	thickestShank quantity.Length = 40
	thinnestHole  quantity.Length = 4
	thickestHole  quantity.Length = 60
	shortestBolt  quantity.Length = 15
	longestBolt   quantity.Length = 600
)

// sizes reads diameter, length and hole.
func (r *reader) sizes(i int) {
	row := &r.list.Rows[i]
	shank, written := r.diameter(i)
	row.Shank = r.plausible(i, FieldDiameter, shank, thinnestShank, thickestShank)
	row.Hole = r.plausible(i, FieldHole, r.length(i, FieldHole), thinnestHole, thickestHole)
	row.Length = r.plausible(i, FieldLength, r.length(i, FieldLength), shortestBolt, longestBolt)
	switch {
	case written == nil:
	case row.Length == nil:
		row.Length = r.plausible(i, FieldDiameter, written, shortestBolt, longestBolt)
	case differ(*written, *row.Length):
		r.doubt(i, FieldDiameter, registry.DoubtTwoSizes, "length_mm", millimetres(*row.Length))
	}
}

// differ says whether two lengths are apart by more than the rounding between
// inches and millimetres.
func differ(a, b quantity.Length) bool { return a-b > 2 || b-a > 2 }

// diameter reads a diameter, or a size that holds the length too. Nil: not
// known.
func (r *reader) diameter(i int) (shank, length *quantity.Length) {
	text := r.text(i, FieldDiameter)
	if !strings.ContainsAny(text, "xX×*✕") {
		return r.length(i, FieldDiameter), nil
	}
	read := r.recall.sizes.of(text, readSize)
	if read.doubt != "" {
		r.doubt(i, FieldDiameter, read.doubt)
		return nil, nil
	}
	return &read.first, &read.second
}

func readSize(text string) lengthRead {
	d, l, err := quantity.ParseSize(text)
	if err != nil {
		return lengthRead{doubt: lengthDoubt(err)}
	}
	return lengthRead{first: d, second: l}
}

// length reads one length. Nil: not known.
func (r *reader) length(i int, f Field) *quantity.Length {
	text := r.text(i, f)
	if isUnknown(text) {
		return nil
	}
	read := r.recall.lengths.of(lengthSaid{text, r.sheet.unit(f)}, readLength)
	if read.doubt != "" {
		r.doubt(i, f, read.doubt)
	}
	if read.blank || read.doubt != "" {
		return nil
	}
	return &read.first
}

func readLength(said lengthSaid) lengthRead {
	l, err := quantity.ParseLength(said.text, said.unit)
	switch {
	case fault.CodeOf(err) == fault.Blank:
		return lengthRead{blank: true}
	case err != nil:
		return lengthRead{doubt: lengthDoubt(err)}
	}
	return lengthRead{first: l}
}

func lengthDoubt(err error) string {
	if fault.CodeOf(err) == fault.NotPositive {
		return registry.DoubtLengthNegative
	}
	return registry.DoubtLengthNotRead
}

// plausible lets a length through that lies within the limits; of another
// nothing is known.
func (r *reader) plausible(i int, f Field, l *quantity.Length, low, high quantity.Length) *quantity.Length {
	if l == nil {
		return nil
	}
	if *l >= low && *l <= high {
		exact := quantity.Length(math.Round(float64(*l)*1e6) / 1e6) // 3/8 in is 9.525 mm, not 9.524999...
		return &exact
	}
	r.doubt(i, f, registry.DoubtLengthImplausible, "length_mm", millimetres(*l), "from_mm", millimetres(low), "to_mm", millimetres(high))
	return nil
}

func millimetres(l quantity.Length) string {
	return strconv.FormatFloat(l.Millimetres(), 'g', 6, 64)
}

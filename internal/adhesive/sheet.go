package adhesive

import (
	"cmp"
	"slices"

	"rockledger/internal/quantity"
)

// Moisture is how wet a hole was.
type Moisture string

// The states of a hole, driest first. Any other word, the empty one too, is not
// known.
const (
	Dry         Moisture = "dry"
	Damp        Moisture = "damp"
	Saturated   Moisture = "saturated"
	WaterFilled Moisture = "water-filled"
	RunningIn   Moisture = "running-in" // water runs in
)

// Flooded says whether water stands in the hole or runs in, so that no time
// holds unless the sheet names such holes.
func (h Moisture) Flooded() bool { return h == WaterFilled || h == RunningIn }

// Row is one row of a sheet's table: the times between two rock temperatures,
// both included as printed.
type Row struct {
	From, To quantity.Temperature
	Working  int // minutes
	Cure     int // minutes
	// CureWet is the cure in a damp or saturated hole, minutes. Nil: the sheet
	// gives none for the row.
	CureWet *int
}

// Sheet is what a product's sheet says of its times. The order of the rows
// means nothing; none of it is modified.
type Sheet struct {
	Rows []Row
	// WetFactor is the sheet's own, on the cure in a damp or saturated hole.
	// Nil: it gives none.
	WetFactor *float64
	// Allowed are the holes that the sheet names as allowed.
	Allowed []Moisture
	// Low and High bound the rock temperature as the sheet states it. Nil: the
	// rows alone do.
	Low, High *quantity.Temperature
}

// Allows says whether the sheet names such a hole as allowed.
func (s *Sheet) Allows(h Moisture) bool { return slices.Contains(s.Allowed, h) }

// outside says why a temperature lies outside what the sheet covers; blank if
// it does not.
func (s *Sheet) outside(t quantity.Temperature) Reason {
	low, high := s.Rows[0].From, s.Rows[0].To
	for _, r := range s.Rows {
		low, high = min(low, r.From), max(high, r.To)
	}
	if s.Low != nil {
		low = max(low, *s.Low)
	}
	if s.High != nil {
		high = min(high, *s.High)
	}
	switch {
	case !(t >= low): // written so that NaN fails too
		return TooCold
	case t > high:
		return TooWarm
	}
	return ""
}

// rising returns the rows, coldest first.
func (s *Sheet) rising() []Row {
	return slices.SortedFunc(slices.Values(s.Rows), func(a, b Row) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To), cmp.Compare(a.Cure, b.Cure))
	})
}

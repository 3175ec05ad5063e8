package exchange

import (
	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// Shares of a column's cells (those that say "not known" apart) that settle
// what it holds. Defaults of this project.
const (
	enoughCells = 3
	fewCells    = 0.2
	mostCells   = 0.7
	cellsRead   = 200 // of each column
)

// recognisers say whether a cell can be of a field.
var recognisers = map[Field]func(string) bool{
	FieldType:          isType,
	FieldMetal:         isMetal,
	FieldDiameter:      isDiameter,
	FieldLength:        lengthBetween(shortestBolt, longestBolt),
	FieldHole:          lengthBetween(thinnestHole, thickestHole),
	FieldSetOn:         isDate,
	FieldLastInspected: isDate,
	FieldState:         isState,
	FieldLat:           isDegrees,
	FieldLon:           isDegrees,
	FieldCoordinates:   isPair,
	FieldRole:          isRole,
	FieldSiteKind:      isSiteKind,
}

// guessable are the fields that a column may be taken for by its cells alone;
// dates and states, which may be of anything, only under a heading that says
// nothing at all.
var guessable = []struct {
	field    Field
	nameless bool
}{
	{FieldCoordinates, false},
	{FieldMetal, false},
	{FieldType, false},
	{FieldSetOn, true},
	{FieldState, true},
}

// isNameless says whether a heading says nothing at all.
func isNameless(heading string) bool {
	w := words(heading)
	return w == "  " || w == " " || hasWord(w, "unnamed", "column", "field", "untitled")
}

// share returns how many cells of a column say anything, and what share of
// them passes the test.
func (s *sheet) share(at int, test func(string) bool) (n int, share float64) {
	passed := 0
	for _, text := range s.cells(at) {
		if isUnknown(text) {
			continue
		}
		if n++; test(text) {
			passed++
		}
		if n == cellsRead {
			break
		}
	}
	if n == 0 {
		return 0, 0
	}
	return n, float64(passed) / float64(n)
}

// farFuture stands for "today" where only the look of a date matters.
var farFuture = calendar.NewDate(2199, 12, 31)

func isDate(text string) bool {
	for _, order := range []calendar.Order{calendar.DayFirst, calendar.MonthFirst} {
		if s, err := calendar.ParseSpan(text, order, farFuture); err == nil && s.Known() {
			return true
		}
	}
	return false
}

func isMetal(text string) bool {
	set, err := metal.Parse(text)
	return err == nil && set.Known()
}

func isType(text string) bool {
	f, understood := readForm(text, false)
	return understood && f != ""
}

func isState(text string) bool {
	s, ok := readState(text)
	return ok && s.state != "" && s.state != registry.StateOther
}

func isRole(text string) bool { return roleOf(text) != "" }

func isSiteKind(text string) bool { _, ok := readSiteKind(text); return ok }

func isDegrees(text string) bool {
	d, ok := readDegrees(text)
	return ok && d.fine
}

func isPair(text string) bool {
	lat, lon, ok := readPair(text)
	return ok && lat.fine && lon.fine
}

func isDiameter(text string) bool {
	d, _, err := quantity.ParseSize(text)
	return err == nil && d >= thinnestShank && d <= thickestShank
}

func lengthBetween(low, high quantity.Length) func(string) bool {
	return func(text string) bool {
		l, err := quantity.ParseLength(text, quantity.InMillimetres)
		return err == nil && l >= low && l <= high
	}
}

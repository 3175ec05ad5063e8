package app_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/app"
	"rockledger/internal/fault"
)

// ring writes a GeoJSON ring of corners given as longitude and latitude.
func ring(corners ...[2]float64) string {
	var parts []string
	for _, c := range corners {
		parts = append(parts, fmt.Sprintf("[%v,%v]", c[0], c[1]))
	}
	return "[" + strings.Join(parts, ",") + "]"
}

func polygon(rings ...string) string {
	return `{"type":"Polygon","coordinates":[` + strings.Join(rings, ",") + `]}`
}

// box is a rectangle in hundredths of a degree east and north of 2 W, 54 N.
func box(west, south, east, north float64) string {
	at := func(x, y float64) [2]float64 { return [2]float64{-2 + x/100, 54 + y/100} }
	return ring(at(west, south), at(east, south), at(east, north), at(west, north), at(west, south))
}

func outlineOf(t testing.TB, text string) app.Outline {
	t.Helper()
	o, err := app.ParseOutline(text)
	if err != nil {
		t.Fatalf("parse %s: %v", text, err)
	}
	return o
}

// A hundredth of a degree of latitude is 1113 m on the sphere of 6378 km that
// orb reckons with, and one of longitude at 54 degrees cos 54 of that; by hand.
func TestOutlineArea(t *testing.T) {
	t.Parallel()
	const side = math.Pi * 6378137 / 180 / 100
	for _, c := range []struct {
		name, text string
		want       float64 // m2
	}{
		{"a box", polygon(box(0, 0, 1, 1)), side * side * math.Cos(54.005*math.Pi/180)},
		{"clockwise", polygon(ring([2]float64{-2, 54}, [2]float64{-2, 54.01}, [2]float64{-1.99, 54.01}, [2]float64{-1.99, 54}, [2]float64{-2, 54})), side * side * math.Cos(54.005*math.Pi/180)},
		{"with a hole of a quarter", polygon(box(0, 0, 1, 1), box(0.25, 0.25, 0.75, 0.75)), 0.75 * side * side * math.Cos(54.005*math.Pi/180)},
		{"two boxes", `{"type":"MultiPolygon","coordinates":[[` + box(0, 0, 1, 1) + `],[` + box(5, 0, 6, 1) + `]]}`, 2 * side * side * math.Cos(54.005*math.Pi/180)},
		{"a corner twice, heights", `{"type":"Polygon","coordinates":[[[-2,54,120],[-2,54,120],[-1.99,54,121],[-1.99,54.01,122],[-2,54.01,123],[-2,54,120]]]}`, side * side * math.Cos(54.005*math.Pi/180)},
	} {
		if got := outlineOf(t, c.text).Area(); math.Abs(got-c.want) > 1e-3*c.want {
			t.Errorf("%s: area %.0f m2, want %.0f", c.name, got, c.want)
		}
	}
}

func TestParseOutlineRejects(t *testing.T) {
	t.Parallel()
	p := func(x, y float64) [2]float64 { return [2]float64{-2 + x/100, 54 + y/100} }
	for _, c := range []struct {
		name, text string
		want       fault.Code
	}{
		{"no JSON", "field behind the barn", fault.Malformed},
		{"a point", `{"type":"Point","coordinates":[-2,54]}`, fault.Malformed},
		{"no coordinates", `{"type":"Polygon"}`, fault.Malformed},
		{"no ring", `{"type":"Polygon","coordinates":[]}`, fault.Malformed},
		{"not closed", polygon(ring(p(0, 0), p(1, 0), p(1, 1), p(0, 1))), fault.Malformed},
		{"a line", polygon(ring(p(0, 0), p(1, 0), p(0, 0))), fault.Malformed},
		{"a corner without latitude", `{"type":"Polygon","coordinates":[[[-2],[-1.99],[-2]]]}`, fault.Malformed},
		{"nowhere on earth", polygon(ring(p(0, 0), [2]float64{54, 190}, p(1, 1), p(0, 0))), fault.OutOfRange},
		{"a bow tie", polygon(ring(p(0, 0), p(1, 1), p(1, 0), p(0, 1), p(0, 0))), fault.CrossesItself},
		{"there and back", polygon(ring(p(0, 0), p(2, 0), p(1, 0), p(1, 1), p(0, 0))), fault.CrossesItself},
		{"touching a side", polygon(ring(p(0, 0), p(2, 0), p(2, 2), p(1, 0), p(0, 2), p(0, 0))), fault.CrossesItself},
		{"a hole across the border", polygon(box(0, 0, 1, 1), box(0.5, 0.5, 1.5, 0.7)), fault.CrossesItself},
		{"a hole outside", polygon(box(0, 0, 1, 1), box(2, 2, 3, 3)), fault.Malformed},
		{"polygons on one another", `{"type":"MultiPolygon","coordinates":[[` + box(0, 0, 2, 2) + `],[` + box(1, 1, 3, 3) + `]]}`, fault.Overlaps},
	} {
		if _, err := app.ParseOutline(c.text); err == nil || fault.CodeOf(err) != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

func TestOutlineHolds(t *testing.T) {
	t.Parallel()
	o := outlineOf(t, polygon(box(0, 0, 1, 1), box(0.4, 0.4, 0.6, 0.6)))
	for _, c := range []struct {
		name     string
		lat, lon float64
		want     bool
	}{
		{"within", 54.002, -1.998, true},
		{"in the hole", 54.005, -1.995, false},
		{"outside", 54.002, -2.001, false},
		{"latitude and longitude swapped", -1.998, 54.002, false},
	} {
		if got := o.Holds(c.lat, c.lon); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestOutlinesOverlap(t *testing.T) {
	t.Parallel()
	base := polygon(box(0, 0, 2, 2))
	p := func(x, y float64) [2]float64 { return [2]float64{-2 + x/100, 54 + y/100} }
	const metre = 100 / 111_195.0 // in hundredths of a degree north
	for _, c := range []struct {
		name, text string
		want       bool
	}{
		{"apart", polygon(box(3, 0, 4, 2)), false},
		{"neighbours along a whole side", polygon(box(2, 0, 4, 2)), false},
		{"neighbours along part of a side", polygon(box(2, 1, 4, 3)), false},
		{"neighbours at a corner", polygon(box(2, 2, 4, 4)), false},
		{"the border drawn half a metre apart", polygon(box(0, 2-metre/2, 2, 4)), false},
		{"three metres over the border", polygon(box(0, 2-3*metre, 2, 4)), true},
		{"a corner in", polygon(box(1, 1, 3, 3)), true},
		{"the same", base, true},
		{"within", polygon(box(0.5, 0.5, 1, 1)), true},
		{"within, along the border", polygon(box(0, 0, 1, 1)), true},
		{"around", polygon(box(-1, -1, 3, 3)), true},
		{"across, no corner in", polygon(box(-1, 0.5, 3, 1)), true},
		{"in its hole", polygon(box(-2, -2, 4, 4), box(-1, -1, 3, 3)), false},
		{"filling its hole", polygon(box(-2, -2, 4, 4), box(0, 0, 2, 2)), false},
		{"half, cut from corner to corner", polygon(ring(p(0, 0), p(2, 0), p(2, 2), p(0, 0))), true},
		{"a diamond whose corners touch its sides", polygon(ring(p(1, 0), p(2, 1), p(1, 2), p(0, 1), p(1, 0))), true},
	} {
		a, b := outlineOf(t, base), outlineOf(t, c.text)
		if got, back := a.Overlaps(b), b.Overlaps(a); got != c.want || back != c.want {
			t.Errorf("%s: %v and %v, want %v", c.name, got, back, c.want)
		}
	}
}

// Two boxes overlap exactly if their sides do in both directions, by more than
// a metre; whichever is asked.
func TestBoxesOverlap(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		tenth := rapid.IntRange(0, 40)
		side := func(of string) (from, to float64) {
			a := tenth.Draw(t, of)
			return float64(a) / 10, float64(a+rapid.IntRange(1, 20).Draw(t, of+" length")) / 10
		}
		west, east := side("x")
		south, north := side("y")
		w, e := side("other x")
		s, n := side("other y")
		a, errA := app.ParseOutline(polygon(box(west, south, east, north)))
		b, errB := app.ParseOutline(polygon(box(w, s, e, n)))
		if errA != nil || errB != nil {
			t.Fatalf("parse: %v, %v", errA, errB)
		}
		want := min(east, e)-max(west, w) > 0.05 && min(north, n)-max(south, s) > 0.05
		if got, back := a.Overlaps(b), b.Overlaps(a); got != want || back != want {
			t.Fatalf("overlap %v and %v, want %v", got, back, want)
		}
	})
}

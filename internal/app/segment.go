package app

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// sameBorder is how deep two outlines may reach into each other, in metres,
// before they overlap: less is the same border drawn twice.
//
// Source: judgement of this project.
const sameBorder = 1.0

// metresPerDegree along a meridian, on a sphere of 6371 km.
const metresPerDegree = 111_195.0

// segment is one side of a ring.
type segment struct{ a, b orb.Point }

func sides(r orb.Ring) []segment {
	out := make([]segment, 0, len(r)-1)
	for i := 1; i < len(r); i++ {
		out = append(out, segment{r[i-1], r[i]})
	}
	return out
}

// crossesItself returns where a closed ring without repeated corners crosses or
// touches itself, if it does.
func crossesItself(r orb.Ring) (orb.Point, bool) {
	all := sides(r)
	for i, s := range all {
		for j := i + 1; j < len(all); j++ {
			t := all[j]
			corner := j == i+1 && !s.foldsBack(t) || i == 0 && j == len(all)-1 && !t.foldsBack(s)
			if at, ok := s.meets(t); ok && !corner {
				return at, true
			}
		}
	}
	return orb.Point{}, false
}

// foldsBack says whether the side after s runs back along it.
func (s segment) foldsBack(next segment) bool {
	return turn(s.a, s.b, next.b) == 0 && dot(s.b, s.a, next.b) > 0
}

// ringsMeet returns where two rings cross or touch, if they do.
func ringsMeet(a, b orb.Ring) (orb.Point, bool) {
	for _, s := range sides(a) {
		for _, t := range sides(b) {
			if at, ok := s.meets(t); ok {
				return at, true
			}
		}
	}
	return orb.Point{}, false
}

// turn is above zero if a, b, c turn left, zero if they lie on one line.
func turn(a, b, c orb.Point) float64 { return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]) }

func dot(o, a, b orb.Point) float64 { return (a[0]-o[0])*(b[0]-o[0]) + (a[1]-o[1])*(b[1]-o[1]) }

// apart says that the boxes around two sides do not meet.
func (s segment) apart(t segment) bool {
	return max(s.a[0], s.b[0]) < min(t.a[0], t.b[0]) || max(t.a[0], t.b[0]) < min(s.a[0], s.b[0]) ||
		max(s.a[1], s.b[1]) < min(t.a[1], t.b[1]) || max(t.a[1], t.b[1]) < min(s.a[1], s.b[1])
}

// meets returns a point that two sides have in common, if there is one.
func (s segment) meets(t segment) (orb.Point, bool) {
	if s.apart(t) {
		return orb.Point{}, false
	}
	c, d := turn(s.a, s.b, t.a), turn(s.a, s.b, t.b)
	a, b := turn(t.a, t.b, s.a), turn(t.a, t.b, s.b)
	if c*d < 0 && a*b < 0 {
		return s.at(a / (a - b)), true
	}
	for _, end := range []struct {
		on    segment
		at    orb.Point
		level float64
	}{{s, t.a, c}, {s, t.b, d}, {t, s.a, a}, {t, s.b, b}} {
		if end.level == 0 && !end.on.apart(segment{end.at, end.at}) {
			return end.at, true
		}
	}
	return orb.Point{}, false
}

// at returns the point at a share of the way from a to b.
func (s segment) at(share float64) orb.Point {
	return orb.Point{s.a[0] + share*(s.b[0]-s.a[0]), s.a[1] + share*(s.b[1]-s.a[1])}
}

// polygonsOverlap says whether two polygons cover the same land, deeper than
// sameBorder: whether a stretch of the border of one runs inside the other, or
// the inside of one lies inside the other.
func polygonsOverlap(a, b orb.Polygon) bool {
	if !a.Bound().Intersects(b.Bound()) {
		return false
	}
	inA, okA := inside(a)
	inB, okB := inside(b)
	return bordersInside(a, b) || bordersInside(b, a) ||
		okA && deepInside(b, inA) || okB && deepInside(a, inB)
}

// bordersInside says whether a stretch of a's border runs inside b.
func bordersInside(a, b orb.Polygon) bool {
	for _, r := range a {
		for _, s := range sides(r) {
			cuts := cutsOf(s, b)
			for i := 1; i < len(cuts); i++ {
				for _, share := range []float64{0.25, 0.5, 0.75} {
					if deepInside(b, s.at(cuts[i-1]+share*(cuts[i]-cuts[i-1]))) {
						return true
					}
				}
			}
		}
	}
	return false
}

// cutsOf returns the shares of s at which the border of b meets it, with both
// ends, in order.
func cutsOf(s segment, b orb.Polygon) []float64 {
	cuts := []float64{0, 1}
	for _, r := range b {
		for _, t := range sides(r) {
			if at, ok := s.meets(t); ok {
				cuts = append(cuts, s.shareOf(at))
			}
		}
	}
	slices.SortFunc(cuts, cmp.Compare)
	return slices.Compact(cuts)
}

// shareOf returns how far along s a point on it lies.
func (s segment) shareOf(p orb.Point) float64 {
	return min(1, max(0, dot(s.a, p, s.b)/dot(s.a, s.b, s.b)))
}

// deepInside says whether a point lies within a polygon and further than
// sameBorder from its border.
func deepInside(p orb.Polygon, at orb.Point) bool {
	return planar.PolygonContains(p, at) && metresFrom(p, at) > sameBorder
}

// metresFrom returns how far a point lies from a polygon's border, near enough
// for land of some kilometres.
func metresFrom(p orb.Polygon, at orb.Point) float64 {
	nearest := math.Inf(1)
	for _, r := range p {
		for _, s := range sides(r) {
			nearest = min(nearest, s.metresFrom(at))
		}
	}
	return nearest
}

func (s segment) metresFrom(at orb.Point) float64 {
	squeeze := math.Cos(at.Lat() * math.Pi / 180)
	flat := func(p orb.Point) orb.Point {
		return orb.Point{(p[0] - at[0]) * squeeze * metresPerDegree, (p[1] - at[1]) * metresPerDegree}
	}
	f := segment{flat(s.a), flat(s.b)}
	near := f.at(f.shareOf(orb.Point{}))
	return math.Hypot(near[0], near[1])
}

// inside returns a point well inside a polygon: the middle of the longest
// stretch within it along a line halfway up. It reports false for one as flat
// as a line.
func inside(p orb.Polygon) (orb.Point, bool) {
	box := p.Bound()
	var best segment
	for _, share := range []float64{0.5, 0.37, 0.71} { // one may run along corners
		y := box.Min[1] + share*(box.Max[1]-box.Min[1])
		line := segment{orb.Point{box.Min[0], y}, orb.Point{box.Max[0], y}}
		cuts := cutsOf(line, p)
		for i := 1; i < len(cuts); i++ {
			s := segment{line.at(cuts[i-1]), line.at(cuts[i])}
			if s.b[0]-s.a[0] > best.b[0]-best.a[0] && planar.PolygonContains(p, s.at(0.5)) {
				best = s
			}
		}
	}
	return best.at(0.5), best.a != best.b
}

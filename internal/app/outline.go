package app

import (
	"encoding/json"
	"math"
	"strconv"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"
	"github.com/paulmach/orb/planar"

	"rockledger/internal/fault"
)

// outline is the land inside one or several polygons, in degrees, WGS 84,
// longitude first. One that runs across the 180th meridian is not covered.
type outline orb.MultiPolygon

// fewest is how many corners a ring has at least; the first is the last again.
const fewest = 4

// parseOutline reads a GeoJSON Polygon or MultiPolygon; nothing is an empty
// outline. Heights are left out, and corners that repeat.
//
// Errors are Invalid: fault.Malformed for what is no such geometry, a ring that
// is not closed or has too few corners, or a hole outside its polygon;
// fault.OutOfRange for corners that lie nowhere on earth; fault.CrossesItself
// for a ring that crosses or touches itself or another of the outline;
// fault.Overlaps for polygons that cover the same land.
//
// Source of the format: RFC 7946, section 3.1.
func parseOutline(text string) (outline, error) {
	if text == "" {
		return nil, nil
	}
	rings, err := readPolygons(text)
	if err != nil {
		return nil, err
	}
	var o outline
	for _, polygon := range rings {
		p, err := newPolygon(polygon)
		if err != nil {
			return nil, err
		}
		for _, before := range o {
			if polygonsOverlap(before, p) {
				return nil, fault.Reject(fault.Overlaps, "polygons of one outline overlap")
			}
		}
		o = append(o, p)
	}
	return o, nil
}

// readPolygons reads polygons, rings, corners and coordinates.
func readPolygons(text string) ([][][][]float64, error) {
	var g struct {
		Type        string          `json:"type"`
		Coordinates json.RawMessage `json:"coordinates"`
	}
	if err := json.Unmarshal([]byte(text), &g); err != nil {
		return nil, malformed("outline is no JSON object: " + err.Error())
	}
	var polygons [][][][]float64
	var err error
	switch g.Type {
	case "Polygon":
		polygons = make([][][][]float64, 1)
		err = json.Unmarshal(g.Coordinates, &polygons[0])
	case "MultiPolygon":
		err = json.Unmarshal(g.Coordinates, &polygons)
	default:
		return nil, malformed("outline of type " + strconv.Quote(g.Type) + ": want Polygon or MultiPolygon")
	}
	if err != nil || len(polygons) == 0 {
		return nil, malformed("outline has no coordinates of its type")
	}
	return polygons, nil
}

func malformed(why string) error { return fault.Reject(fault.Malformed, "%s", why) }

// newPolygon checks the rings of one polygon, the outer one first.
func newPolygon(rings [][][]float64) (orb.Polygon, error) {
	if len(rings) == 0 {
		return nil, malformed("polygon without ring")
	}
	var p orb.Polygon
	for _, corners := range rings {
		r, err := newRing(corners)
		if err != nil {
			return nil, err
		}
		for _, before := range p {
			if at, ok := ringsMeet(before, r); ok {
				return nil, crossing(at)
			}
		}
		if len(p) > 0 && !planar.RingContains(p[0], r[0]) {
			return nil, malformed("hole outside its polygon")
		}
		p = append(p, r)
	}
	return p, nil
}

func newRing(corners [][]float64) (orb.Ring, error) {
	var r orb.Ring
	for _, c := range corners {
		if len(c) < 2 {
			return nil, malformed("corner without longitude and latitude")
		}
		if math.Abs(c[0]) > 180 || math.Abs(c[1]) > 90 {
			return nil, fault.Reject(fault.OutOfRange, "corner %v lies nowhere on earth", c).
				With("from", "-180, -90", "to", "180, 90 (longitude first)")
		}
		if at := (orb.Point{c[0], c[1]}); len(r) == 0 || r[len(r)-1] != at {
			r = append(r, at)
		}
	}
	if len(r) < fewest || !r.Closed() {
		return nil, malformed("ring is not closed, or has fewer than three corners")
	}
	if at, ok := crossesItself(r); ok {
		return nil, crossing(at)
	}
	return r, nil
}

func crossing(at orb.Point) error {
	return fault.Reject(fault.CrossesItself, "outline crosses itself near %v", at).
		With("lon", decimals(at.Lon()), "lat", decimals(at.Lat()))
}

// decimals writes degrees to about a tenth of a metre.
func decimals(degrees float64) string { return strconv.FormatFloat(degrees, 'f', 6, 64) }

// area returns the area in square metres, on a sphere.
func (o outline) area() float64 { return math.Abs(geo.Area(orb.MultiPolygon(o))) }

// holds says whether a place lies within or on the edge.
func (o outline) holds(lat, lon float64) bool {
	return planar.MultiPolygonContains(orb.MultiPolygon(o), orb.Point{lon, lat})
}

// overlaps says whether two outlines cover the same land by more than a metre.
func (o outline) overlaps(other outline) bool {
	for _, a := range o {
		for _, b := range other {
			if polygonsOverlap(a, b) {
				return true
			}
		}
	}
	return false
}

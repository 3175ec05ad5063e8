package exchange

import (
	"math"
	"slices"

	"rockledger/internal/registry"
)

// point is a row's coordinates as read, not yet held against its site's.
type point struct {
	row      int
	field    Field // where they stand: the coordinates' column, or the latitude's
	lat, lon float64
	swapped  bool // the letters say that each stands in the other's column
}

const (
	// farKM is how far from the middle of its site an anchor can stand. Default
	// of this project.
	farKM = 10
	// enoughPoints of a site make its middle.
	enoughPoints = 3
)

// coordinates reads a row's coordinates. Those of a cave are only kept as
// written, and so is what cannot be read.
func (r *reader) coordinates(i int) {
	row := &r.list.Rows[i]
	lat, lon, pair := r.text(i, FieldLat), r.text(i, FieldLon), r.text(i, FieldCoordinates)
	field := FieldLat
	switch {
	case !isUnknown(lat) || !isUnknown(lon):
		row.CoordinateWords = bothWords(lat, lon)
	case !isUnknown(pair):
		row.CoordinateWords, field = pair, FieldCoordinates
	default:
		return
	}
	if row.SiteKind == registry.Cave {
		return
	}
	read := r.recall.points.of(pointSaid{lat, lon, pair, field}, pointOf)
	if !read.ok {
		r.doubtPlace(i, field, registry.DoubtCoordinatesNotRead)
		return
	}
	read.row = i
	r.points = append(r.points, read.point)
}

func pointOf(said pointSaid) pointRead {
	p, ok := readPoint(said.lat, said.lon, said.pair, said.field)
	return pointRead{p, ok}
}

// bothWords joins the two cells of a place as written.
func bothWords(lat, lon string) string {
	if lon == "" {
		return tidy(lat)
	}
	return tidy(lat + ", " + lon)
}

// readPoint reads two cells or one; nought, nought is what programs write for
// nothing.
func readPoint(lat, lon, pair string, field Field) (point, bool) {
	var a, b degrees
	ok := true
	if field == FieldCoordinates {
		a, b, ok = readPair(pair)
	} else {
		var second bool
		a, ok = readDegrees(lat)
		b, second = readDegrees(lon)
		ok = ok && second
	}
	if !ok || a.value == 0 && b.value == 0 {
		return point{}, false
	}
	p := point{field: field, lat: a.value, lon: b.value}
	switch {
	case a.axis == 'E' && b.axis != 'E', b.axis == 'N' && a.axis != 'N', math.Abs(a.value) > 90:
		p.lat, p.lon, p.swapped = p.lon, p.lat, true
	case a.axis == 'E' || b.axis == 'N':
		return point{}, false
	}
	return p, math.Abs(p.lat) <= 90
}

// places holds each row's coordinates against the rest of its site and puts
// right those with latitude and longitude swapped.
func (r *reader) places() {
	sites := make(map[int32][]point)
	for _, p := range r.points {
		site := r.sites[p.row]
		sites[site] = append(sites[site], p)
	}
	all, enough := middle(r.points)
	for _, points := range sites {
		at, ok := middle(points)
		for _, p := range points {
			switch {
			case ok:
				r.place(p, at, farKM)
			case enough:
				r.place(p, all, math.Inf(1))
			default:
				r.place(p, p, math.Inf(1))
			}
		}
	}
	r.caves()
}

// place sets a row's coordinates. Swapped ones lie near the middle the other
// way round, and farther off as they stand.
func (r *reader) place(p, middle point, limit float64) {
	turned := point{lat: p.lon, lon: p.lat}
	if away := distance(p, middle); away > farKM && math.Abs(p.lon) <= 90 {
		back := distance(turned, middle)
		if back < farKM || math.IsInf(limit, 1) && 10*back < away {
			p.lat, p.lon, p.swapped = p.lon, p.lat, !p.swapped
		}
	}
	if distance(p, middle) > limit {
		r.doubtPlace(p.row, p.field, registry.DoubtCoordinatesFar)
		return
	}
	if p.swapped {
		r.doubtPlace(p.row, p.field, registry.DoubtCoordinatesSwapped)
	}
	row := &r.list.Rows[p.row]
	lat, lon := p.lat, p.lon // so that not all of the point is kept
	row.Lat, row.Lon = &lat, &lon
}

// doubtPlace lists a row's coordinates, both of them, under the first column.
func (r *reader) doubtPlace(i int, f Field, code string) {
	r.doubt(i, f, code)
	r.list.Doubts[len(r.list.Doubts)-1].Text = r.list.Rows[i].CoordinateWords
}

// middle returns the median of the points, each coordinate by itself, so that
// a few that are wrong do not move it; false for too few points to tell.
func middle(points []point) (point, bool) {
	if len(points) < enoughPoints {
		return point{}, false
	}
	lats, lons := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		lats[i], lons[i] = p.lat, p.lon
	}
	slices.Sort(lats)
	slices.Sort(lons)
	return point{lat: lats[len(lats)/2], lon: lons[len(lons)/2]}, true
}

// distance returns the kilometres between two points on a plane that touches
// the globe at the second: good enough to tell near from far.
func distance(a, b point) float64 {
	const kmPerDegree = 111.2 // a degree of a meridian; Earth's mean radius 6371 km
	east := math.Mod(a.lon-b.lon+540, 360) - 180
	return kmPerDegree * math.Hypot(a.lat-b.lat, east*math.Cos(b.lat*math.Pi/180))
}

// caves says once of each cave with coordinates that they are only kept.
func (r *reader) caves() {
	said := map[int32]bool{}
	for i := range r.list.Rows {
		row, site := &r.list.Rows[i], r.sites[i]
		if row.SiteKind != registry.Cave || row.CoordinateWords == "" || said[site] {
			continue
		}
		said[site] = true
		field := FieldLat
		if isUnknown(r.text(i, FieldLat)) && isUnknown(r.text(i, FieldLon)) {
			field = FieldCoordinates
		}
		r.doubtPlace(i, field, registry.DoubtCoordinatesOfCave)
	}
}

package exchange

import (
	"slices"
	"strings"

	"rockledger/internal/quantity"
)

// guess is a field that a heading may mean, and how surely, up to 100. One of
// less than sure needs cells that bear it out.
type guess struct {
	field Field
	score int
}

const (
	sure    = 65 // from here on a heading is believed whatever the cells say
	partial = 60 // per cent of its score that a phrase keeps inside a longer heading
)

// phrases say what headings mean, in words as headings are folded. The first
// number of each group is how surely. Common practice, no source.
var phrases = []struct {
	field Field
	score int
	list  string
}{
	{FieldSite, 100, "site, crag, crag name, site name, cave name, crag or cave, cave or crag"},
	{FieldSite, 95, "cave, cliff, cavern, pothole, venue, crag cave, cave crag"},
	{FieldSite, 60, "area, location, place, edge, pot, mine, climbing area"},
	{FieldSector, 100, "sector, sector name, sub area, subarea"},
	{FieldSector, 85, "wall, buttress, part, section, bay, face, passage, series, sub crag"},
	{FieldSector, 55, "area, zone, tier, level"},
	{FieldRoute, 100, "route, route name, climb, climb name, pitch, pitch name, name of route, name of climb"},
	{FieldRoute, 70, "line, traverse, problem, descent"},
	{FieldPosition, 100, "position, bolt no, bolt number, bolt #, bolt id, bolt label, anchor no, anchor number, anchor #, anchor id, anchor label, anchor position, bolt position, placement, placement no, anchor name, bolt name, anchor point"},
	{FieldPosition, 90, "label, pos, anchor ref, bolt ref"},
	{FieldPosition, 80, "bolt, anchor, bolts, anchors, fixed anchor"},
	{FieldPosition, 70, "no, nr, number, #, id, ref, tag, point, station, spot"},
	{FieldRole, 100, "role, function, purpose, anchor role, bolt role"},
	{FieldRole, 60, "use, used for, used as"},
	{FieldType, 100, "type, anchor type, bolt type, type of anchor, type of bolt, fixing type, anchor kind, kind of anchor, kind of bolt"},
	{FieldType, 80, "kind, hardware, fixing, form, style"},
	{FieldType, 40, "bolt, anchor, equipment, gear, placement"},
	{FieldMetal, 100, "metal, steel, material, alloy, steel grade, metal grade, material grade, grade of steel, bolt material, anchor material, bolt metal, anchor metal"},
	{FieldMetal, 70, "finish, coating, made of"},
	{FieldMetal, 45, "grade, composition"},
	{FieldDiameter, 100, "diameter, dia, diam, shank, shank dia, shank diameter, bolt dia, bolt diameter, anchor diameter, bolt size, anchor size, ø, ⌀, dia x length, diameter x length, size of bolt"},
	{FieldDiameter, 60, "size, thread, dimensions, thickness"},
	{FieldLength, 100, "bolt length, anchor length, shank length, length of bolt, overall length"},
	{FieldLength, 60, "length, len, long"},
	{FieldHole, 100, "hole, hole dia, hole diam, hole diameter, hole size, drill, drill dia, drill size, drill diameter, drill bit, bit size, drilled, drilled hole, bit, hole ø"},
	{FieldGlue, 100, "glue, resin, adhesive, glue type, resin type, adhesive type, mortar, glue used, resin used, adhesive used, epoxy, bonded with, glued with"},
	{FieldBatch, 100, "batch, lot, batch no, batch number, batch #, lot no, lot number, lot #, glue batch, resin batch, adhesive batch, adhesive lot, cartridge, cartridge batch, batch code, lot code"},
	{FieldSetOn, 100, "set on, date set, fitted, date fitted, fitted on, installed, installed on, date installed, installation date, install date, placed, placed on, date placed, date of placement, set, drilled on, glued on, bolted, bolted on, year set, year fitted, year installed, year placed, when set, when fitted, when installed, when placed, placement date, installation year, install year, date of installation"},
	{FieldSetOn, 60, "date, year, when, age, installation, install"},
	{FieldSetBy, 100, "set by, fitted by, installed by, placed by, bolted by, glued by, drilled by, equipped by, installer, fitter, bolter, equipper, who set, who fitted, who placed it, placed by whom"},
	{FieldSetBy, 70, "by, by whom, who, person"},
	{FieldLastInspected, 100, "last checked, last inspected, last inspection, last check, last seen, checked, inspected, date checked, date inspected, checked on, inspected on, inspection date, last inspection date, check date, last visit, last visited, last looked at, date of last inspection, date last checked, date last inspected, date of inspection, date of last check, latest inspection"},
	{FieldLastInspected, 70, "inspection, check, seen, visited, latest check"},
	{FieldState, 100, "condition, state of anchor, state of bolt, condition of bolt, condition of anchor, anchor condition, bolt condition, anchor state, bolt state"},
	{FieldState, 85, "status"},
	{FieldState, 60, "state, findings, observation, observations, result, outcome, verdict"},
	{FieldLat, 100, "lat, latitude, gps lat, lat wgs84, gps latitude, latitude wgs84"},
	{FieldLat, 50, "n, y, north, northing"},
	{FieldLon, 100, "lon, long, lng, longitude, gps lon, gps long, lon wgs84, gps longitude, longitude wgs84"},
	{FieldLon, 50, "e, x, w, east, west, easting"},
	{FieldCoordinates, 100, "coordinates, coords, coordinate, lat lon, lat long, lat lng, latlon, latlong, gps coordinates, gps coords, latitude longitude"},
	{FieldCoordinates, 60, "gps, wgs84, location, gps position"},
	{FieldLandowner, 100, "landowner, land owner, owner of land, landlord, land manager, land agent, property owner, whose land"},
	{FieldLandowner, 70, "land, owner, property, estate"},
	{FieldNotes, 100, "notes, note, comments, comment, remarks, remark"},
	{FieldNotes, 60, "other, info, information, details, description, text, misc"},
	{FieldID, 110, "id, anchor id, register id"}, // only over ids: see weigh
	{FieldSiteKind, 100, "site kind, kind of site, site type, type of site, crag type, kind of place, type of place, place kind, place type, crag or cave"},

	// What these say is not asked for; a shorter phrase inside them misleads.
	{FieldNone, 100, "hole depth, depth of hole, drill depth, rock type, type of rock, rock, depth, embedment, embedment depth, length in rock, route type, type of route, climb type, grade of route, route grade, climb grade, climbing grade, route length, pitch length, pitch depth, rope length, traverse length, hanger type, hanger steel, hanger material, hanger metal, nut, washer, checked by, inspected by, inspector, checker, last checked by, last inspected by, seen by, next check, next inspection, next inspected, inspection due, check due, due, due date, expiry, batch expiry, expiry date, removed on, date removed, removed, removal, removed by, replaced, replaced on, date replaced, replaced by, torque, load, test load, proof load, photo, link, url, grid ref, grid reference, height, number of bolts, no of bolts, number of anchors, no of anchors, first ascent, first climbed, date climbed, climbed by, glued, cure, cured, rope, no of ropes, manufacturer, maker, brand, product, supplier, phone, contact, email, landowner contact, date bought, bought"},
}

// blockers are words whose heading is not guessed from a part of it.
var blockers = []string{
	"next", "due", "expiry", "expires", "depth", "embedment", "torque", "load", "kn", "photo", "photos", "link",
	"rope", "height", "rock", "grid", "removed", "removal", "replaced", "climbed", "contact", "hanger", "nut", "cure",
}

var meanings = func() map[string][]guess {
	m := map[string][]guess{}
	for _, p := range phrases {
		for phrase := range strings.SplitSeq(p.list, ", ") {
			m[phrase] = append(m[phrase], guess{p.field, p.score})
		}
	}
	return m
}()

// fillers are words that change nothing.
var fillers = []string{"the", "approx", "approximate", "known", "if", "a", "of", "on"}

// unitWords are the units a heading may end with.
var unitWords = map[string]quantity.Unit{
	"mm": quantity.InMillimetres, "millimetres": quantity.InMillimetres, "cm": quantity.InCentimetres,
	"in": quantity.InInches, "inch": quantity.InInches, "inches": quantity.InInches, "ins": quantity.InInches,
}

// heading is a heading's words, and the unit it ends with.
type heading struct {
	words []string
	unit  quantity.Unit
}

func readHeading(text string) heading {
	h := heading{words: strings.Fields(words(strings.ReplaceAll(text, "_", " ")))}
	if n := len(h.words); n > 1 {
		if unit, ok := unitWords[h.words[n-1]]; ok {
			h.words, h.unit = h.words[:n-1], unit
		}
	}
	return h
}

// guesses returns what the heading may mean: as a whole, or else by the longest
// phrase in it.
func (h heading) guesses() []guess {
	if found, ok := meanings[strings.Join(h.words, " ")]; ok {
		return found
	}
	bare := slices.DeleteFunc(slices.Clone(h.words), func(w string) bool { return slices.Contains(fillers, w) })
	if found, ok := meanings[strings.Join(bare, " ")]; ok {
		return found
	}
	return within(bare)
}

// within returns the guesses of the longest phrase inside the words, weakened.
func within(list []string) []guess {
	const longest = 6 // words; longer headings are sentences
	if len(list) > longest || slices.ContainsFunc(list, func(w string) bool { return slices.Contains(blockers, w) }) {
		return nil
	}
	for n := len(list) - 1; n > 0; n-- {
		var found []guess
		for at := 0; at+n <= len(list); at++ {
			for _, g := range meanings[strings.Join(list[at:at+n], " ")] {
				if g.field == FieldNone {
					return nil
				}
				found = append(found, guess{g.field, g.score * partial / 100})
			}
		}
		if len(found) > 0 {
			return found
		}
	}
	return nil
}

// blocked says whether the heading is known to mean nothing that is read.
func (h heading) blocked() bool {
	g := meanings[strings.Join(h.words, " ")]
	return len(g) == 1 && g[0].field == FieldNone ||
		slices.ContainsFunc(h.words, func(w string) bool { return slices.Contains(blockers, w) })
}

// strength is how much a heading says: 2 if it means something as a whole, 1
// by a part, 0 nothing.
func (h heading) strength() (Field, int) {
	best := guess{}
	for _, g := range h.guesses() {
		if g.field != FieldNone && g.score > best.score {
			best = g
		}
	}
	switch {
	case best.score == 0:
		return "", 0
	case meanings[strings.Join(h.words, " ")] != nil:
		return best.field, 2
	}
	return best.field, 1
}

package exchange

import (
	"math"
	"strconv"
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// written returns the cell of a field, such that the register's value is read
// from it. sized says that the list has a column for the length; otherwise it
// stands with the diameter. "": not known, or no such field.
func written(f Field, l *registry.Listed, asOf calendar.Date, sized bool) string {
	switch f {
	case FieldSite:
		return l.Site
	case FieldSiteKind:
		return spaced(string(l.SiteKind))
	case FieldSector:
		return l.Sector
	case FieldRoute:
		return l.Route
	case FieldPosition:
		return l.Label
	case FieldRole:
		return spaced(string(l.Role))
	case FieldType:
		return writtenType(l)
	case FieldMetal:
		return writtenMetal(l.Anchor.Metal, l.Anchor.MetalWords)
	case FieldDiameter:
		return writtenSize(l, sized)
	case FieldLength:
		return writtenLength(l.Anchor.Length)
	case FieldHole:
		return writtenLength(hole(l))
	case FieldGlue:
		return l.Glue
	case FieldBatch:
		return l.Batch
	case FieldSetOn:
		return l.Anchor.SetOn.Text(asOf)
	case FieldSetBy:
		return l.SetBy
	case FieldLastInspected:
		return seenOn(l).Text(asOf)
	case FieldState:
		return writtenState(l, asOf)
	case FieldLandowner:
		return l.Landowner
	case FieldNotes:
		return l.Anchor.Notes
	case FieldID:
		return l.Anchor.ID.String()
	}
	return writtenPlace(f, l)
}

// spaced writes a word of a closed list as people do.
func spaced(word string) string { return strings.ReplaceAll(word, "-", " ") }

// formText says of each form how it is written; readForm reads it back.
var formText = map[registry.Form]string{
	registry.SingleShank:     "glue-in, single shank",
	registry.TwistedLeg:      "twisted leg",
	registry.Staple:          "staple",
	registry.GlueIn:          "glue-in",
	registry.BondedStud:      "bonded stud",
	registry.ThroughBolt:     "through bolt",
	registry.WedgeAnchor:     "wedge anchor",
	registry.SleeveAnchor:    "sleeve anchor",
	registry.ExpansionBolt:   "expansion bolt",
	registry.ConcreteScrew:   "concrete screw",
	registry.SelfDrillSleeve: "self-drill sleeve",
	registry.DriveIn:         "drive-in",
	registry.Piton:           "piton",
}

const withHanger = " with hanger"

// writtenType takes the words of the list if they still say what the register
// holds, else names the form.
func writtenType(l *registry.Listed) string {
	plainly := formText[l.Anchor.Form]
	if l.Hanger {
		if plainly == "" {
			plainly = "bolt"
		}
		plainly += withHanger
	}
	words := l.Anchor.FormWords
	for _, text := range []string{words, words + withHanger} {
		form, _ := readForm(text, l.SiteKind == registry.Cave)
		if words != "" && form == l.Anchor.Form && hasHanger(text) == l.Hanger {
			return text
		}
	}
	return plainly
}

// writtenMetal takes the words of the list if they still say what the register
// holds, else the grades.
func writtenMetal(set metal.Set, words string) string {
	if got, err := metal.Parse(words); words != "" && (err == nil && got.Equal(set) || err != nil && !set.Known()) {
		return words
	}
	return strings.Join(set.Strings(), " / ")
}

// writtenLength writes a length in millimetres, to the nearest nanometre, as it
// is read. Nil: "".
func writtenLength(length *quantity.Length) string {
	if length == nil {
		return ""
	}
	exact := math.Round(length.Millimetres()*1e6) / 1e6
	return strconv.FormatFloat(exact, 'f', -1, 64) + " mm"
}

func writtenSize(l *registry.Listed, sized bool) string {
	shank := writtenLength(l.Anchor.Shank)
	if sized || shank == "" || l.Anchor.Length == nil {
		return shank
	}
	return shank + " x " + writtenLength(l.Anchor.Length)
}

func hole(l *registry.Listed) *quantity.Length {
	if l.Hole == nil {
		return nil
	}
	return l.Hole.HoleDiameter
}

// seenOn is when the anchor was last inspected.
func seenOn(l *registry.Listed) calendar.Span {
	if l.Seen == nil {
		return calendar.Span{}
	}
	return l.Seen.DoneOn
}

// writtenPlace writes coordinates: a cave's as they were written, in one column
// if they do not part into two.
func writtenPlace(f Field, l *registry.Listed) string {
	lat, lon := "", ""
	switch {
	case l.SiteKind == registry.Cave:
		lat = l.CoordinateWords
		if a, b, two := strings.Cut(lat, ", "); two && !strings.ContainsAny(b, ",;") {
			lat, lon = a, b
		}
	case l.Lat != nil && l.Lon != nil:
		lat, lon = writtenDegrees(*l.Lat), writtenDegrees(*l.Lon)
	}
	switch f {
	case FieldLat:
		return lat
	case FieldLon:
		return lon
	case FieldCoordinates:
		return bothWords(lat, lon)
	}
	return ""
}

func writtenDegrees(d float64) string {
	text := strconv.FormatFloat(d, 'f', -1, 64)
	if !strings.Contains(text, ".") {
		text += ".0" // a whole number is not taken for a coordinate
	}
	return text
}

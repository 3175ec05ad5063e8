package exchange

import "strings"

// Field is what a column of an anchor list holds.
type Field string

// The fields. FieldNone is a column that is kept as written and not read.
const (
	FieldNone          Field = "ignore"
	FieldSite          Field = "site"
	FieldSiteKind      Field = "site_kind"
	FieldSector        Field = "sector"
	FieldRoute         Field = "route"
	FieldPosition      Field = "position"
	FieldRole          Field = "role"
	FieldType          Field = "type"
	FieldMetal         Field = "metal"
	FieldDiameter      Field = "diameter" // a size such as 3/8 x 3 gives the length too
	FieldLength        Field = "length"
	FieldHole          Field = "hole"
	FieldGlue          Field = "glue"
	FieldBatch         Field = "batch"
	FieldSetOn         Field = "set_on"
	FieldSetBy         Field = "set_by"
	FieldLastInspected Field = "last_inspected"
	FieldState         Field = "state"
	FieldLat           Field = "lat"
	FieldLon           Field = "lon"
	FieldCoordinates   Field = "coordinates" // latitude and longitude in one
	FieldLandowner     Field = "landowner"
	FieldNotes         Field = "notes"
	FieldID            Field = "id" // of an anchor here, on a list that was exported
)

// Fields lists the fields a mapping may name, FieldNone last.
func Fields() []Field {
	return []Field{
		FieldSite, FieldSiteKind, FieldSector, FieldRoute, FieldPosition, FieldRole, FieldType, FieldMetal,
		FieldDiameter, FieldLength, FieldHole, FieldGlue, FieldBatch, FieldSetOn, FieldSetBy,
		FieldLastInspected, FieldState, FieldLat, FieldLon, FieldCoordinates, FieldLandowner, FieldNotes,
		FieldID, FieldNone,
	}
}

// anchorFields are those that say something of the anchor itself, not only of
// where it is.
var anchorFields = []Field{
	FieldType, FieldMetal, FieldDiameter, FieldLength, FieldHole, FieldGlue, FieldBatch, FieldSetOn,
	FieldSetBy, FieldLastInspected, FieldState,
}

func joinFields(fields []Field) string {
	words := make([]string, len(fields))
	for i, f := range fields {
		words[i] = string(f)
	}
	return strings.Join(words, ", ")
}

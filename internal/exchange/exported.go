package exchange

import (
	"regexp"
	"slices"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// An exported list comes back by three marks: a column that holds nothing but
// the caution, an apostrophe before what a spreadsheet would take for a formula,
// and the ids of the anchors.

// cautionHeading is the heading of the column with the caution.
const cautionHeading = "caution"

// ourFields are the columns of a list under this register's own headings, which
// are the names of the fields.
var ourFields = []Field{
	FieldSite, FieldSector, FieldRoute, FieldPosition, FieldType, FieldMetal, FieldDiameter, FieldLength, FieldHole,
	FieldGlue, FieldBatch, FieldSetOn, FieldSetBy, FieldLastInspected, FieldState, FieldLat, FieldLon, FieldLandowner,
	FieldNotes, FieldRole, FieldSiteKind, FieldID,
}

// takeBack takes the marks of an exported list off, so that its cells are those
// that went out.
func (s *sheet) takeBack() {
	at := slices.IndexFunc(s.headings, func(h string) bool { return registry.Fold(h) == cautionHeading })
	if at < 0 || !s.onlyCaution(at) {
		return
	}
	s.exported = true
	s.headings = slices.Delete(s.headings, at, at+1)
	unguard(s.headings)
	for i := range s.data {
		cells := s.data[i].cells
		if at < len(cells) {
			cells = slices.Delete(cells, at, at+1)
		}
		unguard(cells)
		s.data[i].cells = cells
	}
}

// onlyCaution says whether a column holds the caution or nothing.
func (s *sheet) onlyCaution(at int) bool {
	caution := tidy(wording.Caution)
	return !slices.ContainsFunc(s.cells(at), func(text string) bool { return text != "" && text != caution })
}

// byName takes every column by its heading if the headings are this register's
// own, all of them or some.
func (s *sheet) byName(taken []bool) {
	if !s.exported {
		return
	}
	for _, h := range s.headings {
		if !slices.Contains(ourFields, Field(registry.Fold(h))) {
			return
		}
	}
	for at, h := range s.headings {
		if f := Field(registry.Fold(h)); !taken[at] {
			if _, full := s.columns[f]; !full {
				s.take(f, at)
				taken[at] = true
			}
		}
	}
}

// formula is what a spreadsheet would work out instead of showing it, and what
// was guarded against that once more.
var (
	formula     = regexp.MustCompile(`^'*\s*[=+\-@]`)
	guarded     = regexp.MustCompile(`^'+\s*[=+\-@]`)
	plainNumber = regexp.MustCompile(`^[+-]?\d+(?:[.,]\d+)?$`)
)

// guard puts an apostrophe before a text that a spreadsheet would take for a
// formula; a number is none.
func guard(text string) string {
	if formula.MatchString(text) && !plainNumber.MatchString(text) {
		return "'" + text
	}
	return text
}

// unguard takes off what guard puts on.
func unguard(cells []string) {
	for i, text := range cells {
		if guarded.MatchString(text) {
			cells[i] = text[1:]
		}
	}
}

func isID(text string) bool {
	return len(text) == len(uuid.UUID{}.String()) && uuid.Validate(text) == nil
}

// foreignIDs lists the headings that mean ids, over cells that are mostly none, of
// columns that were taken for nothing else.
func (s *sheet) foreignIDs() []string {
	var found []string
	if _, has := s.columns[FieldID]; has {
		return nil
	}
	for at, h := range s.headings {
		guesses := meanings[strings.Join(readHeading(h).words, " ")]
		means := slices.ContainsFunc(guesses, func(g guess) bool { return g.field == FieldID })
		if n, _ := s.share(at, isID); means && n > 0 && !takes(s.columns, at) {
			found = append(found, h)
		}
	}
	return found
}

// id reads the id of an exported list.
func (r *reader) id(i int) {
	text := known(r.text(i, FieldID))
	if text == "" {
		return
	}
	if !isID(text) {
		r.doubt(i, FieldID, registry.DoubtIDNotRead)
		return
	}
	id := uuid.MustParse(text)
	r.list.Rows[i].AnchorID = &id
}

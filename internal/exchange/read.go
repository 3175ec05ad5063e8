package exchange

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// ReadAnchorList reads an anchor list: one row per anchor, separated by commas,
// semicolons or tabs, in UTF-8, UTF-16 with a byte-order mark or Windows-1252.
// Lines above the headings are passed over. What mapping does not say is
// guessed from the headings' meaning and the cells. asOf is today: dates ahead
// of it are doubted.
//
// The list holds every row below the headings in order, blank ones too (but not
// empty lines at the end of the file). Nothing is lost: a cell that cannot be
// right leaves its field not known, is kept as written in the row's cells, and
// is listed among the doubts, which are ordered by line and column. Only
// characters that nobody writes are taken out (fault.Unwritten). data is
// neither modified nor kept.
//
// Errors are Invalid, with one violation of "file" (empty, too long, no text, a
// quote never closed) or of "columns" (no headings for a site, or for neither
// positions nor routes; a mapping that does not fit).
func ReadAnchorList(fileName string, data []byte, mapping Mapping, asOf calendar.Date) (registry.List, error) {
	return readList(fileName, data, mapping, asOf, newRecalls(handsFor(len(data))))
}

// readList reads a list in as many goroutines as there are hands, each with a
// memory of its own. Neither makes a difference to what is read.
func readList(fileName string, data []byte, mapping Mapping, asOf calendar.Date, hands []*recall) (registry.List, error) {
	hash := sha256.Sum256(data)
	text, encoding, err := decode(data)
	if err != nil {
		return registry.List{}, err
	}
	s, err := open(text, &mapping)
	if err != nil {
		return registry.List{}, err
	}
	r := &reader{sheet: s, mapping: &mapping, asOf: asOf, named: -1, recall: hands[0], hands: hands}
	r.list = registry.List{
		FileName: fileName, FileHash: hex.EncodeToString(hash[:]), Encoding: encoding,
		Delimiter: delimiterName(s.delimiter), Headings: s.headings, Columns: s.columnNames(),
	}
	r.rows()
	return r.list, r.positioned()
}

// positioned wants a position of some row of a list that has no column for it:
// where nothing says anything of an anchor, a column is missing or not understood.
func (r *reader) positioned() error {
	if _, ok := r.sheet.columns[FieldPosition]; ok {
		return nil
	}
	said := false
	for i := range r.list.Rows {
		if r.list.Rows[i].Label != "" {
			return nil
		}
		said = said || !r.list.Rows[i].Blank && r.list.Rows[i].Site != ""
	}
	if !said {
		return nil
	}
	return unreadable("columns", fault.Required, "no-position", "fields", "position", "text", r.sheet.seen())
}

// reader turns the records of a sheet into rows.
type reader struct {
	sheet   sheet
	mapping *Mapping
	asOf    calendar.Date
	orders  map[Field]calendar.Order
	list    registry.List
	named   int     // the last row that has a site, -1 before there is one
	sites   []int32 // of each row, by number
	points  []point // of rows with coordinates that could be read

	recall *recall
	hands  []*recall // of those who read rows side by side, the first the reader's own
}

func (r *reader) rows() {
	r.guesses()
	r.list.Rows = make([]registry.ListRow, len(r.sheet.data))
	r.clean()
	for i := range r.sheet.data {
		r.name(i)
	}
	r.kinds()
	r.orders = map[Field]calendar.Order{
		FieldSetOn:         r.mapping.order(r.sheet.column(FieldSetOn)),
		FieldLastInspected: r.mapping.order(r.sheet.column(FieldLastInspected)),
	}
	r.each(func(hand *reader, i int) {
		hand.values(i)
		row := &hand.list.Rows[i]
		row.Noted = NotesOf(row, hand.asOf)
	})
	r.labels()
	r.places()
	r.copied()
	r.sortDoubts()
}

// values reads all of a row but its names and its place.
func (r *reader) values(i int) {
	r.cells(i)
	r.id(i)
	r.form(i)
	r.metal(i)
	r.sizes(i)
	r.dates(i)
	r.state(i)
	r.coordinates(i)
	row := &r.list.Rows[i]
	row.Glue = r.short(i, FieldGlue)
	row.Batch = r.short(i, FieldBatch)
	row.SetBy = r.short(i, FieldSetBy)
	row.Landowner = r.short(i, FieldLandowner)
	row.Notes = r.lines(i, FieldNotes)
}

// clean takes out what nobody writes, before anything is read of it, and doubts
// each cell that held some.
func (r *reader) clean() {
	for i := range r.sheet.data {
		cells := r.sheet.data[i].cells
		for at, text := range cells {
			first := strings.IndexFunc(text, fault.Unwritten)
			if first < 0 {
				continue
			}
			cells[at] = strings.Map(func(c rune) rune {
				if fault.Unwritten(c) {
					return -1
				}
				return c
			}, text)
			d := registry.Doubt{
				Line: r.sheet.data[i].line, Text: tidy(cells[at]), Code: registry.DoubtUnwritten,
				Values: registry.Values{{Name: "character", Text: fault.CodePoint(text[first:])}},
			}
			if at < len(r.sheet.headings) {
				d.Column = r.sheet.headings[at]
			}
			r.list.Doubts = append(r.list.Doubts, d)
		}
	}
}

// cells doubts a row that is not as wide as the headings.
func (r *reader) cells(i int) {
	rec := r.sheet.data[i]
	width := len(r.sheet.headings)
	switch {
	case rec.wide(width):
		r.doubtRow(i, rec.cells[len(rec.cells)-1], registry.DoubtTooManyCells)
	case len(rec.cells) < width:
		r.doubtRow(i, rec.cells[len(rec.cells)-1], registry.DoubtTooFewCells)
	}
}

// text returns a row's cell without stray spaces, "" where there is none.
func (r *reader) text(i int, f Field) string {
	at, ok := r.sheet.columns[f]
	if !ok || at >= len(r.sheet.data[i].cells) {
		return ""
	}
	return tidy(r.sheet.data[i].cells[at])
}

// lines returns a row's cell as text does, but line by line.
func (r *reader) lines(i int, f Field) string {
	text := r.text(i, f)
	if text == "" {
		return ""
	}
	cell := r.sheet.data[i].cells[r.sheet.columns[f]]
	if !strings.ContainsAny(cell, "\r\n") {
		return text
	}
	list := strings.Split(lineEnds.Replace(cell), "\n")
	for n := range list {
		list[n] = tidy(list[n])
	}
	return strings.Trim(strings.Join(list, "\n"), "\n")
}

var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n")

// doubt lists the cell of a field, with alternating names and values.
func (r *reader) doubt(i int, f Field, code string, values ...string) {
	d := registry.Doubt{Line: r.sheet.data[i].line, Text: r.text(i, f), Code: code}
	if at, ok := r.sheet.columns[f]; ok {
		d.Column = r.sheet.headings[at]
	}
	for pair := range slices.Chunk(values, 2) {
		d.Values = append(d.Values, registry.Value{Name: pair[0], Text: pair[1]})
	}
	r.list.Doubts = append(r.list.Doubts, d)
}

// doubtRow lists a whole row.
func (r *reader) doubtRow(i int, text, code string) {
	r.list.Doubts = append(r.list.Doubts, registry.Doubt{Line: r.sheet.data[i].line, Text: tidy(text), Code: code})
}

// guesses lists the columns that were taken for a field by what is in them, and
// those headed as ids that hold none.
func (r *reader) guesses() {
	for _, f := range r.sheet.guessed {
		heading := r.sheet.headings[r.sheet.columns[f]]
		r.list.Doubts = append(r.list.Doubts, registry.Doubt{
			Line: r.sheet.headLine, Column: heading, Text: heading, Code: registry.DoubtColumnGuessed,
			Values: registry.Values{{Name: "field", Text: string(f)}},
		})
	}
	for _, heading := range r.sheet.foreignIDs() {
		if _, said := r.mapping.field(heading); said {
			continue
		}
		r.list.Doubts = append(r.list.Doubts, registry.Doubt{
			Line: r.sheet.headLine, Column: heading, Text: heading, Code: registry.DoubtIDsNotRead,
		})
	}
}

func (r *reader) sortDoubts() {
	column := make(map[string]int, len(r.sheet.headings))
	for i, h := range r.sheet.headings {
		column[h] = i + 1
	}
	slices.SortStableFunc(r.list.Doubts, func(a, b registry.Doubt) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(column[a.Column], column[b.Column]))
	})
}

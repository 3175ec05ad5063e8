package exchange

import (
	"strconv"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// sheet is a list cut into cells, with its headings understood.
type sheet struct {
	delimiter byte
	headLine  int
	headings  []string // without stray spaces
	columns   map[Field]int
	units     map[Field]quantity.Unit // named in the heading
	guessed   []Field                 // taken by their cells, not their heading
	data      []record                // below the headings
	exported  bool                    // by this program: it had the caution
}

var delimiters = []byte{';', '\t', ',', '|'}

func delimiterName(d byte) string {
	if d == '\t' {
		return "tab"
	}
	return string(rune(d))
}

// open cuts the text at the separator under which the most headings make sense,
// and among those most cells stand in records of one width, and finds out what
// each column holds.
func open(text string, mapping *Mapping) (sheet, error) {
	var best cutting
	for i, d := range delimiters {
		if c := tryCut(text, d, mapping); i == 0 || c.better(best) {
			best = c
		}
	}
	switch {
	case best.openLine > 0:
		return sheet{}, unreadable("file", fault.Malformed, "open-quote", "line", strconv.Itoa(best.openLine))
	case best.over != "":
		return sheet{}, unreadable("file", fault.TooLong, best.over)
	case len(best.records) == 0:
		return sheet{}, unreadable("file", fault.Blank, "empty")
	}
	s := sheet{delimiter: best.delimiter}
	head := best.records[best.head]
	s.headLine, s.data = head.line, best.records[best.head+1:]
	for _, cell := range head.cells {
		s.headings = append(s.headings, tidy(cell))
	}
	for len(s.headings) > 0 && s.headings[len(s.headings)-1] == "" && s.narrow(len(s.headings)-1) {
		s.headings = s.headings[:len(s.headings)-1]
	}
	s.takeBack()
	return s, s.understand(mapping)
}

// narrow says whether no record has anything beyond width cells.
func (s *sheet) narrow(width int) bool {
	for _, r := range s.data {
		if r.wide(width) {
			return false
		}
	}
	return true
}

// cutting is a text cut at one separator.
type cutting struct {
	delimiter byte
	records   []record
	openLine  int    // where a quote begins that is never closed; 0: none
	over      string // the limit the text is over; "": none
	head      int    // index of the record that looks most like headings
	strength  int    // how much those headings say
	even      int    // cells in records of the most frequent width
}

func (c cutting) better(other cutting) bool {
	if c.strength != other.strength {
		return c.strength > other.strength
	}
	return c.even > other.even
}

const (
	headLines = 40  // records among which the headings are looked for
	widest    = 300 // cells of a record that may still be headings
)

func tryCut(text string, delimiter byte, mapping *Mapping) cutting {
	c := cutting{delimiter: delimiter}
	c.records, c.openLine, c.over = cut(text, delimiter)
	widths := map[int]int{}
	for i, r := range c.records {
		if len(r.cells) > 1 {
			widths[len(r.cells)] += len(r.cells)
			c.even = max(c.even, widths[len(r.cells)])
		}
		if i >= headLines || len(r.cells) > widest {
			continue
		}
		if n := strength(r, mapping); n > c.strength {
			c.head, c.strength = i, n
		}
	}
	return c
}

// strength is how much a record says as headings: each field once.
func strength(r record, mapping *Mapping) int {
	best := map[Field]int{}
	for _, cell := range r.cells {
		field, n := readHeading(cell).strength()
		if f, ok := mapping.field(cell); ok {
			field, n = f, 2
		}
		best[field] = max(best[field], n)
	}
	sum := 0
	for _, n := range best {
		sum += n
	}
	return sum
}

// column returns the cells of a field, none if the list has no such column.
func (s *sheet) column(f Field) []string {
	at, ok := s.columns[f]
	if !ok {
		return nil
	}
	return s.cells(at)
}

func (s *sheet) cells(at int) []string {
	var texts []string
	for _, r := range s.data {
		if at < len(r.cells) {
			texts = append(texts, tidy(r.cells[at]))
		}
	}
	return texts
}

// columnNames returns the heading taken for each field.
func (s *sheet) columnNames() map[string]string {
	names := make(map[string]string, len(s.columns))
	for f, at := range s.columns {
		names[string(f)] = s.headings[at]
	}
	return names
}

// unit returns the unit that the field's heading names, else millimetres.
func (s *sheet) unit(f Field) quantity.Unit {
	if u, ok := s.units[f]; ok && u != "" {
		return u
	}
	return quantity.InMillimetres
}

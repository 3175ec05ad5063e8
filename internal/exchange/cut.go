package exchange

import (
	"slices"
	"strings"
)

// record is one record of a list: its cells as written, and the line it begins
// on, from 1.
type record struct {
	line  int
	cells []string
}

// blank says whether there is nothing in the record.
func (r record) blank() bool {
	return !slices.ContainsFunc(r.cells, func(c string) bool { return strings.TrimSpace(c) != "" })
}

// wide says whether anything stands beyond the first width cells.
func (r record) wide(width int) bool {
	return len(r.cells) > width && !record{cells: r.cells[width:]}.blank()
}

// cutter cuts a text into records.
type cutter struct {
	text      string
	delimiter byte
	at, line  int
	width     int    // cells of the record before
	openLine  int    // where a quote begins that is never closed; 0: none
	over      string // why cutting was broken off, "" if it was not
}

// Limits of a list, so that a file that is none does not fill the memory.
const (
	maxRecords = 300_000
	maxCells   = 1_000 // of a record
)

// cut returns the records of a text, and what stopped it from being cut to the
// end: the line of a quote that is never closed, or a limit. A cell may stand in double quotes and then hold
// separators, line ends and doubled quotes; a quote inside a cell means itself.
// Lines end with LF, CR LF or CR. Empty lines at the end are left out.
func cut(text string, delimiter byte) (records []record, openLine int, over string) {
	c := cutter{text: text, delimiter: delimiter, line: 1}
	last := 0
	for c.at < len(c.text) && c.over == "" {
		records = append(records, c.record())
		if r := records[len(records)-1]; len(r.cells) > 1 || !r.blank() {
			last = len(records)
		}
		if len(records) == maxRecords {
			c.over = "too-many-rows"
		}
	}
	return records[:last], c.openLine, c.over
}

func (c *cutter) record() record {
	r := record{line: c.line, cells: make([]string, 0, max(c.width, 1))}
	defer func() { c.width = len(r.cells) }()
	for {
		r.cells = append(r.cells, c.cell())
		if len(r.cells) == maxCells {
			c.over = "too-wide"
			return r
		}
		if c.at < len(c.text) && c.text[c.at] == c.delimiter {
			c.at++
			continue
		}
		c.lineEnd()
		return r
	}
}

// cell takes one cell and stops at the separator, the line end or the end.
func (c *cutter) cell() string {
	start := c.at
	for c.at < len(c.text) && c.text[c.at] == ' ' {
		c.at++
	}
	if c.at < len(c.text) && c.text[c.at] == '"' {
		return c.quoted()
	}
	c.at = start
	return c.bare()
}

// bare takes what is left of a cell as it stands.
func (c *cutter) bare() string {
	start := c.at
	for c.at < len(c.text) {
		if b := c.text[c.at]; b == c.delimiter || b == '\n' || b == '\r' {
			break
		}
		c.at++
	}
	return c.text[start:c.at]
}

// quoted takes a cell in quotes and what may stand behind the closing one.
func (c *cutter) quoted() string {
	var b strings.Builder
	open := c.line
	for c.at++; c.at < len(c.text); c.at++ {
		ch := c.text[c.at]
		switch {
		case ch == '"' && strings.HasPrefix(c.text[c.at+1:], `"`):
			c.at++
		case ch == '"':
			c.at++
			return b.String() + strings.TrimRight(c.bare(), " ")
		case ch == '\n', ch == '\r' && !strings.HasPrefix(c.text[c.at+1:], "\n"):
			c.line++
		}
		b.WriteByte(ch)
	}
	if c.openLine == 0 {
		c.openLine = open
	}
	return b.String()
}

func (c *cutter) lineEnd() {
	if c.at >= len(c.text) {
		return
	}
	if strings.HasPrefix(c.text[c.at:], "\r\n") {
		c.at++
	}
	c.at++
	c.line++
}

package exchange

import (
	"encoding/csv"
	"fmt"
	"io"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListWriter writes a list of anchors as CSV in UTF-8, one row per anchor,
// removed ones too, such that ReadAnchorList reads every value back as the
// register has it. Make one with NewListWriter.
//
// The column id holds the anchor's id, the last one, caution, the caution in the
// first row; an empty list has one row that holds nothing else. A text that a
// spreadsheet would take for a formula gets a leading apostrophe, which
// ReadAnchorList takes off.
//
// What a list cannot hold is lost: of several routes all but one, when an anchor
// was removed unless the words of its list say so, what an inspection measured.
type ListWriter struct {
	out    *csv.Writer
	asOf   calendar.Date
	own    *ownList // nil: under this register's headings
	begun  bool
	warned bool // the caution is written
}

// NewListWriter returns a writer of a list under this register's headings, as
// of today.
func NewListWriter(w io.Writer, today calendar.Date) *ListWriter {
	return &ListWriter{out: csv.NewWriter(w), asOf: today}
}

// Under writes the list under the headings and with the separator of one that
// was taken over. A cell is then the cell as written if the register's value is
// still what was read from it, otherwise that value; columns that were never
// read are given back as written. Columns that it takes to say where the group's
// anchors stand are added, see Added. It must be called before Row.
func (w *ListWriter) Under(past registry.PastList) error {
	own, err := newOwnList(past)
	if err != nil {
		return err
	}
	w.own = own
	w.out.Comma = own.comma
	return nil
}

// Added lists the headings, beside the id's, that the list under whose headings it
// is written has not, and that it takes to say where its anchors stand.
func (w *ListWriter) Added() []string {
	if w.own == nil {
		return nil
	}
	return w.own.added
}

// Row writes one anchor.
func (w *ListWriter) Row(l registry.Listed) error {
	if err := w.begin(); err != nil {
		return err
	}
	if w.own != nil {
		return w.write(w.own.row(&l, w.asOf))
	}
	cells := make([]string, len(ourFields))
	for i, f := range ourFields {
		cells[i] = written(f, &l, w.asOf, true)
	}
	return w.write(cells)
}

// Close ends the list. It does not close what it is written to.
func (w *ListWriter) Close() error {
	if err := w.begin(); err != nil {
		return err
	}
	if !w.warned {
		if err := w.write(make([]string, len(w.headings()))); err != nil {
			return err
		}
	}
	w.out.Flush()
	return listError(w.out.Error())
}

func (w *ListWriter) headings() []string {
	if w.own != nil {
		return w.own.headings
	}
	headings := make([]string, len(ourFields))
	for i, f := range ourFields {
		headings[i] = string(f)
	}
	return headings
}

// begin writes the headings, once.
func (w *ListWriter) begin() error {
	if w.begun {
		return nil
	}
	w.begun = true
	return w.line(w.headings(), cautionHeading)
}

// write writes a row, the first one with the caution.
func (w *ListWriter) write(cells []string) error {
	caution := ""
	if !w.warned {
		caution, w.warned = wording.Caution, true
	}
	return w.line(cells, caution)
}

func (w *ListWriter) line(cells []string, last string) error {
	line := make([]string, 0, len(cells)+1)
	for _, text := range cells {
		line = append(line, guard(text))
	}
	return listError(w.out.Write(append(line, last)))
}

func listError(err error) error {
	if err != nil {
		return fmt.Errorf("write anchor list: %w", err)
	}
	return nil
}

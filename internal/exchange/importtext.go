package exchange

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"slices"

	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// WriteImportText writes an import report for a terminal: the counts, how the
// columns were read, then repeats, refusals and doubts by line, each with what
// to do about it.
func WriteImportText(w io.Writer, r report.Import) error {
	var b bytes.Buffer
	what := "Entered from"
	switch {
	case r.DryRun:
		what = "Tried out, nothing entered:"
	case r.Entered+r.Changed == 0:
		what = "Nothing entered from"
	}
	fmt.Fprintf(&b, "%s %s (%s, separated by %s)\n\n", what, printable(r.FileName), r.Encoding, separator(r.Delimiter))
	if r.ID != "" {
		fmt.Fprintf(&b, "  import id %s\n\n", r.ID)
	}
	writeCounts(&b, r)
	writeColumns(&b, r.Columns)
	if len(r.DuplicateRows) > 0 {
		fmt.Fprintf(&b, "\nRows that say the same as an earlier one, entered once:\n")
		for _, d := range r.DuplicateRows {
			fmt.Fprintf(&b, "  line %d, like line %d\n", d.Line, d.Of)
		}
	}
	writeTotals(&b, r)
	writeCells(&b, r)
	writeDoubts(&b, "Refused", r.Refusals)
	writeDoubts(&b, "Doubts", r.Doubts)
	if text := wording.ProposalsOfList(r.DryRun, r.Proposals); text != "" {
		fmt.Fprintf(&b, "\n%s %s\n", text, wording.ProposalsWhere)
	}
	fmt.Fprintf(&b, "\n%s\n", wording.Caution)
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("write import report: %w", err)
	}
	return nil
}

func separator(delimiter string) string {
	switch delimiter {
	case ",":
		return "commas"
	case ";":
		return "semicolons"
	case "tab":
		return "tabs"
	}
	return delimiter
}

func writeCounts(b *bytes.Buffer, r report.Import) {
	doubts := len(r.Doubts)
	if r.Totals != nil {
		doubts = r.Totals.Doubts
	}
	counts := []struct {
		name string
		n    int
	}{
		{"rows", r.Rows},
		{"entered", r.Entered},
		{"changed", r.Changed},
		{"clashes", r.Clashes},
		{"duplicates", r.Duplicates},
		{"blank", r.Blank},
		{"refused", r.Refused},
		{"unchanged", r.Unchanged},
		{"successors", r.Successors},
		{"doubts", doubts},
		{"proposals", r.Proposals},
	}
	for _, c := range counts {
		fmt.Fprintf(b, "%12s %6d\n", c.name, c.n)
	}
}

func writeColumns(b *bytes.Buffer, columns []report.Column) {
	fmt.Fprintf(b, "\nColumns:\n")
	for _, c := range columns {
		field := c.Field
		if field == "" {
			field = "kept as written, not read"
		}
		fmt.Fprintf(b, "  %s: %s\n", printable(c.Heading), field)
	}
}

// writeTotals counts, for a long list, refusals and doubts by what they are.
func writeTotals(b *bytes.Buffer, r report.Import) {
	if r.Totals == nil {
		return
	}
	fmt.Fprintf(b, "\nBelow, only the first %d of each kind are listed. Refusals and doubts by what they are:\n", report.MostTold)
	for _, counts := range []map[string]int{r.Totals.RefusalCodes, r.Totals.DoubtCodes} {
		for _, code := range slices.Sorted(maps.Keys(counts)) {
			fmt.Fprintf(b, "  %s\n", wording.ImportCodeCount(code, counts[code]))
		}
	}
}

// writeCells lists what a corrected list changes, and what it clashes with.
func writeCells(b *bytes.Buffer, r report.Import) {
	if len(r.ChangedCells) > 0 {
		fmt.Fprintf(b, "\nChanged:\n")
	}
	for _, c := range r.ChangedCells {
		fmt.Fprintf(b, "  line %d, column %s, %s: %s\n", c.Line, printable(c.Column), printable(c.Place), printable(wording.CellChange(c.From, c.To)))
	}
	if len(r.ClashingCells) > 0 {
		fmt.Fprintf(b, "\nClashes, left alone:\n")
	}
	for _, c := range r.ClashingCells {
		fmt.Fprintf(b, "  line %d, column %s, %s: %s.\n", c.Line, printable(c.Column), printable(c.Place), printable(wording.CellClash(c.From, c.To, c.Register)))
	}
}

func writeDoubts(b *bytes.Buffer, title string, list []registry.Doubt) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintf(b, "\n%s:\n", title)
	for _, d := range list {
		what, remedy := wording.Doubt(d)
		column := ""
		if d.Column != "" {
			column = ", column " + printable(d.Column)
		}
		fmt.Fprintf(b, "  line %d%s: \"%s\": %s. %s\n", d.Line, column, printable(d.Text), printable(what), printable(remedy))
	}
}

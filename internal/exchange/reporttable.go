package exchange

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// WriteOverdueTable writes the overdue report for a terminal: heading, totals,
// one line per anchor and the caution.
func WriteOverdueTable(w io.Writer, r report.Overdue) error {
	totals := fmt.Sprintf("%d overdue, %d awaiting their first round", r.Overdue, r.FirstRound)
	columns := []string{"STATE", "INSPECT BY", "STANDING", "WHERE", "WHY"}
	return writeTable(w, title("Overdue and first round", r.Heading, totals), columns, r.Lines, func(l registry.ReportLine) []string {
		a := l.Assessment
		return []string{wording.DueState(a.DueState), wording.DueDay(a), wording.Standing(a.Standing), where(l), why(l)}
	})
}

// WriteSuspectTable writes the suspect report for a terminal like
// WriteOverdueTable.
func WriteSuspectTable(w io.Writer, r report.Suspect) error {
	totals := fmt.Sprintf("%d out of use, %d suspect", r.OutOfUse, r.Suspect)
	columns := []string{"STANDING", "INSPECT BY", "WHERE", "FINDINGS"}
	return writeTable(w, title("Out of use and suspect", r.Heading, totals), columns, r.Lines, func(l registry.ReportLine) []string {
		a := l.Assessment
		return []string{wording.Standing(a.Standing), wording.DueDay(a), where(l), findings(a) + barred(l)}
	})
}

// why says what gives an anchor its date, and what bars that day.
// An anchor out of use has what is held against it there.
func why(l registry.ReportLine) string {
	if wording.Undated(l.Assessment.Standing, l.Assessment.DueState) {
		return findings(l.Assessment)
	}
	return wording.Reason(l.Assessment) + barred(l)
}

// barred says what bars the due date, after a space; blank if nothing does.
func barred(l registry.ReportLine) string {
	if len(l.Restrictions) == 0 || wording.Undated(l.Assessment.Standing, l.Assessment.DueState) {
		return ""
	}
	return " " + restrictions(l) + " " + wording.LastOpenDay(l)
}

// title returns what stands above a table.
func title(name string, h report.Heading, totals string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: group %s, as of %s, house rules version %d\n", name, h.Group, h.AsOf.Words(), h.RulesVersion)
	if h.Recomputed {
		b.WriteString("Recomputed for that day: records and anchors as of that day, inventory and house rules as they stand today.\n")
	}
	return b.String() + totals + "\n\n"
}

// where names an anchor's place in one line.
func where(l registry.ReportLine) string {
	var parts []string
	for _, text := range []string{l.Place.Site, l.Place.Sector, l.Place.Route, l.Place.Label} {
		if text != "" {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, ", ")
}

func writeTable[T any](w io.Writer, title string, columns []string, lines []T, row func(T) []string) error {
	var b bytes.Buffer
	b.WriteString(title)
	if len(lines) > 0 {
		rows := [][]string{columns}
		for _, l := range lines {
			cells := row(l)
			for i, text := range cells {
				cells[i] = printable(text)
			}
			rows = append(rows, cells)
		}
		align(&b, "", rows)
		b.WriteByte('\n')
	}
	fmt.Fprintln(&b, wording.Caution)
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("write report as table: %w", err)
	}
	return nil
}

// align writes rows with their cells under each other, each after indent.
func align(b *bytes.Buffer, indent string, rows [][]string) {
	table := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	for _, cells := range rows {
		_, _ = io.WriteString(table, indent+strings.Join(cells, "\t")+"\n") // a buffer takes all
	}
	_ = table.Flush()
}

// printable keeps line ends, tabs and control characters of a text off the
// terminal.
func printable(text string) string {
	return tidy(strings.Map(func(c rune) rune {
		if c < ' ' || c >= 0x7f && c < 0xa0 {
			return ' '
		}
		return c
	}, text))
}

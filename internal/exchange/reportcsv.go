package exchange

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

var (
	overdueHeadings = []string{"due_state", "due_on", "soonest_on", "band", "standing", "site", "sector", "route", "position", "landowner", "reason", "anchor_id", "caution"}
	suspectHeadings = []string{"standing", "band", "due_state", "due_on", "site", "sector", "route", "position", "landowner", "findings", "anchor_id", "caution"}
)

// WriteOverdueCSV writes the overdue report with one row per anchor, in its
// order. The column caution is filled in the first row; an empty report has one
// row that holds nothing else. Dates are 2006-01-02, words of closed lists as
// the API has them. A text that a spreadsheet would take for a formula (it
// begins with = + - or @) gets a leading apostrophe.
func WriteOverdueCSV(w io.Writer, r report.Overdue) error {
	return writeCSV(w, overdueHeadings, r.Lines, func(l registry.ReportLine) []string {
		a := l.Assessment
		return []string{
			string(a.DueState), a.DueOn.String(), a.SoonestOn.String(), string(a.Band), string(a.Standing),
			l.Place.Site, l.Place.Sector, l.Place.Route, l.Place.Label, l.Landowner, wording.Reason(a), a.AnchorID.String(),
		}
	})
}

// WriteSuspectCSV writes the suspect report like WriteOverdueCSV, with every
// finding of an anchor in one cell.
func WriteSuspectCSV(w io.Writer, r report.Suspect) error {
	return writeCSV(w, suspectHeadings, r.Lines, func(l registry.ReportLine) []string {
		a := l.Assessment
		return []string{
			string(a.Standing), string(a.Band), string(a.DueState), a.DueOn.String(),
			l.Place.Site, l.Place.Sector, l.Place.Route, l.Place.Label, l.Landowner, findings(a), a.AnchorID.String(),
		}
	})
}

// findings returns the sentences of all findings, worst first.
func findings(a registry.Assessment) string {
	sentences := make([]string, len(a.Findings))
	for i, f := range a.Findings {
		sentences[i] = wording.Finding(f)
	}
	return strings.Join(sentences, " ")
}

// writeCSV writes the headings, a row per line and the caution.
func writeCSV(w io.Writer, headings []string, lines []registry.ReportLine, row func(registry.ReportLine) []string) error {
	out := csv.NewWriter(w)
	if err := out.Write(headings); err != nil {
		return fmt.Errorf("write report as csv: %w", err)
	}
	caution := wording.Caution
	for _, l := range lines {
		cells := append(row(l), caution)
		for i, text := range cells {
			cells[i] = escape(text)
		}
		if err := out.Write(cells); err != nil {
			return fmt.Errorf("write report as csv: %w", err)
		}
		caution = ""
	}
	if caution != "" {
		cells := make([]string, len(headings))
		cells[len(cells)-1] = caution
		if err := out.Write(cells); err != nil {
			return fmt.Errorf("write report as csv: %w", err)
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("write report as csv: %w", err)
	}
	return nil
}

// escape keeps a spreadsheet from taking a text for a formula.
func escape(text string) string {
	if bare := strings.TrimLeft(text, " \t\r\n"); bare != "" && strings.ContainsRune("=+-@", rune(bare[0])) {
		return "'" + text
	}
	return text
}

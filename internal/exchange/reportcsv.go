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
	overdueHeadings = []string{"due_state", "due_on", "soonest_on", "band", "standing", "site", "sector", "route", "position", "landowner", "reason", "last_open_on", "restrictions", "anchor_id", "caution"}
	suspectHeadings = []string{"standing", "band", "due_state", "due_on", "site", "sector", "route", "position", "landowner", "findings", "last_open_on", "restrictions", "anchor_id", "caution"}
)

// WriteOverdueCSV writes the overdue report with one row per anchor, in its
// order. The column caution is filled in the first row; an empty report has one
// row that holds nothing else. Dates are 2006-01-02, words of closed lists as
// the API has them. Restrictions are those that bar the due date, last_open_on
// is the last day before it that none of them bars. A text that a spreadsheet would take for a formula (it
// begins with = + - or @) gets a leading apostrophe.
func WriteOverdueCSV(w io.Writer, r report.Overdue) error {
	return writeCSV(w, overdueHeadings, r.Lines, func(l registry.ReportLine) []string {
		a := l.Assessment
		return []string{
			string(a.DueState), a.DueOn.String(), a.SoonestOn.String(), string(a.Band), string(a.Standing),
			l.Place.Site, l.Place.Sector, l.Place.Route, l.Place.Label, l.Landowner, wording.Reason(a),
			l.LastOpenDay.String(), restrictions(l), a.AnchorID.String(),
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
			l.Place.Site, l.Place.Sector, l.Place.Route, l.Place.Label, l.Landowner, findings(a),
			l.LastOpenDay.String(), restrictions(l), a.AnchorID.String(),
		}
	})
}

// findings returns the sentences of all findings, worst first.
func findings(a registry.Assessment) string { return said(a.Findings) }

// said returns the sentences of findings; those that somebody settled say so.
func said(list []registry.Finding) string {
	return sentences(list, func(f registry.Finding) string {
		if f.SettledBy != nil {
			return wording.Finding(f) + " (Settled.)"
		}
		return wording.Finding(f)
	})
}

// restrictions returns what bars the due date.
func restrictions(l registry.ReportLine) string {
	return sentences(l.Restrictions, wording.Restriction)
}

// sentences says one thing after another.
func sentences[T any](list []T, say func(T) string) string { return joined(list, " ", say) }

func joined[T any](list []T, between string, say func(T) string) string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = say(v)
	}
	return strings.Join(out, between)
}

// writeCSV writes the headings, a row per line and the caution.
func writeCSV[T any](w io.Writer, headings []string, lines []T, row func(T) []string) error {
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

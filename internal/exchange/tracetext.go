package exchange

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

var traceHeadings = []string{
	"batch", "product", "site", "sector", "route", "position", "standing", "inspect_by", "landowner", "glued_on", "session_ids", "anchor_id", "caution",
}

// WriteTraceCSV writes where a batch went like WriteOverdueCSV, one row for each
// anchor surely set with it.
func WriteTraceCSV(w io.Writer, t report.Trace) error {
	return writeCSV(w, traceHeadings, t.Lines, func(l registry.TraceLine) []string {
		p, a := l.Line.Place, l.Line.Assessment
		sessions := make([]string, len(l.SessionIDs))
		for i, id := range l.SessionIDs {
			sessions[i] = id.String()
		}
		return []string{
			t.Batch.Text, t.Product, p.Site, p.Sector, p.Route, p.Label, string(a.Standing), a.DueOn.String(), l.Line.Landowner,
			gluedOn(t.Sessions, l.SessionIDs), strings.Join(sessions, " "), a.AnchorID.String(),
		}
	})
}

// WriteTraceTable writes where a batch went for a terminal: the anchors surely
// set with it, those that may have been, the sessions, and the caution.
func WriteTraceTable(w io.Writer, t report.Trace) error {
	var b bytes.Buffer
	b.WriteString(title("Batch "+printable(t.Batch.Text), t.Heading, wording.Traced(len(t.Lines), len(t.Possible))))
	if t.Product != "" {
		fmt.Fprintf(&b, "Product: %s\n\n", printable(t.Product))
	}
	for _, l := range t.Lines {
		tracedAnchor(&b, &l.Line)
		if on := gluedOn(t.Sessions, l.SessionIDs); on != "" {
			fmt.Fprintf(&b, "; glued %s", on)
		}
		b.WriteByte('\n')
	}
	b.WriteByte('\n')
	writeMayBe(&b, t)
	writeLines(&b, "Gluing sessions", t.Sessions, func(s registry.GluingSession) string {
		return strings.TrimSpace(s.DoneOn.String() + " " + printable(s.Cartridge))
	})
	fmt.Fprintf(&b, "\n%s\n", wording.Caution)
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("write trace as table: %w", err)
	}
	return nil
}

// tracedAnchor writes where an anchor is, how it stands and whose land that is.
func tracedAnchor(b *bytes.Buffer, l *registry.ReportLine) {
	fmt.Fprintf(b, "%s: %s", printable(where(*l)), wording.Standing(l.Assessment.Standing))
	if by := wording.InspectBy(l.Assessment.Standing, l.Assessment.DueOn, l.Assessment.DueState); by != "" {
		fmt.Fprintf(b, "; %s", by)
	}
	if l.Landowner != "" {
		fmt.Fprintf(b, "; land of %s", printable(l.Landowner))
	}
}

// writeMayBe writes the anchors that may have been set with the batch.
func writeMayBe(b *bytes.Buffer, t report.Trace) {
	if len(t.MayBe) == 0 {
		return
	}
	fmt.Fprintf(b, "%s\n%s\n\n", wording.MayBeSetWith, wording.PossibleHelp)
	for i := range t.MayBe {
		tracedAnchor(b, &t.MayBe[i])
		b.WriteByte('\n')
	}
	if more := len(t.Possible) - len(t.MayBe); more > 0 {
		fmt.Fprintln(b, wording.MoreAnchors(more))
	}
	b.WriteByte('\n')
}

// gluedOn says when the sessions were, separated by semicolons.
func gluedOn(all []registry.GluingSession, ids []uuid.UUID) string {
	var days []string
	for i := range all {
		if slices.Contains(ids, all[i].ID) {
			days = append(days, all[i].DoneOn.String())
		}
	}
	return strings.Join(days, "; ")
}

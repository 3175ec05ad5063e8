package exchange

import (
	"bytes"
	"fmt"
	"io"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// WriteEvidenceText writes evidence for a terminal or a file: where the anchor
// is, what was shown, every row as known on the day, what was done after it, and
// the caution. Instants are those of zone.
func WriteEvidenceText(w io.Writer, e report.Evidence, zone *time.Location) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s\nGroup %s, anchor %s\n", wording.EvidenceOn(e.KnownOn, e.TimeZone), e.Group, e.AnchorID)
	if e.Log.Known {
		writeEvidencePlace(&b, e)
	}
	fmt.Fprintf(&b, "%s\n", wording.EvidenceHelp)
	if e.Log.Known {
		fmt.Fprintf(&b, "\nWhat was shown at the end of the day\n  %s\n\nWhat was on record\n", shownThen(e, zone))
		writeEvidence(&b, wording.EvidenceKnown(e.Log), zone)
	} else {
		fmt.Fprintf(&b, "\n%s\n", wording.EvidenceKnewNothing)
	}
	b.WriteString("\nWhat was done and shown afterwards\n")
	after := wording.EvidenceAfter(e.Log)
	if len(after) == 0 {
		fmt.Fprintf(&b, "  %s\n", wording.EvidenceNothingAfter)
	}
	writeEvidence(&b, after, zone)
	if e.Seal != nil {
		fmt.Fprintf(&b, "\n%s\n", wording.NewestSeal(*e.Seal))
	}
	fmt.Fprintf(&b, "\nMade %s. %s\n", instantIn(e.MadeAt, zone), wording.Caution)
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("write evidence: %w", err)
	}
	return nil
}

func writeEvidencePlace(b *bytes.Buffer, e report.Evidence) {
	then := e.Log.Then
	where := then.Facts.Site.Name
	for _, text := range []string{then.Sector, then.Facts.Position.Label} {
		if text != "" {
			where += ", " + text
		}
	}
	fmt.Fprintf(b, "%s\n", printable(where))
}

// shownThen says what was shown, and since when.
func shownThen(e report.Evidence, zone *time.Location) string {
	if e.Shown == nil {
		return wording.EvidenceShownNothing
	}
	return printable(wording.EvidenceShown(*e.Shown, e.Overdue)) + " Since " + instantIn(e.Shown.At, zone) + "."
}

func writeEvidence(b *bytes.Buffer, lines []wording.EvidenceLine, zone *time.Location) {
	for _, l := range lines {
		fmt.Fprintf(b, "  %s\n    %s\n", instantIn(l.At, zone), printable(l.Words))
		if l.Line != nil {
			fmt.Fprintf(b, "    %s\n", printable(wording.EvidenceBy(l.Who, l.Line.What)))
		}
	}
}

// instantIn says an instant by the clocks of a zone: "3 May 2026, 10:30".
func instantIn(at time.Time, zone *time.Location) string {
	return calendar.On(at, zone).Words() + at.In(zone).Format(", 15:04")
}

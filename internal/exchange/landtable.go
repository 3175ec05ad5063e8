package exchange

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"strings"

	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// WriteLandTable writes the land report for a terminal: a part for each
// landowner, and the caution.
func WriteLandTable(w io.Writer, r report.Land) error {
	var b bytes.Buffer
	period := fmt.Sprintf("Period: %s to %s", r.From.Words(), r.To.Words())
	b.WriteString(title("Land", r.Heading, period))
	for i := range r.Owners {
		writeOwner(&b, &r.Owners[i])
	}
	if len(r.Owners) == 0 {
		b.WriteString("No landowner is recorded.\n\n")
	}
	if r.Seal != nil {
		fmt.Fprintf(&b, "%s\n\n", wording.NewestSeal(*r.Seal))
	}
	fmt.Fprintln(&b, wording.Caution)
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("write report as table: %w", err)
	}
	return nil
}

// writeOwner writes what the report says to one landowner.
func writeOwner(b *bytes.Buffer, o *report.LandOwner) {
	name := printable(o.Name)
	if name == "" {
		name = "Land whose owner is not known"
	}
	fmt.Fprintf(b, "%s: %s in the rock%s\n", name, wording.Anchors(o.Anchors), onParcels(o.Parcels))
	for _, s := range registry.Standings() {
		if n := o.ByStanding[s]; n > 0 {
			fmt.Fprintf(b, "  %s\n", wording.StandingCount(s, n))
		}
	}
	writeProblems(b, o.Problems)
	writeLines(b, "Done in the period", o.Work, func(k report.LandWork) string { return wording.LandWork(k.Kind, k.Count) })
	writeLines(b, "Agreements", o.Agreements, wording.Agreement)
	writeLines(b, "Restrictions", o.Restrictions, wording.Restriction)
	writeLines(b, "Anchor by anchor", o.Lines, func(l report.LandLine) string { return where(l.Line) + ": " + landDetails(l) })
	b.WriteByte('\n')
}

// onParcels names a landowner's parcels.
func onParcels(list []registry.Parcel) string {
	if len(list) == 0 {
		return ""
	}
	return " on " + printable(joined(list, ", ", func(p registry.Parcel) string { return p.Name }))
}

// writeProblems writes the problems with what was done about each.
func writeProblems(b *bytes.Buffer, list []report.LandProblem) {
	b.WriteString("  Known problems:")
	if len(list) == 0 {
		b.WriteString(" none on record. That is not a clean bill of health.\n")
		return
	}
	b.WriteByte('\n')
	rows := [][]string{{"PROBLEM", "WEIGHT", "ANCHORS", "REMOVED", "CLEARED", "SETTLED", "OUT OF USE", "INSPECTED", "OPEN"}}
	for _, p := range list {
		cells := []string{wording.Rule(p.Rule), wording.Label(p.Severity)}
		for _, n := range []int{p.Anchors, p.Removed, p.Cleared, p.Settled, p.OutOfUse, p.Inspected, p.Open} {
			cells = append(cells, strconv.Itoa(n))
		}
		rows = append(rows, cells)
	}
	align(b, "    ", rows)
}

// writeLines writes a headed list; nothing for an empty one.
func writeLines[T any](b *bytes.Buffer, head string, list []T, say func(T) string) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintf(b, "  %s:\n", head)
	for _, v := range list {
		fmt.Fprintf(b, "    %s\n", printable(strings.TrimSpace(say(v))))
	}
}

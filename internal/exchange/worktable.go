package exchange

import (
	"fmt"
	"io"
	"strings"

	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// WriteWorkTable writes the work list for a terminal like WriteOverdueTable,
// with what to bring for all of it above the anchors.
func WriteWorkTable(w io.Writer, r report.Work) error {
	totals := strings.Join([]string{
		wording.WorkCount(registry.WorkReplace, r.Replace),
		wording.WorkCount(registry.WorkRepair, r.Repair),
		wording.WorkCount(registry.WorkInspect, r.Inspect),
	}, ", ")
	columns := []string{"DO", "URGENCY", "STANDING", "INSPECT BY", "WHERE", "WHY", "BRING"}
	return writeTable(w, title("Work list", r.Heading, totals)+kitTotals(r.Kit), columns, r.Items, func(i registry.WorkItem) []string {
		a := i.Line.Assessment
		return []string{
			wording.Work(i.Do), wording.Label(a.Band), wording.Standing(a.Standing), wording.DueDay(a), where(i.Line),
			said(i.For) + barred(i.Line), bring(i.Bring),
		}
	})
}

// kitTotals says what to bring for the whole list; blank for nothing.
func kitTotals(kit []registry.KitLine) string {
	if len(kit) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("To bring for all of it:\n")
	for _, k := range kit {
		fmt.Fprintf(&b, "  %s\n", printable(wording.Kit(k)))
	}
	return b.String() + "\n"
}

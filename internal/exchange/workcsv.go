package exchange

import (
	"io"

	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

var workHeadings = []string{
	"do", "band", "standing", "due_on", "site", "sector", "route", "position", "landowner",
	"findings", "bring", "last_open_on", "restrictions", "anchor_id", "caution",
}

// WriteWorkCSV writes the work list like WriteOverdueCSV, the most urgent
// first, with the findings that ask for the work in one cell and what to bring
// for the anchor in another. The sums of the kit are not in it.
func WriteWorkCSV(w io.Writer, r report.Work) error {
	return writeCSV(w, workHeadings, r.Items, func(i registry.WorkItem) []string {
		l, a := i.Line, i.Line.Assessment
		return []string{
			string(i.Do), string(a.Band), string(a.Standing), a.DueOn.String(),
			l.Place.Site, l.Place.Sector, l.Place.Route, l.Place.Label, l.Landowner,
			said(i.For), bring(i.Bring), l.LastOpenDay.String(), restrictions(l), a.AnchorID.String(),
		}
	})
}

// bring says what to bring, one thing after another.
func bring(kit []registry.KitLine) string {
	return joined(kit, "; ", wording.Kit)
}

package web

import (
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// What a report may show apart, as Today does, with its heading.
var (
	suspectShown = map[report.Show]string{
		report.ShowUnmarked: wording.Unmarked, report.ShowMarked: wording.MarkedOutOfUse,
		report.ShowSuspect: "Suspect", report.ShowNew: wording.NewlySeen,
	}
	overdueShown = map[report.Show]string{
		report.ShowOverdue: "Overdue", report.ShowFirstRound: "Awaiting the first round",
	}
)

// narrowed says on the page, if but a part of Today is shown, that n lines are not
// all of the report's.
func (page *reportPage) narrowed(part report.Part, n, all int) {
	if part.Show == "" {
		return
	}
	heading := suspectShown[part.Show]
	if heading == "" {
		heading = overdueShown[part.Show]
	}
	page.Only, page.OnlyText = string(part.Show), wording.OnlyOf(heading, n, all)
	page.Whole = page.Path + asOfQuery(page.Heading, "", 0)
}

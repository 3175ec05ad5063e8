package web

import (
	"github.com/labstack/echo/v4"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// reportFilter narrows a report to one part of Today.
type reportFilter struct {
	name    string // the value of show in the query
	heading string
	holds   func(*registry.Assessment) bool
}

// suspectFilters: the band of one that is out of use tells whether a marking is on
// record.
var suspectFilters = []reportFilter{
	{"unmarked", wording.Unmarked, func(a *registry.Assessment) bool { return outOfUse(a) && a.Band == registry.BandNow }},
	{"marked", wording.MarkedOutOfUse, func(a *registry.Assessment) bool { return outOfUse(a) && a.Band != registry.BandNow }},
	{"suspect", "Suspect", func(a *registry.Assessment) bool { return !outOfUse(a) }},
	{"new", wording.NewlySeen, func(a *registry.Assessment) bool { return !outOfUse(a) && seenLately(a) }},
}

var overdueFilters = []reportFilter{
	{"overdue", "Overdue", func(a *registry.Assessment) bool { return a.DueState == registry.Overdue }},
	{"first-round", "Awaiting the first round", func(a *registry.Assessment) bool { return a.DueState == registry.AwaitingFirstRound }},
}

func outOfUse(a *registry.Assessment) bool { return a.Standing == registry.StandingOutOfUse }

// narrow keeps of a report's lines those of the filter that the query names, and
// says on the page that these are not all. A filter that does not exist keeps
// all.
func (page *reportPage) narrow(c echo.Context, filters []reportFilter, lines []registry.ReportLine) []registry.ReportLine {
	for _, f := range filters {
		if f.name != c.QueryParam("show") {
			continue
		}
		var kept []registry.ReportLine
		for i := range lines {
			if f.holds(&lines[i].Assessment) {
				kept = append(kept, lines[i])
			}
		}
		page.Only, page.OnlyText = f.name, wording.OnlyOf(f.heading, len(kept), len(lines))
		page.Whole = page.Path + asOfQuery(page.Heading, "", 0)
		return kept
	}
	return lines
}

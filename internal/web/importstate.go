package web

import (
	"cmp"
	"strconv"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// importStatePage says how far a list is, and what became of its rows so far.
type importStatePage struct {
	Frame   frame
	Here    string
	State   report.ImportState
	Report  importPage
	Exports []detail // links to download the register as a list
}

// refreshImport is after how many seconds the page of a list that is being
// entered is loaded again.
const refreshImport = 5

func number(n int) string { return strconv.Itoa(n) }

func importHref(base string, id uuid.UUID) string { return base + "/import/" + id.String() }

// importState shows how far a list is.
func (p *Pages) importState(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	if !allowed(c, app.GetImport) {
		return notAllowed(c, app.GetImport)
	}
	id, err := idOf(c)
	if err != nil {
		return err
	}
	state, err := p.service.ImportState(c.Request().Context(), who, id)
	if err != nil {
		return err
	}
	page := importStatePage{Frame: p.framed(c, "Import a list"), Here: importHref(p.base(c), id), State: state}
	page.Report = importPage{Frame: page.Frame}
	page.Report.fill(state.Report)
	page.Report.Outcome = ""
	page.Exports = exports(c, page.Frame.Base, state.State == registry.JobDone, id)
	if state.State == registry.JobWaiting || state.State == registry.JobRunning {
		page.Frame.Refresh = refreshImport
	}
	return ok(c, importStateView(page))
}

// boundedNote says, of the report of a long list, how much it does not name.
func boundedNote(r *report.Import) string {
	t := r.Totals
	if t == nil {
		return ""
	}
	all := t.Doubts + t.Refusals + t.DuplicateRows + t.ChangedCells + t.ClashingCells
	told := len(r.Doubts) + len(r.Refusals) + len(r.DuplicateRows) + len(r.ChangedCells) + len(r.ClashingCells)
	if all == told {
		return ""
	}
	return wording.ImportBounded(report.MostTold, all-told)
}

// importLine is one list that was handed in.
type importLine struct {
	Href, Name, State string
	Entered           bool
}

// importLines lists what was handed in, newest first.
func (p *Pages) importLines(c echo.Context, base string) ([]importLine, error) {
	if !allowed(c, app.ListImports) {
		return nil, nil
	}
	who, err := actorOf(c)
	if err != nil {
		return nil, err
	}
	list, err := p.service.Imports(c.Request().Context(), who)
	lines := make([]importLine, len(list))
	for i, s := range list {
		lines[i] = importLine{
			Href: importHref(base, s.ID), Name: cmp.Or(s.FileName, wording.ListUnnamed),
			State:   wording.ImportLine(s.State, instantWords(s.At, zoneOf(who)), s.RowsDone, s.Rows),
			Entered: s.State == registry.JobDone,
		}
	}
	return lines, err
}

package web

import (
	"cmp"
	"net/http"
	"strconv"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// importStatePage says how far a list is, and what became of its rows so far.
type importStatePage struct {
	Frame   frame
	Here    string
	State   report.ImportState
	Why     string // why it was not entered to its end; blank: that is not said
	Report  importPage
	Stands  string // how it stands, a sentence
	Since   string // when it was asked to be undone, a sentence; empty: it is not being undone
	Undo    string // where it is undone; empty: nowhere
	Gone    string // why what was tried cannot be entered from here; empty: it can, or is no trial
	Wrong   inTheWay
	Exports []detail // links to download the register as a list
}

// inTheWay is what keeps a list from being undone.
type inTheWay struct {
	Heading string // empty: nothing
	List    []string
}

// refreshImport is after how many seconds the page of a list that is being
// entered, tried or undone is loaded again.
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
	return ok(c, importStateView(p.newImportState(c, who, state)))
}

func (p *Pages) newImportState(c echo.Context, who registry.Actor, s report.ImportState) importStatePage {
	page := importStatePage{
		Frame: p.framed(c, "Import a list"), Here: importHref(p.base(c), s.ID), State: s,
		Stands: wording.ImportStateWords(s.State, s.Trial, s.Report.Entered+s.Report.Changed),
	}
	page.Report = importPage{Frame: page.Frame}
	page.Report.fill(s.Report)
	page.Report.Outcome = ""
	page.Exports = exports(c, page.Frame.Base, s.State == registry.JobDone, s.ID)
	page.Why = whyStopped(s)
	job := registry.ImportJob{State: s.State}
	if job.InHand() {
		page.Frame.Refresh = refreshImport
	}
	page.offer(allowed(c, app.ImportList), allowed(c, app.UndoImport))
	if s.UndoAt != nil {
		page.tellUndo(instantWords(*s.UndoAt, zoneOf(who)))
	}
	return page
}

// offer says where to go on from here: where what was tried is entered, and what
// was entered undone.
func (page *importStatePage) offer(mayEnter, mayUndo bool) {
	s := &page.State
	if s.State == registry.JobTried && s.Report.Entered+s.Report.Changed > 0 {
		if !s.Kept {
			page.Gone = wording.ImportTriedGone
		} else if mayEnter {
			page.Report.Enter = page.Here + "/enter"
		}
	}
	if mayUndo && s.Begun && (s.State == registry.JobDone || s.State == registry.JobFailed) {
		page.Undo = page.Here + "/undo"
	}
}

// tellUndo says since when a list is being undone, or why it was not.
func (page *importStatePage) tellUndo(at string) {
	s := &page.State
	switch {
	case s.State == registry.JobUndoing:
		page.Since = wording.ImportUndoSince(at)
	case s.InTheWay != nil:
		page.Wrong = inTheWay{wording.ImportNotUndoneSince(at), violations(s.InTheWay.Err(), "")}
	}
}

// importEnterTrial enters what was tried.
func (p *Pages) importEnterTrial(c echo.Context) error {
	return p.stepImport(c, app.ImportList, func(who registry.Actor, id uuid.UUID) error {
		_, err := p.service.EnterTrial(c.Request().Context(), who, id)
		return err
	})
}

// importUndo undoes a list, or has a long one undone.
func (p *Pages) importUndo(c echo.Context) error {
	return p.stepImport(c, app.UndoImport, func(who registry.Actor, id uuid.UUID) error {
		_, _, err := p.service.UndoImport(c.Request().Context(), who, id)
		return err
	})
}

// stepImport does something with a list and shows its page, which says what
// stood in the way of that.
func (p *Pages) stepImport(c echo.Context, op app.Operation, do func(registry.Actor, uuid.UUID) error) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	if !allowed(c, op) {
		return notAllowed(c, op)
	}
	id, err := idOf(c)
	if err != nil {
		return err
	}
	switch err = do(who, id); fault.KindOf(err) {
	case fault.Conflict:
		return p.importRefused(c, who, id, err)
	case fault.Invalid:
		page := importPage{Frame: p.framed(c, "Import a list"), Wrong: importWrong(err)}
		return render(c, http.StatusUnprocessableEntity, importView(page))
	}
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, importHref(p.base(c), id))
}

func (p *Pages) importRefused(c echo.Context, who registry.Actor, id uuid.UUID, why error) error {
	state, err := p.service.ImportState(c.Request().Context(), who, id)
	if err != nil {
		return err
	}
	page := p.newImportState(c, who, state)
	e, _ := fault.As(why)
	page.Wrong = inTheWay{wording.Fault(e.Code, e.Values), nil}
	if len(e.Violations) > 0 {
		page.Wrong.List = violations(why, "")
	}
	return render(c, http.StatusConflict, importStateView(page))
}

// whyStopped says why a list was not entered to its end, and what to do; blank:
// that is not so, or not known.
func whyStopped(s report.ImportState) string {
	if s.State != registry.JobFailed || s.Code == "" {
		return ""
	}
	return wording.Fault(fault.Code(s.Code), nil)
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
			State:   wording.ImportLine(s.State, s.Trial, instantWords(s.At, zoneOf(who)), s.RowsDone, s.Rows),
			Entered: s.State == registry.JobDone,
		}
	}
	return lines, err
}

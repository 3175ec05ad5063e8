package web

import (
	"cmp"
	"maps"
	"net/http"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// importPage takes over a list in two steps: it is read and shown, then
// entered.
type importPage struct {
	Frame    frame
	Wrong    []string // what is wrong with what was sent
	Refused  bool     // nothing is wrong with it, but it was not taken
	Report   *report.Import
	Outcome  string // a sentence on what happened
	Counts   []string
	Doubts   []doubtLine
	Refusals []doubtLine
	Changes  []cellLine
	Clashes  []cellLine
	// Kept is the list itself, packed, to be sent again when it is entered:
	// nothing is stored before that. Empty: nothing to enter.
	Kept    string
	Name    string // of its file
	Enter   string // where what was tried is entered, of rows kept by the service; empty: nowhere
	Mapping string // the mapping as sent
	// Proposals says how many notes wait to be decided; blank: none.
	Proposals string
	Bounded   string // that the report does not name everything; empty: it does
	Codes     []string
	Earlier   []importLine // the lists handed in, newest first
	Exports   []detail     // links to download the register as a list
	Next      string       // where to look on instead; empty: here
}

// doubtLine is one doubt about a list, or one row refused.
type doubtLine struct {
	Where  string // line and column
	Text   string // as written
	What   string // a clause, without capital and full stop
	Remedy string
}

// cellLine is one cell of a corrected list that was, or would be, taken over or
// left alone.
type cellLine struct {
	Where string // line and column
	Place string
	Href  string // of its anchor
	What  string // a clause, without full stop
}

func (p *Pages) importForm(c echo.Context) error {
	if !allowed(c, app.ImportList) {
		return notAllowed(c, app.ImportList)
	}
	page := importPage{Frame: p.framed(c, "Import a list")}
	var err error
	if page.Earlier, err = p.importLines(c, page.Frame.Base); err != nil {
		return err
	}
	page.Exports = exports(c, page.Frame.Base, slices.ContainsFunc(page.Earlier, func(l importLine) bool { return l.Entered }), uuid.Nil)
	return ok(c, importView(page))
}

// importTry reads a list and shows what would be entered.
func (p *Pages) importTry(c echo.Context) error {
	return p.importing(c, chosenFile, true)
}

// importEnter enters the list that was shown.
func (p *Pages) importEnter(c echo.Context) error {
	return p.importing(c, keptFile, false)
}

func (p *Pages) importing(c echo.Context, from func(echo.Context) (upload, error), dryRun bool) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	if !allowed(c, app.ImportList) {
		return notAllowed(c, app.ImportList)
	}
	c.Request().Body = http.MaxBytesReader(c.Response(), c.Request().Body, maxImportForm)
	page := importPage{Frame: p.framed(c, "Import a list")}
	u, err := from(c)
	if err == nil {
		page.Mapping = string(u.mapping)
		err = p.take(c, who, &u, dryRun, &page)
	}
	kind := fault.KindOf(err)
	if status, refused := refusals[kind]; refused || kind == fault.Invalid {
		page.Wrong, page.Refused = importWrong(err), refused
		if !dryRun { // nobody enters what was not shown
			page.Kept, page.Name = u.kept, u.name
		}
		return render(c, cmp.Or(status, http.StatusUnprocessableEntity), importView(page))
	}
	if err != nil {
		return err
	}
	if page.Next != "" {
		return c.Redirect(http.StatusSeeOther, page.Next)
	}
	return ok(c, importView(page))
}

// lead is the sentence above what is wrong.
func (page *importPage) lead() string {
	if page.Refused {
		return wording.ImportRefused
	}
	return wording.FormNotRead
}

// importWrong says what is wrong, each with the field it is about.
func importWrong(err error) []string {
	e, _ := fault.As(err)
	sentences := violations(err, "file")
	for i, v := range e.Violations {
		switch {
		case v.Field == "file":
			sentences[i] = "The list: " + sentences[i]
		case v.Field != "":
			sentences[i] = "The mapping, " + v.Field + ": " + sentences[i]
		}
	}
	return sentences
}

// take reads the list, enters it or tries to, and fills the page with what came
// of it. A long list waits to be entered: another page says how far it is.
func (p *Pages) take(c echo.Context, who registry.Actor, u *upload, dryRun bool, page *importPage) error {
	mapping, err := exchange.ParseMapping(u.mapping)
	if err != nil {
		return err
	}
	done, err := p.service.ReadAlone(c.Request().Context(), len(u.list))
	if err != nil {
		return err
	}
	defer done()
	if dryRun {
		if u.kept, err = pack(u.list); err != nil {
			return err
		}
	}
	list, err := exchange.ReadAnchorList(u.name, u.handOver(), mapping, p.service.AsOf(who))
	if err != nil {
		return err
	}
	if len(list.Rows) > app.MostAtOnce {
		state, err := p.handIn(c, who, list, dryRun)
		page.Next = importHref(p.base(c), state.ID)
		return err
	}
	r, err := p.service.Import(c.Request().Context(), who, list, dryRun)
	if err != nil {
		return err
	}
	page.fill(r)
	if dryRun && r.Entered+r.Changed > 0 {
		page.Kept = u.kept
	}
	return nil
}

func (p *Pages) handIn(c echo.Context, who registry.Actor, list registry.List, dryRun bool) (report.ImportState, error) {
	if dryRun {
		return p.service.HandInTrial(c.Request().Context(), who, list, true)
	}
	return p.service.HandIn(c.Request().Context(), who, list)
}

func (page *importPage) fill(r report.Import) {
	page.Report, page.Name = &r, r.FileName
	page.Outcome = wording.ImportOutcome(r.DryRun, r.Entered+r.Changed)
	page.Counts = importCounts(r)
	page.Proposals = wording.ProposalsOfList(r.DryRun, r.Proposals)
	page.Changes, page.Clashes = changeLines(page.Frame.Base, r.ChangedCells), clashLines(page.Frame.Base, r.ClashingCells)
	page.Doubts, page.Refusals = doubtLines(r.Doubts), doubtLines(r.Refusals)
	page.Bounded, page.Codes = boundedNote(&r), codeLines(r.Totals)
}

// codeLines counts the doubts and refusals of a long list by what they are.
func codeLines(t *report.Totals) []string {
	if t == nil {
		return nil
	}
	var lines []string
	for _, counts := range []map[string]int{t.RefusalCodes, t.DoubtCodes} {
		for _, code := range slices.Sorted(maps.Keys(counts)) {
			lines = append(lines, wording.ImportCodeCount(code, counts[code]))
		}
	}
	return lines
}

func importCounts(r report.Import) []string {
	entered, changed := "entered", "changed"
	if r.DryRun {
		entered, changed = "would-enter", "would-change"
	}
	counts := []string{
		wording.ImportCount("rows", r.Rows),
		wording.ImportCount(entered, r.Entered),
	}
	if r.Changed+r.Clashes > 0 {
		counts = append(counts, wording.ImportCount(changed, r.Changed), wording.ImportCount("clashes", r.Clashes))
	}
	return append(counts,
		wording.ImportCount("successors", r.Successors),
		wording.ImportCount("duplicates", r.Duplicates),
		wording.ImportCount("blank", r.Blank),
		wording.ImportCount("refused", r.Refused),
		wording.ImportCount("unchanged", r.Unchanged),
	)
}

func changeLines(base string, cells []report.CellChange) []cellLine {
	lines := make([]cellLine, len(cells))
	for i := range cells {
		lines[i] = newCellLine(base, &cells[i], wording.CellChange(cells[i].From, cells[i].To))
	}
	return lines
}

func clashLines(base string, cells []report.CellClash) []cellLine {
	lines := make([]cellLine, len(cells))
	for i := range cells {
		c := &cells[i]
		lines[i] = newCellLine(base, &c.CellChange, wording.CellClash(c.From, c.To, c.Register))
	}
	return lines
}

func newCellLine(base string, c *report.CellChange, what string) cellLine {
	spot := wording.ListSpot(registry.Doubt{Line: c.Line, Column: c.Column})
	return cellLine{spot, c.Place, anchorHref(base, c.AnchorID), what}
}

func doubtLines(doubts []registry.Doubt) []doubtLine {
	lines := make([]doubtLine, len(doubts))
	for i, d := range doubts {
		what, remedy := wording.Doubt(d)
		lines[i] = doubtLine{wording.ListSpot(d), d.Text, what, remedy}
	}
	return lines
}

// fieldName is a field of a list as words.
func fieldName(field string) string { return strings.ReplaceAll(field, "_", " ") }

// delimiterName is what parts the cells of a list, as a word.
func delimiterName(delimiter string) string {
	switch delimiter {
	case ",":
		return "commas"
	case ";":
		return "semicolons"
	}
	return delimiter + "s"
}

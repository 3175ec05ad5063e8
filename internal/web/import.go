package web

import (
	"net/http"
	"strings"

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
	Report   *report.Import
	Outcome  string // a sentence on what happened
	Counts   []string
	Doubts   []doubtLine
	Refusals []doubtLine
	// Kept is the list itself, packed, to be sent again when it is entered:
	// nothing is stored before that. Empty: nothing to enter.
	Kept    string
	Mapping string // the mapping as sent
}

// doubtLine is one doubt about a list, or one row refused.
type doubtLine struct {
	Where  string // line and column
	Text   string // as written
	What   string // a clause, without capital and full stop
	Remedy string
}

func (p *Pages) importForm(c echo.Context) error {
	if !allowed(c, app.ImportList) {
		return fault.New(fault.Forbidden, "import a list: role is not enough")
	}
	return ok(c, importView(importPage{Frame: p.framed(c, "Import a list")}))
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
		return fault.New(fault.Forbidden, "import a list: role is not enough")
	}
	c.Request().Body = http.MaxBytesReader(c.Response(), c.Request().Body, maxImportForm)
	page := importPage{Frame: p.framed(c, "Import a list")}
	u, err := from(c)
	if err == nil {
		page.Mapping = string(u.mapping)
		err = p.take(c, who, u, dryRun, &page)
	}
	if fault.KindOf(err) == fault.Invalid {
		page.Wrong = importWrong(err)
		return render(c, http.StatusUnprocessableEntity, importView(page))
	}
	if err != nil {
		return err
	}
	return ok(c, importView(page))
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
// of it.
func (p *Pages) take(c echo.Context, who registry.Actor, u upload, dryRun bool, page *importPage) error {
	mapping, err := exchange.ParseMapping(u.mapping)
	if err != nil {
		return err
	}
	list, err := exchange.ReadAnchorList(u.name, u.list, mapping, p.service.AsOf(who))
	if err != nil {
		return err
	}
	r, err := p.service.Import(c.Request().Context(), who, list, dryRun)
	if err != nil {
		return err
	}
	page.fill(r)
	if dryRun && r.Entered > 0 {
		page.Kept, err = pack(u.list)
	}
	return err
}

func (page *importPage) fill(r report.Import) {
	page.Report = &r
	page.Outcome = wording.ImportOutcome(r.DryRun, r.Entered)
	page.Counts = importCounts(r)
	page.Doubts, page.Refusals = doubtLines(r.Doubts), doubtLines(r.Refusals)
}

func importCounts(r report.Import) []string {
	entered := "entered"
	if r.DryRun {
		entered = "would-enter"
	}
	return []string{
		wording.ImportCount("rows", r.Rows),
		wording.ImportCount(entered, r.Entered),
		wording.ImportCount("successors", r.Successors),
		wording.ImportCount("duplicates", r.Duplicates),
		wording.ImportCount("blank", r.Blank),
		wording.ImportCount("refused", r.Refused),
		wording.ImportCount("unchanged", r.Unchanged),
	}
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

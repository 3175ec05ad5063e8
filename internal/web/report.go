package web

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"rockledger/internal/calendar"
	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// reportRows is how many anchors of a report one page shows. The CSV has all.
const reportRows = 25

// suspectRows is how many anchors the report of what is suspect shows at once:
// each says what is held against it.
const suspectRows = 10

// reportPage is the report of what is overdue, what is suspect, or what work
// there is.
type reportPage struct {
	Frame   frame
	Path    string // its own, for the form
	Form    asOfForm
	Heading report.Heading
	Summary []string
	Jumps   []jump   // to the parts of the whole list
	Kit     []string // what to bring for all of it; a work list only
	Parts   []reportPart
	None    string // the sentence for a report with nothing in it
	Shown   string // which rows are shown, if not all
	// Only is the filter that narrows the report, OnlyText says so, and Whole
	// leads to all of it; blank: this is the whole report.
	Only, OnlyText, Whole string
	Earlier               string // links to the rows before and after; empty: none
	Later                 string
	CSV                   string
}

// asOfForm asks for the day a report is for.
type asOfForm struct {
	Text  string // as typed
	Wrong string // what is wrong with it; empty: nothing
	err   error
}

// reportPart is a stretch of a report under one heading.
type reportPart struct {
	ID, Heading, Help string
	Rows              []anchorRow
}

// jump is a link to a part of a long list, with how many are in it.
type jump struct{ Href, Text string }

func (p *Pages) overdue(c echo.Context) error {
	r, form, err := dated(c, p.service.Overdue)
	if err != nil {
		return err
	}
	page := p.newReport(c, "Overdue", form, r.Heading)
	page.None = wording.NoneOverdue + " " + wording.NoneFirstRound
	page.Summary = []string{
		wording.Anchors(r.Overdue) + " overdue",
		wording.Anchors(r.FirstRound) + " awaiting the first round",
	}
	lines := page.narrow(c, overdueFilters, r.Lines)
	from, to := page.window(c, len(lines), reportRows)
	late, firstRound := split(lines[from:to])
	page.part("overdue", "Overdue", "", rowsOf(page.Frame.Base, late))
	page.part("first-round", "Awaiting the first round", wording.FirstRoundHelp, rowsOf(page.Frame.Base, firstRound))
	return render(c, form.status(), reportView(page))
}

func (p *Pages) suspect(c echo.Context) error {
	r, form, err := dated(c, p.service.Suspect)
	if err != nil {
		return err
	}
	page := p.newReport(c, "Suspect", form, r.Heading)
	page.None = wording.NoneOutOfUse + " " + wording.NoneSuspect
	page.Summary = []string{
		wording.Anchors(r.OutOfUse) + " out of use",
		wording.Anchors(r.Suspect) + " suspect",
	}
	lines := page.narrow(c, suspectFilters, r.Lines)
	from, to := page.window(c, len(lines), suspectRows)
	page.part("worst-first", "Worst first", "", findingRows(page.Frame.Base, lines[from:to]))
	return render(c, form.status(), reportView(page))
}

func (p *Pages) overdueCSV(c echo.Context) error {
	r, form, err := dated(c, p.service.Overdue)
	if err != nil {
		return err
	}
	return asCSV(c, "overdue", form, func(w io.Writer) error { return exchange.WriteOverdueCSV(w, r) })
}

func (p *Pages) suspectCSV(c echo.Context) error {
	r, form, err := dated(c, p.service.Suspect)
	if err != nil {
		return err
	}
	return asCSV(c, "suspect", form, func(w io.Writer) error { return exchange.WriteSuspectCSV(w, r) })
}

// asCSV answers a whole report as a file. It is written into memory first, so
// that half a report never passes for a whole one.
func asCSV(c echo.Context, name string, form asOfForm, write func(io.Writer) error) error {
	if form.err != nil {
		return form.err
	}
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return fmt.Errorf("write report %s: %w", name, err)
	}
	h := c.Response().Header()
	h.Set(echo.HeaderCacheControl, "private, no-cache")
	h.Set(echo.HeaderContentDisposition, `attachment; filename="`+c.Param("slug")+"-"+name+`.csv"`)
	return c.Blob(http.StatusOK, "text/csv; charset=utf-8", b.Bytes())
}

// dated makes a report for the day asked for in as_of, or for today. With a day
// that cannot be right it makes today's, and the form says what is wrong.
func dated[R any](c echo.Context, report func(context.Context, registry.Actor, calendar.Date) (R, error)) (R, asOfForm, error) {
	var r R
	who, err := actorOf(c)
	if err != nil {
		return r, asOfForm{}, err
	}
	ctx, form := c.Request().Context(), asOfForm{Text: strings.TrimSpace(c.QueryParam("as_of"))}
	asOf := form.read()
	r, err = report(ctx, who, asOf)
	if fault.KindOf(err) == fault.Invalid && !asOf.IsZero() {
		form.reject(err)
		r, err = report(ctx, who, 0)
	}
	return r, form, err
}

// read returns the day typed, "no date" for none or one that cannot be read.
func (f *asOfForm) read() calendar.Date {
	if f.Text == "" {
		return 0
	}
	d, err := calendar.ParseDate(f.Text)
	if err != nil {
		f.reject(err)
	}
	return d
}

// reject keeps what is wrong, as a sentence and for those who want no form.
func (f *asOfForm) reject(err error) {
	f.err = err
	f.Wrong = strings.Join(violations(err, "as_of"), " ")
}

func (f *asOfForm) status() int {
	if f.err != nil {
		return http.StatusUnprocessableEntity
	}
	return http.StatusOK
}

// violations are the sentences of an Invalid error; one without fields is about
// field.
func violations(err error, field string) []string {
	e, known := fault.As(err)
	if !known {
		return nil
	}
	list := e.Violations
	if len(list) == 0 {
		list = []fault.Violation{{Field: field, Code: e.Code, Values: e.Values}}
	}
	sentences := make([]string, len(list))
	for i, v := range list {
		sentences[i] = wording.Violation(v)
	}
	return sentences
}

func (p *Pages) newReport(c echo.Context, title string, form asOfForm, h report.Heading) reportPage {
	path := c.Request().URL.Path
	return reportPage{
		Frame: p.framed(c, title), Path: path, Form: form, Heading: h,
		CSV: path + ".csv" + asOfQuery(h, "", 0),
	}
}

// window returns which of n rows one page shows, at most rows of them, and says
// so if not all.
func (page *reportPage) window(c echo.Context, n, rows int) (from, to int) {
	if n <= rows {
		return 0, n
	}
	from, err := strconv.Atoi(c.QueryParam("from"))
	if err != nil || from < 0 || from >= n {
		from = 0
	}
	to = min(from+rows, n)
	page.Shown = wording.ShowingRows(from+1, to, n)
	if from > 0 {
		page.Earlier = page.Path + asOfQuery(page.Heading, page.Only, max(from-rows, 0))
	}
	if to < n {
		page.Later = page.Path + asOfQuery(page.Heading, page.Only, to)
	}
	return from, to
}

// asOfQuery is the query for the same report, narrowed to only, from another row
// on.
func asOfQuery(h report.Heading, only string, from int) string {
	q := url.Values{}
	if only != "" {
		q.Set("show", only)
	}
	if h.Recomputed {
		q.Set("as_of", h.AsOf.String())
	}
	if from > 0 {
		q.Set("from", strconv.Itoa(from))
	}
	if len(q) == 0 {
		return ""
	}
	return "?" + q.Encode()
}

// part adds rows under a heading, if there are any.
func (page *reportPage) part(id, heading, help string, rows []anchorRow) {
	if len(rows) > 0 {
		page.Parts = append(page.Parts, reportPart{id, heading, help, rows})
	}
}

// split parts the lines awaiting their first round from the others.
func split(lines []registry.ReportLine) (others, firstRound []registry.ReportLine) {
	for _, l := range lines {
		if l.Assessment.DueState == registry.AwaitingFirstRound {
			firstRound = append(firstRound, l)
		} else {
			others = append(others, l)
		}
	}
	return others, firstRound
}

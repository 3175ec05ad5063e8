package web

import (
	"cmp"
	"io"
	"net/url"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/exchange"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// landPage is the report for landowners.
type landPage struct {
	*form
	Frame      frame
	Notice     string
	Path       string
	Landowners []option
	Period     string
	Owners     []ownerPart
	CSV        string
	Unfold     string // link to all of it, nothing folded up; blank: this is it
	Seal       string // the newest; blank: none yet
}

// ownerPart is what the report says to one landowner.
type ownerPart struct {
	ID, Name     string
	Summary      string
	Standings    []standingCount
	Problems     []problemLine
	Work         []string
	Agreements   []string
	Restrictions []string
	Line         string // how many anchors, for the list of owners
	Folds        []fold // anchors by place, with the work done at each; only on request
	Erase        string // blank: not for whoever asks
	Hold         string // link to place a legal hold; blank: not for whoever asks
}

// problemLine is one kind of problem and what was done about it.
type problemLine struct {
	Severity registry.Severity
	Text     string
	Done     string
}

func (p *Pages) land(c echo.Context) error {
	r, f, err := p.landReport(c)
	if err != nil {
		return err
	}
	page := landPage{form: f, Frame: p.framed(c, "Land"), Notice: notice(c), Path: c.Request().URL.Path}
	if page.Landowners, err = p.landowners(c, &r); err != nil {
		return err
	}
	if len(f.Wrong) == 0 {
		page.Period = wording.Period(r.From, r.To)
		page.CSV = page.Path + ".csv?" + landQuery(f)
		if r.Seal != nil {
			page.Seal = wording.NewestSeal(*r.Seal)
		}
		if r.Detail {
			page.Unfold = unfoldHref(c)
		}
		for i := range r.Owners {
			part := newOwnerPart(page.Frame.Base, &r.Owners[i], r.Detail, unfolded(c))
			if r.Owners[i].ID != nil && allowed(c, app.EraseLandowner) {
				part.Erase = page.Frame.Base + "/landowners/" + part.ID + "/erase"
			}
			if r.Owners[i].ID != nil {
				part.Hold = holdHref(c, page.Frame.Base, registry.HoldLandowner, *r.Owners[i].ID)
			}
			page.Owners = append(page.Owners, part)
		}
	}
	return render(c, f.status(), landView(page))
}

func (p *Pages) landCSV(c echo.Context) error {
	r, f, err := p.landReport(c)
	if err != nil {
		return err
	}
	return asCSV(c, "land", asOfForm{err: f.err}, func(w io.Writer) error { return exchange.WriteLandCSV(w, r) })
}

// landReport makes the report that the query asks for, by default of the last
// twelve months. With a query that cannot be right it makes none, and the form
// says what is wrong.
func (p *Pages) landReport(c echo.Context) (report.Land, *form, error) {
	who, err := actorOf(c)
	if err != nil {
		return report.Land{}, nil, err
	}
	today := p.service.AsOf(who)
	f := &form{Values: url.Values{}}
	f.Values.Set("landowner", c.QueryParam("landowner"))
	f.Values.Set("from", cmp.Or(c.QueryParam("from"), today.AddYears(-1).AddDays(1).String()))
	f.Values.Set("to", cmp.Or(c.QueryParam("to"), today.String()))
	f.Values.Set("detail", c.QueryParam("detail"))
	from, to := f.date("from"), f.date("to")
	var owner *uuid.UUID
	if id := f.id("landowner"); id != uuid.Nil {
		owner = &id
	}
	err = f.checks.Err()
	var r report.Land
	if err == nil {
		r, err = p.service.Land(c.Request().Context(), who, owner, from, to, f.text("detail") != "")
	}
	f.err = err
	_, err = f.reject(err)
	return r, f, err
}

func landQuery(f *form) string {
	q := url.Values{}
	for _, name := range []string{"landowner", "from", "to", "detail"} {
		if text := f.text(name); text != "" {
			q.Set(name, text)
		}
	}
	return q.Encode()
}

// landowners lists the landowners by name, as choices, without those who hold
// land no longer and are not on the report.
func (p *Pages) landowners(c echo.Context, r *report.Land) ([]option, error) {
	who, err := actorOf(c)
	if err != nil {
		return nil, err
	}
	list, err := everything(func(page registry.Page) ([]registry.Landowner, error) {
		return p.service.Landowners(c.Request().Context(), who, page)
	}, func(l registry.Landowner) uuid.UUID { return l.ID })
	slices.SortFunc(list, func(a, b registry.Landowner) int {
		return strings.Compare(registry.Fold(a.Name), registry.Fold(b.Name))
	})
	options := []option{{Text: "All landowners"}}
	for _, l := range list {
		reported := slices.ContainsFunc(r.Owners, func(o report.LandOwner) bool { return o.ID != nil && *o.ID == l.ID })
		if l.EndedOn.IsZero() || reported {
			options = append(options, option{Value: l.ID.String(), Text: l.Name})
		}
	}
	return options, err
}

func newOwnerPart(base string, o *report.LandOwner, detailed, open bool) ownerPart {
	part := ownerPart{
		Line: wording.Anchors(o.Anchors),
		ID:   "not-known", Name: cmp.Or(o.Name, wording.OwnerNotKnown),
		Summary:   wording.OnParcels(o.Anchors, o.Parcels),
		Standings: standingCounts(registry.Counts{ByStanding: o.ByStanding}),
	}
	if o.ID != nil {
		part.ID = o.ID.String()
	}
	for _, k := range o.Problems {
		part.Problems = append(part.Problems, problemLine{
			k.Severity, wording.Rule(k.Rule) + ", " + wording.Anchors(k.Anchors),
			wording.ProblemDone(wording.Done{
				Removed: k.Removed, Cleared: k.Cleared, Settled: k.Settled,
				OutOfUse: k.OutOfUse, Inspected: k.Inspected, Open: k.Open,
			}),
		})
	}
	for _, w := range o.Work {
		part.Work = append(part.Work, wording.LandWork(w.Kind, w.Count))
	}
	for _, a := range o.Agreements {
		part.Agreements = append(part.Agreements, wording.Agreement(a))
	}
	for _, r := range o.Restrictions {
		part.Restrictions = append(part.Restrictions, wording.Restriction(r))
	}
	if detailed {
		part.Folds = foldByPath(landRows(base, o.Lines, open), open)
	}
	return part
}

// landRows are anchors with what is held against them and what was done.
func landRows(base string, lines []report.LandLine, open bool) []anchorRow {
	rows := make([]anchorRow, len(lines))
	for i, l := range lines {
		rows[i] = rowOf(base, l.Line)
		rows[i].Reason = ""
		rows[i].hold(l.Line.Assessment.Findings)
		rows[i].Open = open
		for _, w := range l.Work {
			rows[i].Done = append(rows[i].Done, wording.LandRecord(w))
		}
	}
	return rows
}

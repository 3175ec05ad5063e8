package web

import (
	"net/http"
	"slices"
	"strconv"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// recallsPage lists the recalls and warnings. The nouns are notices; here a
// notice is what a form says after it was sent.
type recallsPage struct {
	Frame  frame
	Open   []recallLine // what is to be inspected first comes first
	Closed []recallLine
	Add    string // link to write one; empty: not allowed
}

// recallLine is one notice in a list.
type recallLine struct {
	Href, Title, Days string
	Late              bool
}

func recallHref(base string, id uuid.UUID) string { return base + "/notices/" + id.String() }

func (p *Pages) recalls(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	list, err := everything(func(page registry.Page) ([]registry.Notice, error) {
		return p.service.Notices(c.Request().Context(), who, page)
	}, func(n registry.Notice) uuid.UUID { return n.ID })
	if err != nil {
		return err
	}
	slices.SortStableFunc(list, func(a, b registry.Notice) int { return int(a.InspectBy - b.InspectBy) })
	page := recallsPage{Frame: p.framed(c, "Notices")}
	asOf := p.service.AsOf(who)
	for i := range list {
		n := &list[i]
		line := recallLine{recallHref(page.Frame.Base, n.ID), n.Title, wording.NoticeDays(n), n.EndedOn.IsZero() && n.InspectBy < asOf}
		if n.EndedOn.IsZero() {
			page.Open = append(page.Open, line)
		} else {
			page.Closed = append(page.Closed, line)
		}
	}
	if allowed(c, app.AddNotice) {
		page.Add = page.Frame.Base + "/notices/new"
	}
	return ok(c, recallsView(page))
}

// recallPage is one notice: what it is about and how far that has come.
type recallPage struct {
	*form
	Frame    frame
	Notice   string
	Title    string
	Words    string
	Details  []detail
	Closed   bool
	Progress []string
	Hits     []hitPart
	Next     string // link to the following page of anchors; empty: there is none
	Action   string // of the form that closes it; empty: not allowed, or closed
}

// hitPart are the anchors of one hit.
type hitPart struct {
	ID, Heading, Help string
	Rows              []anchorRow
}

func (p *Pages) recall(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	id, err := idOf(c)
	if err != nil {
		return err
	}
	return p.showRecall(c, who, id, newForm())
}

func (p *Pages) showRecall(c echo.Context, who registry.Actor, id uuid.UUID, f *form) error {
	at := registry.Page{Limit: longestPage}
	if after, err := uuid.Parse(c.QueryParam("after")); err == nil {
		at.After = after
	}
	r, err := p.service.NoticeProgress(c.Request().Context(), who, id, at)
	if err != nil {
		return err
	}
	n := &r.Notice
	page := recallPage{
		form: f, Frame: p.framed(c, n.Title), Notice: notice(c), Title: n.Title, Words: n.Words, Closed: !n.EndedOn.IsZero(),
		Details: recallDetails(&r), Hits: hitParts(p.base(c), &r),
	}
	for _, state := range registry.NoticeProgresses() {
		if count := r.ByProgress[state]; count > 0 {
			page.Progress = append(page.Progress, wording.Anchors(count)+" "+wording.NoticeProgress(state))
		}
	}
	if len(r.Lines) == longestPage {
		page.Next = recallHref(page.Frame.Base, id) + "?after=" + r.Lines[len(r.Lines)-1].AnchorID.String()
	}
	if allowed(c, app.ChangeNotice) && !page.Closed {
		f.Values.Set("version", strconv.Itoa(n.Version))
		page.Action = recallHref(page.Frame.Base, id)
	}
	return render(c, f.status(), recallView(page))
}

func recallDetails(r *report.Notice) []detail {
	var d details
	n := &r.Notice
	d.add("Issued", n.IssuedOn.Words())
	d.add("Inspect by", n.InspectBy.Words())
	d.add("Is about", wording.NoticeShare(r.About(), r.SharePct()))
	for _, hit := range slices.Backward(registry.NoticeHits()) {
		if count := r.ByHit[hit]; count > 0 {
			d.add(wording.NoticeHit(hit), wording.Anchors(count))
		}
	}
	d.add("Closed", n.EndedOn.Words())
	d.add("Because", n.EndedReason)
	return d
}

// hitParts sort the lines by hit, the surest first.
func hitParts(base string, r *report.Notice) []hitPart {
	var parts []hitPart
	for _, hit := range slices.Backward(registry.NoticeHits()) {
		part := hitPart{ID: string(hit), Heading: wording.NoticeHit(hit)}
		if hit == registry.HitPossible {
			part.Help = wording.PossibleHelp
		}
		for i := range r.Lines {
			if l := &r.Lines[i]; l.Hit == hit {
				row := rowOf(base, l.Line)
				row.Do = wording.NoticeProgress(l.Progress)
				part.Rows = append(part.Rows, row)
			}
		}
		if len(part.Rows) > 0 {
			parts = append(parts, part)
		}
	}
	return parts
}

// closeRecall closes a notice today.
func (p *Pages) closeRecall(c echo.Context) error {
	who, id, err := p.recording(c, app.ChangeNotice)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	version := f.whole("version")
	if err = f.checks.Err(); err == nil && version != nil {
		_, err = p.service.ChangeNotice(c.Request().Context(), who, id, *version, func(n *registry.Notice) error {
			n.EndedOn, n.EndedReason = p.service.AsOf(who), f.text("ended_reason")
			return nil
		})
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return p.showRecall(c, who, id, f)
	}
	return c.Redirect(http.StatusSeeOther, recallHref(p.base(c), id)+"?done=notice-closed")
}

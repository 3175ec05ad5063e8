package web

import (
	"net/url"
	"slices"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// anchorsListed is how many anchors of all places one page lists; the rest are
// a link away.
const anchorsListed = 50

// anchorsPage lists anchors of all places by what is asked of them.
type anchorsPage struct {
	Frame  frame
	Filter siteFilter
	Due    []option
	Rows   []anchorRow
	More   string // link to the next page; empty: none
	Start  string // link to the first page; empty: this is it
}

// anchors lists the anchors that a filter leaves, in the order of entry.
func (p *Pages) anchors(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	page := anchorsPage{Frame: p.framed(c, "Anchors"), Filter: filterOf(c)}
	due, after := dueParam(c), afterOf(c)
	page.Due = dueOptions(due)
	page.Filter.miss("Date", c.QueryParam("due_state"), string(due))
	lines, err := p.service.Anchors(c.Request().Context(), who, registry.AnchorFilter{
		Text: page.Filter.Text, Standing: page.Filter.Standing, DueState: due,
	}, registry.Page{Limit: anchorsListed, After: after})
	if err != nil {
		return err
	}
	for _, l := range lines {
		page.Rows = append(page.Rows, lineRow(page.Frame.Base, l))
	}
	q := url.Values{}
	for name, text := range map[string]string{"text": page.Filter.Text, "standing": string(page.Filter.Standing), "due_state": string(due)} {
		if text != "" {
			q.Set(name, text)
		}
	}
	path := page.Frame.Base + "/anchors?"
	if after != uuid.Nil {
		page.Start = path + q.Encode()
	}
	if len(lines) == anchorsListed {
		q.Set("after", lines[len(lines)-1].Anchor.ID.String())
		page.More = path + q.Encode()
	}
	return render(c, page.Filter.status(), anchorsView(page))
}

// standingHref lists the anchors of one standing.
func standingHref(base string, s registry.Standing) string {
	return base + "/anchors?standing=" + string(s)
}

// dueHref lists the anchors in one due state; those that are overdue have a
// report of their own.
func dueHref(base string, s registry.DueState) string {
	if s == registry.Overdue {
		return base + "/reports/overdue"
	}
	return base + "/anchors?due_state=" + string(s)
}

// dueParam reads the due state asked for; one that does not exist asks for all.
func dueParam(c echo.Context) registry.DueState {
	s := registry.DueState(c.QueryParam("due_state"))
	if !slices.Contains(registry.DueStates(), s) {
		return ""
	}
	return s
}

func dueOptions(chosen registry.DueState) []option {
	options := []option{{"", wording.AnyDueState, chosen == ""}}
	for _, s := range registry.DueStates() {
		options = append(options, option{string(s), wording.DueState(s), s == chosen})
	}
	return options
}

// searchAll leads from the list of places to that of anchors.
func searchAll(c echo.Context, base string) string {
	if !allowed(c, app.ListAnchors) {
		return ""
	}
	return base + "/anchors"
}

package web

import (
	"bytes"
	"net/http"

	"github.com/a-h/templ"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/auth"
)

// frame is what surrounds every page.
type frame struct {
	Title    string // of the page, without the program's name
	Group    string // its name; empty outside a group
	Base     string // path of the group's pages, "/g/slug"
	Nav      []navItem
	SignedIn bool
	Caution  bool   // the page states a standing or a date
	Script   string // static file with the page's script, which does without; empty: none
	Refresh  int    // after how many seconds the page is loaded again; 0: not by itself
}

// navItem is one link of the main navigation.
type navItem struct {
	Href, Text string
	Here       bool
}

// framed returns the frame of a page of the group in the URL, or of one
// outside any group. Every page of a group carries the caution.
func (p *Pages) framed(c echo.Context, title string) frame {
	f := frame{Title: title}
	g, ok := groupOf(c)
	if !ok {
		return f
	}
	f.Group, f.Base, f.SignedIn, f.Caution = g.Name, "/g/"+g.Slug, true, true
	f.Nav = navigation(c, f.Base)
	return f
}

// navigation lists the pages that whoever asks may open.
func navigation(c echo.Context, base string) []navItem {
	items := []struct {
		path, text string
		op         app.Operation
	}{
		{"/", "Today", app.ViewToday},
		{"/places", "Places", app.ListSites},
		{"/gluing", "Field book", app.ListGluingSessions},
		{"/reports/overdue", "Overdue", app.ReportOverdue},
		{"/reports/suspect", "Suspect", app.ReportSuspect},
		{"/notices", "Notices", app.ListNotices},
		{"/reports/work", "Work", app.ReportWork},
		{"/reports/land", "Land", app.ReportLand},
		{"/stock", "Stock", app.ListProducts},
		{"/house-rules", "House rules", app.GetHouseRules},
		{"/ledger", "Ledger", app.ListSeals},
		{"/import", "Import", app.ImportList},
	}
	var nav []navItem
	for _, i := range items {
		if allowed(c, i.op) {
			nav = append(nav, navItem{Href: base + i.path, Text: i.text, Here: c.Request().URL.Path == base+i.path})
		}
	}
	return nav
}

// allowed reports whether whoever asks may do op, so that no page offers what
// would be refused. The refusing itself is app's.
func allowed(c echo.Context, op app.Operation) bool {
	who, ok := auth.ActorFrom(c.Request().Context())
	least, known := app.MayRole(op)
	return ok && known && who.Role.Rank() >= least.Rank()
}

// render draws a page into memory first, so that one that breaks half-way is
// never sent.
func render(c echo.Context, status int, page templ.Component) error {
	var b bytes.Buffer
	if err := page.Render(c.Request().Context(), &b); err != nil {
		return err
	}
	c.Response().Header().Set(echo.HeaderCacheControl, "private, no-cache")
	return c.HTMLBlob(status, b.Bytes())
}

// ok draws a page that answers what was asked.
func ok(c echo.Context, page templ.Component) error { return render(c, http.StatusOK, page) }

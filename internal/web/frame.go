package web

import (
	"bytes"
	"net/http"
	"slices"
	"strings"

	"github.com/a-h/templ"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/auth"
	"rockledger/internal/fault"
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
	Current    string // "page": this is it; "true": the page belongs below it; blank: neither
}

// here names the part of the register that the page belongs to; blank: none.
func (f frame) here() string {
	for _, n := range f.Nav {
		if n.Current != "" {
			return n.Text
		}
	}
	return ""
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

// mainPage is an entry of the main navigation.
type mainPage struct {
	path, text string
	op         app.Operation
	below      []string // first steps of the paths of pages that belong to it
}

var mainPages = []mainPage{
	{path: "/", text: "Today", op: app.ViewToday},
	{path: "/places", text: "Places", op: app.ListSites, below: []string{"places", "sectors", "routes", "positions", "anchors", "pictures"}},
	{path: "/gluing", text: "Field book", op: app.ListGluingSessions, below: []string{"gluing"}},
	{path: "/reports/overdue", text: "Overdue", op: app.ReportOverdue},
	{path: "/reports/suspect", text: "Suspect", op: app.ReportSuspect},
	{path: "/notices", text: "Notices", op: app.ListNotices, below: []string{"notices"}},
	{path: "/reports/work", text: "Work", op: app.ReportWork},
	{path: "/reports/land", text: "Land", op: app.ReportLand, below: []string{"land", "landowners", "parcels", "agreements", "restrictions"}},
	{path: "/stock", text: "Stock", op: app.ListProducts, below: []string{"stock", "products", "batches"}},
	{path: "/house-rules", text: "House rules", op: app.GetHouseRules, below: []string{"house-rules"}},
	{path: "/ledger", text: "Ledger", op: app.ListSeals, below: []string{"holds", "people"}},
	{path: "/import", text: "Import", op: app.ImportList, below: []string{"import", "proposals"}},
}

// current says how the page at a path of the group stands to an entry, as
// aria-current has it.
func (m mainPage) current(path string) string {
	if path == m.path {
		return "page"
	}
	first, _, _ := strings.Cut(strings.TrimPrefix(path, "/"), "/")
	if slices.Contains(m.below, first) {
		return "true"
	}
	return ""
}

// navigation lists the pages that whoever asks may open.
func navigation(c echo.Context, base string) []navItem {
	path := strings.TrimPrefix(c.Request().URL.Path, base)
	var nav []navItem
	for _, m := range mainPages {
		if allowed(c, m.op) {
			nav = append(nav, navItem{Href: base + m.path, Text: m.text, Current: m.current(path)})
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

// notAllowed is the fault.Forbidden of whoever asks for what takes another
// role, which it names.
func notAllowed(c echo.Context, op app.Operation) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	least, _ := app.MayRole(op)
	return fault.New(fault.Forbidden, "%s: role %q is not enough", op, who.Role).
		With("operation", string(op), "role", string(who.Role), "least", string(least))
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

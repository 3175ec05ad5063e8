package web

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// Rows on one page; more are a link away.
const (
	sitesOnPage   = 100
	anchorsOnPage = 300
)

// placesPage lists the sites of a group.
type placesPage struct {
	Frame  frame
	Import bool // whoever asks may import
	Sites  []siteLine
	More   string // link to the next page; empty: none
}

type siteLine struct{ Href, Name, Kind string }

// sitePage is one site with its sectors, routes and anchors.
type sitePage struct {
	Frame   frame
	Name    string
	Details []detail
	Filter  siteFilter
	Groups  []routeGroup
	More    string // link to the next page; empty: none
	Start   string // link to the first page; empty: this is it
}

// siteFilter narrows the anchors shown.
type siteFilter struct {
	Text     string
	Standing registry.Standing
	Options  []option
}

// option is one choice of a select field.
type option struct {
	Value, Text string
	Chosen      bool
}

// routeGroup is the anchors of one route.
type routeGroup struct {
	Sector, Route string
	Rows          []anchorRow
}

func (p *Pages) places(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	after := afterOf(c)
	sites, err := p.service.Sites(c.Request().Context(), who, registry.Page{Limit: sitesOnPage, After: after})
	if err != nil {
		return err
	}
	f := p.framed(c, "Places")
	page := placesPage{Frame: f, Import: allowed(c, app.ImportList)}
	if len(sites) == sitesOnPage {
		page.More = f.Base + "/places?after=" + sites[len(sites)-1].ID.String()
	}
	slices.SortFunc(sites, func(a, b registry.Site) int { return strings.Compare(registry.Fold(a.Name), registry.Fold(b.Name)) })
	for _, s := range sites {
		page.Sites = append(page.Sites, siteLine{siteHref(f.Base, s.ID), s.Name, wording.Label(s.Kind)})
	}
	return ok(c, placesView(page))
}

func (p *Pages) site(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	id, err := idOf(c)
	if err != nil {
		return err
	}
	after := afterOf(c)
	ctx := c.Request().Context()
	site, err := p.service.Site(ctx, who, id)
	if err != nil {
		return err
	}
	filter := registry.AnchorFilter{SiteID: &id, Text: c.QueryParam("text"), Standing: standingParam(c)}
	lines, err := p.service.Anchors(ctx, who, filter, registry.Page{Limit: anchorsOnPage, After: after})
	if err != nil {
		return err
	}
	page := newSitePage(p.framed(c, site.Name), site, filter)
	page.links(c, id, after, lines)
	if after == uuid.Nil {
		empty, err := p.emptyRoutes(ctx, who, filter, lines)
		if err != nil {
			return err
		}
		lines = append(lines, empty...)
	}
	page.Groups = routeGroups(page.Frame.Base, lines)
	return ok(c, siteView(page))
}

// emptyRoutes are lines for the routes of a site that no anchor is listed
// under, so that nothing recorded of a place is left out. They are shown with
// the whole of a site only.
func (p *Pages) emptyRoutes(ctx context.Context, who registry.Actor, filter registry.AnchorFilter, lines []registry.AnchorLine) ([]registry.AnchorLine, error) {
	if filter.Text != "" || filter.Standing != "" || len(lines) == anchorsOnPage {
		return nil, nil
	}
	sectors, err := p.service.Sectors(ctx, who, filter.SiteID, registry.Page{})
	if err != nil {
		return nil, err
	}
	routes, err := p.service.Routes(ctx, who, filter.SiteID, registry.Page{})
	if err != nil {
		return nil, err
	}
	names := make(map[uuid.UUID]string, len(sectors))
	for _, s := range sectors {
		names[s.ID] = s.Name
	}
	return withoutAnchors(routes, names, lines), nil
}

// withoutAnchors are lines of place only, for the routes that none of lines is
// on.
func withoutAnchors(routes []registry.Route, sectors map[uuid.UUID]string, lines []registry.AnchorLine) []registry.AnchorLine {
	listed := make(map[string]bool, len(lines))
	for _, l := range lines {
		listed[routeKey(l)] = true
	}
	var empty []registry.AnchorLine
	for _, r := range routes {
		l := registry.AnchorLine{Route: r.Name}
		if r.SectorID != nil {
			l.Sector = sectors[*r.SectorID]
		}
		if !listed[routeKey(l)] {
			empty = append(empty, l)
		}
	}
	return empty
}

// routeKey orders lines by sector and route.
func routeKey(l registry.AnchorLine) string {
	return registry.Fold(l.Sector) + "\x1f" + registry.Fold(l.Route)
}

func newSitePage(f frame, site registry.Site, filter registry.AnchorFilter) sitePage {
	var d details
	d.add("Kind", wording.Label(site.Kind))
	d.add("Rock", rock(site))
	d.add("End of the first round", site.FirstRoundEnds.Words())
	d.add("Notes", site.Notes)
	return sitePage{
		Frame: f, Name: site.Name, Details: d,
		Filter: siteFilter{Text: filter.Text, Standing: filter.Standing, Options: standingOptions(filter.Standing)},
	}
}

// rock says what is known of a site's rock: its class, and what was written.
func rock(s registry.Site) string {
	if s.Rock == "" && s.RockWords != "" {
		return s.RockWords
	}
	return joinNamed(", ", wording.Label(s.Rock), s.RockWords)
}

// links points to the pages before and after this one, keeping the filter.
func (page *sitePage) links(c echo.Context, site, after uuid.UUID, lines []registry.AnchorLine) {
	q := c.QueryParams()
	path := siteHref(page.Frame.Base, site)
	if len(lines) == anchorsOnPage {
		q.Set("after", lines[len(lines)-1].Anchor.ID.String())
		page.More = path + "?" + q.Encode()
	}
	if after != uuid.Nil {
		q.Del("after")
		page.Start = path + "?" + q.Encode()
	}
}

// routeGroups gathers anchors by sector and route, in the order of names; on a
// route they stand in the order of entry.
func routeGroups(base string, lines []registry.AnchorLine) []routeGroup {
	lines = slices.Clone(lines)
	slices.SortStableFunc(lines, func(a, b registry.AnchorLine) int { return cmp.Compare(routeKey(a), routeKey(b)) })
	var groups []routeGroup
	last := ""
	for i, l := range lines {
		if i == 0 || routeKey(l) != last {
			groups, last = append(groups, routeGroup{Sector: l.Sector, Route: l.Route}), routeKey(l)
		}
		if l.Anchor.ID == uuid.Nil {
			continue // a route without anchors
		}
		g := &groups[len(groups)-1]
		row := lineRow(base, l)
		row.Spot, row.Path = l.Label, ""
		if l.Role != "" {
			row.Path = wording.Label(l.Role)
		}
		g.Rows = append(g.Rows, row)
	}
	return groups
}

// standingParam reads the standing asked for; one that does not exist asks for
// all.
func standingParam(c echo.Context) registry.Standing {
	s := registry.Standing(c.QueryParam("standing"))
	if !slices.Contains(registry.Standings(), s) {
		return ""
	}
	return s
}

func standingOptions(chosen registry.Standing) []option {
	options := []option{{"", "Any standing", chosen == ""}}
	for _, s := range registry.Standings() {
		options = append(options, option{string(s), wording.Standing(s), s == chosen})
	}
	return options
}

// afterOf reads the id after which a page begins; a text that is none begins
// at the start.
func afterOf(c echo.Context) uuid.UUID {
	id, err := uuid.Parse(c.QueryParam("after"))
	if err != nil {
		return uuid.Nil
	}
	return id
}

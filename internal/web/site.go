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

// sitePage is one site, or one sector of it, with its routes and anchors.
type sitePage struct {
	Frame   frame
	Notice  string
	Trail   []detail
	Name    string
	Details []detail
	Gluing  string   // link to the form for what was glued here; empty: whoever asks may not
	Keep    []detail // forms that add to the place and change it, with their links; none: whoever asks may not
	Tasks   []taskLine
	Sectors []siteLine
	Filter  siteFilter
	Groups  []routeGroup
	Around  surroundings
	More    string // link to the next page; empty: none
	Start   string // link to the first page; empty: this is it
	Unfold  string // link to the page with nothing folded up; empty: this is it
}

// siteFilter narrows the anchors shown.
type siteFilter struct {
	Text     string
	Standing registry.Standing
	Options  []option
	Wrong    []string // choices asked for that do not exist
}

// routeGroup is the anchors of one route.
type routeGroup struct {
	Href          string // the route's page; empty: on no route
	Sector, Route string
	Fold          fold
}

// layout of a site: its sectors and routes.
type siteLayout struct {
	site    registry.Site
	sectors []registry.Sector
	routes  []registry.Route
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
	l, err := p.siteLayout(c.Request().Context(), who, id)
	if err != nil {
		return err
	}
	page := newSitePage(p.framed(c, l.site.Name), l.site, filterOf(c))
	page.Trail = []detail{{l.site.Name, ""}}
	page.Sectors = sectorLines(page.Frame.Base, l.sectors)
	g := newGround(registry.Place{Kind: registry.AtSite, ID: id}, l.site)
	for _, s := range l.sectors {
		g.add(registry.AtSector, s.ID, s.Name, false)
	}
	filter := registry.AnchorFilter{SiteID: &id}
	return p.showSite(c, who, page, l, g, filter)
}

func (p *Pages) sector(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	id, err := idOf(c)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	sector, err := p.service.Sector(ctx, who, id)
	if err != nil {
		return err
	}
	l, err := p.siteLayout(ctx, who, sector.SiteID)
	if err != nil {
		return err
	}
	l.routes = slices.DeleteFunc(l.routes, func(r registry.Route) bool { return r.SectorID == nil || *r.SectorID != id })
	page := newSitePage(p.framed(c, joinNamed(", ", l.site.Name, sector.Name)), l.site, filterOf(c))
	page.Trail = []detail{{l.site.Name, siteHref(page.Frame.Base, l.site.ID)}, {sector.Name, ""}}
	page.Name, page.Details = sector.Name, sectorDetails(sector)
	g := newGround(registry.Place{Kind: registry.AtSector, ID: id}, l.site)
	g.add(registry.AtSector, id, sector.Name, true)
	return p.showSite(c, who, page, l, g, registry.AnchorFilter{SiteID: &sector.SiteID, SectorID: &id})
}

// keepLinks lead to the forms that add to a site or sector and change it. To
// what has ended nothing is added.
func keepLinks(c echo.Context, base string, here registry.Place, site registry.Site) []detail {
	var links []detail
	path := placeHref(base, here)
	if allowed(c, app.AddRoute) && site.EndedOn.IsZero() {
		links = append(links, detail{"Add a route", path + "/routes/new"})
	}
	if here.Kind == registry.AtSector {
		if allowed(c, app.ChangeSector) {
			links = append(links, detail{"Change this sector", path + "/change"})
		}
		return links
	}
	if allowed(c, app.AddSector) && site.EndedOn.IsZero() {
		links = append(links, detail{"Add a sector", path + "/sectors/new"})
	}
	if allowed(c, app.ChangeSite) {
		links = append(links, detail{"Change this site", path + "/change"})
	}
	return links
}

// siteLayout reads a site with its sectors and routes.
func (p *Pages) siteLayout(ctx context.Context, who registry.Actor, id uuid.UUID) (siteLayout, error) {
	site, err := p.service.Site(ctx, who, id)
	if err != nil {
		return siteLayout{}, err
	}
	sectors, err := everything(func(page registry.Page) ([]registry.Sector, error) {
		return p.service.Sectors(ctx, who, &id, page)
	}, func(s registry.Sector) uuid.UUID { return s.ID })
	if err != nil {
		return siteLayout{}, err
	}
	routes, err := everything(func(page registry.Page) ([]registry.Route, error) {
		return p.service.Routes(ctx, who, &id, page)
	}, func(r registry.Route) uuid.UUID { return r.ID })
	return siteLayout{site, sectors, routes}, err
}

// showSite fills a page with the anchors and surroundings of a site or sector
// and draws it.
func (p *Pages) showSite(c echo.Context, who registry.Actor, page sitePage, l siteLayout, g *ground, filter registry.AnchorFilter) error {
	ctx, after := c.Request().Context(), afterOf(c)
	page.Notice = notice(c)
	page.Gluing = gluingLink(c, page.Frame.Base, "site", l.site.ID)
	page.Keep = keepLinks(c, page.Frame.Base, g.here, l.site)
	filter.Text, filter.Standing = page.Filter.Text, page.Filter.Standing
	lines, err := p.service.Anchors(ctx, who, filter, registry.Page{Limit: anchorsOnPage, After: after})
	if err != nil {
		return err
	}
	page.links(c, g.here, after, lines)
	if whole := filter.Text == "" && filter.Standing == "" && len(lines) < anchorsOnPage && after == uuid.Nil; whole {
		lines = append(lines, withoutAnchors(l, lines)...)
	}
	page.Groups = routeGroups(page.Frame.Base, l, lines)
	whole := unfolded(c) || page.Filter.Text != "" || page.Filter.Standing != "" || len(lines) <= openRows
	for i := range page.Groups {
		page.Groups[i].Fold.Open = whole
	}
	if !whole {
		page.Unfold = unfoldHref(c)
	}
	if err := p.standOn(ctx, who, g, l); err != nil {
		return err
	}
	if page.Around, err = p.surroundings(c, who, g); err != nil {
		return err
	}
	page.Tasks = siteTasks(page.Frame.Base, l.site, page.Around, allowed(c, app.AddEnvironment))
	return render(c, page.Filter.status(), siteView(page))
}

// standOn names the routes and positions of a site or sector in g, and the
// parcels that they stand on.
func (p *Pages) standOn(ctx context.Context, who registry.Actor, g *ground, l siteLayout) error {
	for _, r := range l.routes {
		g.add(registry.AtRoute, r.ID, r.Name, false)
	}
	positions, err := everything(func(page registry.Page) ([]registry.Position, error) {
		return p.service.Positions(ctx, who, &l.site.ID, nil, page)
	}, func(p registry.Position) uuid.UUID { return p.ID })
	for _, pos := range positions {
		if g.here.Kind == registry.AtSector && (pos.SectorID == nil || *pos.SectorID != g.here.ID) {
			continue
		}
		g.add(registry.AtPosition, pos.ID, pos.Label, false)
		g.stand(pos.ParcelID)
	}
	return err
}

// sectorLines lists sectors by name.
func sectorLines(base string, sectors []registry.Sector) []siteLine {
	var lines []siteLine
	for _, s := range sectors {
		if s.EndedOn.IsZero() {
			lines = append(lines, siteLine{Href: sectorHref(base, s.ID), Name: s.Name})
		}
	}
	slices.SortFunc(lines, func(a, b siteLine) int { return strings.Compare(registry.Fold(a.Name), registry.Fold(b.Name)) })
	return lines
}

// filterOf reads which anchors are asked for.
func filterOf(c echo.Context) siteFilter {
	standing := standingParam(c)
	f := siteFilter{Text: c.QueryParam("text"), Standing: standing, Options: standingOptions(standing)}
	f.miss("Standing", c.QueryParam("standing"), string(standing))
	return f
}

// miss notes a choice that was asked for and does not exist.
func (f *siteFilter) miss(label, asked, taken string) {
	if asked != taken {
		f.Wrong = append(f.Wrong, wording.NoSuchChoice(label, asked))
	}
}

// status is 422 for a filter that asks for what does not exist.
func (f siteFilter) status() int { return statusOf(len(f.Wrong)) }

// withoutAnchors are lines of place only, for the routes of a site that none of
// lines is on, so that nothing recorded of a place is left out.
func withoutAnchors(l siteLayout, lines []registry.AnchorLine) []registry.AnchorLine {
	listed := make(map[string]bool, len(lines))
	for _, a := range lines {
		listed[routeKey(a)] = true
	}
	var empty []registry.AnchorLine
	for _, r := range l.routes {
		if a := l.line(r); !listed[routeKey(a)] && r.EndedOn.IsZero() {
			empty = append(empty, a)
		}
	}
	return empty
}

// line is a line of place only, for a route.
func (l siteLayout) line(r registry.Route) registry.AnchorLine {
	line := registry.AnchorLine{Route: r.Name}
	for _, s := range l.sectors {
		if r.SectorID != nil && s.ID == *r.SectorID {
			line.Sector = s.Name
		}
	}
	return line
}

// routeKey orders lines by sector and route.
func routeKey(l registry.AnchorLine) string {
	return registry.Fold(l.Sector) + "\x1f" + registry.Fold(l.Route)
}

func newSitePage(f frame, site registry.Site, filter siteFilter) sitePage {
	var d details
	d.add("Kind", wording.Label(site.Kind))
	d.add("Rock", rock(site))
	d.add("End of the first round", site.FirstRoundEnds.Words())
	d.add("Notes", site.Notes)
	if !site.EndedOn.IsZero() {
		d.add("Not looked after since", site.EndedOn.Words())
	}
	return sitePage{Frame: f, Name: site.Name, Details: d, Filter: filter}
}

func sectorDetails(s registry.Sector) []detail {
	var d details
	if !s.EndedOn.IsZero() {
		d.add("Not looked after since", s.EndedOn.Words())
	}
	return d
}

// rock says what is known of a site's rock: its class, and what was written.
func rock(s registry.Site) string {
	if s.Rock == "" && s.RockWords != "" {
		return s.RockWords
	}
	return joinNamed(", ", wording.Label(s.Rock), s.RockWords)
}

// links points to the pages before and after this one, keeping the filter.
func (page *sitePage) links(c echo.Context, here registry.Place, after uuid.UUID, lines []registry.AnchorLine) {
	q := c.QueryParams()
	path := placeHref(page.Frame.Base, here)
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
func routeGroups(base string, l siteLayout, lines []registry.AnchorLine) []routeGroup {
	hrefs := make(map[string]string, len(l.routes))
	for _, r := range l.routes {
		hrefs[routeKey(l.line(r))] = routeHref(base, r.ID)
	}
	lines = slices.Clone(lines)
	slices.SortStableFunc(lines, func(a, b registry.AnchorLine) int { return cmp.Compare(routeKey(a), routeKey(b)) })
	var groups []routeGroup
	last := ""
	for i, l := range lines {
		if key := routeKey(l); i == 0 || key != last {
			groups, last = append(groups, routeGroup{Href: hrefs[key], Sector: l.Sector, Route: l.Route}), key
		}
		if l.Anchor.ID == uuid.Nil {
			continue // a route without anchors
		}
		g := &groups[len(groups)-1]
		row := lineRow(base, l)
		row.Spot, row.Path = l.Label, ""
		row.Path = roleBeside(l.Label, l.Role)
		g.Fold.Rows = append(g.Fold.Rows, row)
	}
	for i := range groups {
		groups[i].Fold = foldOf("", groups[i].Fold.Rows, false)
	}
	return groups
}

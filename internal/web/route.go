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

// routePage is one route with its positions in order.
type routePage struct {
	Frame   frame
	Notice  string
	Trail   []detail
	Name    string
	Details []detail
	Add     string // link to add a position; empty: whoever asks may not
	Order   string // link to put the positions into order; empty: whoever asks may not, or there are not two
	Change  string // link to change the route; empty: whoever asks may not
	Gluing  string // link to the form for what was glued here; empty: whoever asks may not
	Stops   []stopLine
	Around  surroundings
}

// stopLine is one position of a route, with the anchors that stand there.
type stopLine struct {
	Href, Label string
	Role        string
	HowTo       string
	Anchors     []anchorRow
}

func (p *Pages) route(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	id, err := idOf(c)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	route, err := p.service.Route(ctx, who, id)
	if err != nil {
		return err
	}
	site, err := p.service.Site(ctx, who, route.SiteID)
	if err != nil {
		return err
	}
	page := routePage{Frame: p.framed(c, joinNamed(", ", site.Name, route.Name)), Notice: notice(c), Name: route.Name, Details: routeDetails(route)}
	g := newGround(registry.Place{Kind: registry.AtRoute, ID: id}, site)
	g.add(registry.AtRoute, id, route.Name, true)
	page.Trail = []detail{{site.Name, siteHref(page.Frame.Base, site.ID)}}
	if route.SectorID != nil {
		sector, err := p.service.Sector(ctx, who, *route.SectorID)
		if err != nil {
			return err
		}
		g.add(registry.AtSector, sector.ID, sector.Name, true)
		page.Trail = append(page.Trail, detail{sector.Name, sectorHref(page.Frame.Base, sector.ID)})
	}
	page.Trail = append(page.Trail, detail{route.Name, ""})
	if page.Stops, err = p.stops(ctx, who, page.Frame.Base, g, id); err != nil {
		return err
	}
	if page.Around, err = p.surroundings(c, who, g); err != nil {
		return err
	}
	page.Gluing = gluingLink(c, page.Frame.Base, "route", id)
	page.offerKeeping(c, route)
	return ok(c, routeView(page))
}

// offerKeeping leads to the forms that add to the route and change it.
func (page *routePage) offerKeeping(c echo.Context, route registry.Route) {
	here := routeHref(page.Frame.Base, route.ID)
	if allowed(c, app.AddPosition) && route.EndedOn.IsZero() {
		page.Add = here + "/positions/new"
	}
	if allowed(c, app.ChangePosition) && len(page.Stops) > 1 {
		page.Order = here + "/order"
	}
	if allowed(c, app.ChangeRoute) {
		page.Change = here + "/change"
	}
}

func routeDetails(r registry.Route) []detail {
	var d details
	d.add("Kind", wording.Label(r.Kind))
	d.add("Traffic", wording.Label(r.Traffic))
	if !r.EndedOn.IsZero() {
		d.add("No longer in use since", r.EndedOn.Words())
	}
	return d
}

// stops lists the positions of a route from its foot or entrance, and names
// them in g.
func (p *Pages) stops(ctx context.Context, who registry.Actor, base string, g *ground, route uuid.UUID) ([]stopLine, error) {
	positions, err := everything(func(at registry.Page) ([]registry.Position, error) {
		return p.service.Positions(ctx, who, nil, &route, at)
	}, func(p registry.Position) uuid.UUID { return p.ID })
	if err != nil {
		return nil, err
	}
	ranks := make(map[uuid.UUID]int, len(positions))
	for _, pos := range positions {
		if ranks[pos.ID], err = p.rank(ctx, who, route, pos.ID); err != nil {
			return nil, err
		}
		g.add(registry.AtPosition, pos.ID, pos.Label, false)
		g.stand(pos.ParcelID)
	}
	anchors, err := everything(func(at registry.Page) ([]registry.AnchorLine, error) {
		return p.service.Anchors(ctx, who, registry.AnchorFilter{RouteID: &route}, at)
	}, func(l registry.AnchorLine) uuid.UUID { return l.Anchor.ID })
	slices.SortFunc(positions, func(a, b registry.Position) int {
		return cmp.Or(cmp.Compare(ranks[a.ID], ranks[b.ID]), strings.Compare(a.Label, b.Label))
	})
	return stopLines(base, positions, anchors), err
}

// rank is where on a route a position comes.
func (p *Pages) rank(ctx context.Context, who registry.Actor, route, position uuid.UUID) (int, error) {
	stops, err := p.service.Stops(ctx, who, position)
	for _, s := range stops {
		if s.RouteID == route {
			return s.Rank, nil
		}
	}
	return 0, err
}

// stopLines are the positions in the order given, each with its anchors but
// those removed.
func stopLines(base string, positions []registry.Position, anchors []registry.AnchorLine) []stopLine {
	at := make(map[uuid.UUID][]anchorRow, len(positions))
	for _, l := range anchors {
		if l.Anchor.Removed {
			continue
		}
		row := lineRow(base, l)
		row.Spot, row.Path = wording.OtherAnchor(l.Anchor), ""
		at[l.Anchor.PositionID] = append(at[l.Anchor.PositionID], row)
	}
	var lines []stopLine
	for _, pos := range positions {
		if !pos.EndedOn.IsZero() {
			continue
		}
		lines = append(lines, stopLine{
			Href: positionHref(base, pos.ID), Label: pos.Label, Role: roleBeside(pos.Label, pos.Role), HowTo: pos.HowTo, Anchors: at[pos.ID],
		})
	}
	return lines
}

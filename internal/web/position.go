package web

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// positionPage is one spot where an anchor belongs.
type positionPage struct {
	Frame      frame
	Notice     string
	Trail      []detail
	Heading    string // routes and label
	Routes     []routeStop
	Details    []detail
	Standing   []anchorRow // in the rock, or looked for and not found
	Earlier    []otherAnchor
	Enter      string // link to enter an anchor that stands here; empty: not allowed, or one is on record
	Gluing     string // link to the gluing card for one that was set just now
	Change     string // link to change the position; empty: whoever asks may not
	Assemblies []string
	Around     surroundings
}

// routeStop is a route that a position is on, and where on it.
type routeStop struct{ Href, Name, Rank string }

func (p *Pages) position(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	id, err := idOf(c)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	pos, err := p.service.Position(ctx, who, id)
	if err != nil {
		return err
	}
	site, err := p.service.Site(ctx, who, pos.SiteID)
	if err != nil {
		return err
	}
	page := positionPage{Frame: p.framed(c, joinNamed(", ", site.Name, pos.Label)), Notice: notice(c)}
	g := newGround(registry.Place{Kind: registry.AtPosition, ID: id}, site)
	g.add(registry.AtPosition, id, pos.Label, true)
	g.stand(pos.ParcelID)
	near, err := p.placePosition(ctx, who, &page, g, site, pos)
	if err != nil {
		return err
	}
	if page.Details, err = p.positionDetails(ctx, who, site, pos); err != nil {
		return err
	}
	if err := p.anchorsAt(ctx, who, &page, near, pos); err != nil {
		return err
	}
	if page.Around, err = p.surroundings(c, who, g); err != nil {
		return err
	}
	page.offerAnchor(c, pos)
	if allowed(c, app.ChangePosition) {
		page.Change = positionHref(page.Frame.Base, id) + "/change"
	}
	return ok(c, positionView(page))
}

// offerAnchor leads on from a position where no anchor stands.
func (page *positionPage) offerAnchor(c echo.Context, pos registry.Position) {
	if len(page.Standing) > 0 || !pos.EndedOn.IsZero() {
		return
	}
	page.Gluing = gluingLink(c, page.Frame.Base, "site", pos.SiteID)
	if allowed(c, app.AddAnchor) {
		page.Enter = positionHref(page.Frame.Base, pos.ID) + "/anchors/new"
	}
}

// placePosition leads to the position from its site, sector and routes. It
// returns the narrowest filter that its anchors pass.
func (p *Pages) placePosition(ctx context.Context, who registry.Actor, page *positionPage, g *ground, site registry.Site, pos registry.Position) (registry.AnchorFilter, error) {
	base, near := page.Frame.Base, registry.AnchorFilter{SiteID: &pos.SiteID, SectorID: pos.SectorID}
	page.Trail = []detail{{site.Name, siteHref(base, site.ID)}}
	if pos.SectorID != nil {
		sector, err := p.service.Sector(ctx, who, *pos.SectorID)
		if err != nil {
			return near, err
		}
		g.add(registry.AtSector, sector.ID, sector.Name, true)
		page.Trail = append(page.Trail, detail{sector.Name, sectorHref(base, sector.ID)})
	}
	stops, err := p.service.Stops(ctx, who, pos.ID)
	if err != nil {
		return near, err
	}
	for _, s := range stops {
		route, err := p.service.Route(ctx, who, s.RouteID)
		if err != nil {
			return near, err
		}
		near = registry.AnchorFilter{RouteID: &route.ID}
		g.add(registry.AtRoute, route.ID, route.Name, true)
		page.Routes = append(page.Routes, routeStop{routeHref(base, route.ID), route.Name, wording.Rank(s.Rank)})
	}
	slices.SortFunc(page.Routes, func(a, b routeStop) int { return strings.Compare(a.Name+a.Href, b.Name+b.Href) })
	page.Heading = joinNamed(", ", routeNames(page.Routes), pos.Label)
	page.Trail = append(page.Trail, detail{pos.Label, ""})
	return near, p.assembled(ctx, who, page, pos)
}

func routeNames(routes []routeStop) string {
	names := make([]string, len(routes))
	for i, r := range routes {
		names[i] = r.Name
	}
	return strings.Join(names, " and ")
}

// assembled names the assemblies that a position's anchor is part of.
func (p *Pages) assembled(ctx context.Context, who registry.Actor, page *positionPage, pos registry.Position) error {
	list, err := everything(func(at registry.Page) ([]registry.Assembly, error) {
		return p.service.Assemblies(ctx, who, &pos.SiteID, at)
	}, func(a registry.Assembly) uuid.UUID { return a.ID })
	for _, a := range list {
		if slices.Contains(a.PositionIDs, pos.ID) && a.EndedOn.IsZero() {
			page.Assemblies = append(page.Assemblies, wording.Assembly(a))
		}
	}
	return err
}

// positionDetails say what and where the position is, and on whose land.
func (p *Pages) positionDetails(ctx context.Context, who registry.Actor, site registry.Site, pos registry.Position) ([]detail, error) {
	var d details
	d.add("How to find it", cmp.Or(pos.HowTo, "not recorded"))
	d.add("Role", wording.Label(pos.Role))
	d.add("Face", wording.Label(pos.Face))
	d.add("Backed up by another anchor", yesNo(pos.BackedUp))
	d.add("Coordinates", coordinates(site, pos))
	if pos.ParcelID != nil {
		parcel, err := p.service.Parcel(ctx, who, *pos.ParcelID)
		if err != nil {
			return nil, err
		}
		owner, err := p.service.Landowner(ctx, who, parcel.LandownerID)
		if err != nil {
			return nil, err
		}
		d.add("Parcel", parcelName(parcel, pos))
		d.add("Landowner", owner.Name)
	} else {
		d.add("Landowner", "not known")
	}
	d.add("Notes", pos.Notes)
	if !pos.EndedOn.IsZero() {
		d.add("No longer in use since", pos.EndedOn.Words())
	}
	return d, nil
}

func parcelName(parcel registry.Parcel, pos registry.Position) string {
	if pos.ParcelByHand {
		return parcel.Name + " (named by a person)"
	}
	return parcel.Name
}

// coordinates says where a position is on the map, or why nothing says so.
func coordinates(site registry.Site, pos registry.Position) string {
	switch {
	case pos.Lat != nil && pos.Lon != nil:
		return fmt.Sprintf("%.5f, %.5f (WGS 84)", *pos.Lat, *pos.Lon)
	case site.Kind == registry.Cave:
		return wording.CaveCoordinates
	}
	return wording.NoneCoordinates
}

// anchorsAt lists the anchors of a position, of all those near it: those that
// stand there, and those removed.
func (p *Pages) anchorsAt(ctx context.Context, who registry.Actor, page *positionPage, near registry.AnchorFilter, pos registry.Position) error {
	lines, err := everything(func(at registry.Page) ([]registry.AnchorLine, error) {
		return p.service.Anchors(ctx, who, near, at)
	}, func(l registry.AnchorLine) uuid.UUID { return l.Anchor.ID })
	for _, l := range lines {
		if l.Anchor.PositionID != pos.ID {
			continue
		}
		if l.Anchor.Removed {
			page.Earlier = append(page.Earlier, otherAnchor{anchorHref(page.Frame.Base, l.Anchor.ID), wording.OtherAnchor(l.Anchor)})
			continue
		}
		row := lineRow(page.Frame.Base, l)
		row.Spot, row.Path = wording.OtherAnchor(l.Anchor), ""
		page.Standing = append(page.Standing, row)
	}
	return err
}

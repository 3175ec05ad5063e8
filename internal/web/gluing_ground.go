package web

import (
	"cmp"
	"context"
	"net/url"
	"slices"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// standingAnchor begins the value of a choice that is an anchor in the rock,
// not a free position.
const standingAnchor = "anchor:"

// gluingGround is a site, or one route of it, with the positions that anchors
// can be set at.
type gluingGround struct {
	site  registry.Site
	route *registry.Route // nil: the whole site
	holes []hole
}

// hole is a position with the anchor that stands there.
type hole struct {
	position registry.Position
	route    string
	rank     int
	standing *registry.Anchor // nil: none
}

// ground returns the place that a form is about; nil if it names none.
func (p *Pages) ground(ctx context.Context, who registry.Actor, f *form) (*gluingGround, error) {
	at := &gluingGround{}
	site := f.id("site_id")
	if id := f.id("route_id"); id != uuid.Nil {
		route, err := p.service.Route(ctx, who, id)
		if err != nil {
			return nil, err
		}
		at.route, site = &route, route.SiteID
	}
	if site == uuid.Nil {
		return nil, nil //nolint:nilnil // no place was named, which is no error
	}
	var err error
	if at.site, err = p.service.Site(ctx, who, site); err != nil {
		return nil, err
	}
	return at, p.findHoles(ctx, who, at)
}

// findHoles lists the positions of a route in order, or those of a site by
// route, those on no route last.
func (p *Pages) findHoles(ctx context.Context, who registry.Actor, at *gluingGround) error {
	routes, filter := []registry.Route{}, registry.AnchorFilter{SiteID: &at.site.ID}
	var err error
	if at.route != nil {
		routes, filter = append(routes, *at.route), registry.AnchorFilter{RouteID: &at.route.ID}
	} else if routes, err = p.routesOf(ctx, who, at.site.ID); err != nil {
		return err
	}
	standing, err := p.standingAt(ctx, who, filter)
	if err != nil {
		return err
	}
	seen := make(map[uuid.UUID]bool)
	for _, r := range routes {
		if err := p.addHoles(ctx, who, at, &r, standing, seen); err != nil {
			return err
		}
	}
	if at.route == nil {
		return p.addHoles(ctx, who, at, nil, standing, seen)
	}
	return nil
}

func (p *Pages) routesOf(ctx context.Context, who registry.Actor, site uuid.UUID) ([]registry.Route, error) {
	routes, err := everything(func(page registry.Page) ([]registry.Route, error) {
		return p.service.Routes(ctx, who, &site, page)
	}, func(r registry.Route) uuid.UUID { return r.ID })
	slices.SortFunc(routes, func(a, b registry.Route) int { return strings.Compare(registry.Fold(a.Name), registry.Fold(b.Name)) })
	return routes, err
}

// standingAt are the anchors in the rock by their positions.
func (p *Pages) standingAt(ctx context.Context, who registry.Actor, filter registry.AnchorFilter) (map[uuid.UUID]registry.Anchor, error) {
	lines, err := everything(func(page registry.Page) ([]registry.AnchorLine, error) {
		return p.service.Anchors(ctx, who, filter, page)
	}, func(l registry.AnchorLine) uuid.UUID { return l.Anchor.ID })
	at := make(map[uuid.UUID]registry.Anchor)
	for _, l := range lines {
		if !l.Anchor.Removed {
			at[l.Anchor.PositionID] = l.Anchor
		}
	}
	return at, err
}

// addHoles adds the positions of a route, or those of the site that are on none
// added before, each once.
func (p *Pages) addHoles(ctx context.Context, who registry.Actor, at *gluingGround, route *registry.Route,
	standing map[uuid.UUID]registry.Anchor, seen map[uuid.UUID]bool,
) error {
	var site, on *uuid.UUID
	name := ""
	if route == nil {
		site = &at.site.ID
	} else {
		on, name = &route.ID, route.Name
	}
	positions, err := everything(func(page registry.Page) ([]registry.Position, error) {
		return p.service.Positions(ctx, who, site, on, page)
	}, func(pos registry.Position) uuid.UUID { return pos.ID })
	if err != nil {
		return err
	}
	var added []hole
	for _, pos := range positions {
		if seen[pos.ID] || !pos.EndedOn.IsZero() {
			continue
		}
		seen[pos.ID] = true
		h := hole{position: pos, route: name}
		if a, ok := standing[pos.ID]; ok {
			h.standing = &a
		}
		if at.route != nil {
			if h.rank, err = p.rank(ctx, who, *on, pos.ID); err != nil {
				return err
			}
		}
		added = append(added, h)
	}
	slices.SortFunc(added, func(a, b hole) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), strings.Compare(a.position.Label, b.position.Label))
	})
	at.holes = append(at.holes, added...)
	return nil
}

// options are the positions as choices: a free one takes a new anchor, at
// another the anchor that stands there was set.
func (at *gluingGround) options() []option {
	options := []option{{Text: "Choose a position"}}
	for _, h := range at.holes {
		o := option{Value: h.position.ID.String(), Text: at.spot(h)}
		if h.standing != nil {
			o = option{Value: standingAnchor + h.standing.ID.String(), Text: o.Text + " (" + wording.OtherAnchor(*h.standing) + ")"}
		}
		options = append(options, o)
	}
	return options
}

// spot names a position, with its route where several are about.
func (at *gluingGround) spot(h hole) string {
	if at.route != nil {
		return h.position.Label
	}
	return joinNamed(", ", h.route, h.position.Label)
}

// name is the site and the route.
func (at *gluingGround) name() string {
	if at.route == nil {
		return at.site.Name
	}
	return at.site.Name + ", " + at.route.Name
}

// query names the place in a link.
func (at *gluingGround) query() string {
	if at.route != nil {
		return url.Values{"route": {at.route.ID.String()}}.Encode()
	}
	return url.Values{"site": {at.site.ID.String()}}.Encode()
}

// trail leads to the place.
func (at *gluingGround) trail(base string) []detail {
	steps := []detail{{at.site.Name, siteHref(base, at.site.ID)}}
	if at.route != nil {
		steps = append(steps, detail{at.route.Name, routeHref(base, at.route.ID)})
	}
	return steps
}

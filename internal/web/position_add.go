package web

import (
	"cmp"
	"context"
	"net/http"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// positionLabels name the fields of a new position and a new anchor, by their
// names in the API, where no other form has them.
var positionLabels = map[string]string{
	"label": "Name on the route", "role": "Role", "face": "Face", "backed_up": "Would another anchor hold if this one failed?",
	"how_to_find": "How to find it", "lat": "Latitude, degrees north (WGS 84)", "lon": "Longitude, degrees east (WGS 84)",
	"after": "Where on the route", "set_on": "Set when", "metal_text": "Metal, as stamped or believed",
}

// firstStop is the choice of the first place on a route; the last is blank.
const firstStop = "first"

// positionAddPage is the form for one more position on a route.
type positionAddPage struct {
	*form
	Frame  frame
	Trail  []detail
	Route  string
	Action string
	Gluing string // link to the form for what was glued; empty: not allowed
	After  []option
	Cave   bool // positions there have no coordinates
}

// routeGround is a route with the positions on it that are in use, in order.
type routeGround struct {
	route registry.Route
	site  registry.Site
	stops []rankedStop
}

// rankedStop is a position and its number on the route.
type rankedStop struct {
	position registry.Position
	rank     int
}

// newPositionForm answers the form for a position on the route in the path.
func (p *Pages) newPositionForm(c echo.Context) error {
	_, at, err := p.routeGround(c)
	if err != nil {
		return err
	}
	f, err := blankForm()
	if err != nil {
		return err
	}
	return p.showNewPosition(c, f, at)
}

// addPosition adds a position to the route in the path.
func (p *Pages) addPosition(c echo.Context) error {
	who, at, err := p.routeGround(c)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	n := positionIn(f, at.route)
	f.checks.Nest("", n.Validate())
	rank, moved := at.makeRoom(f, n.ID)
	if err = f.checks.Err(); err == nil {
		err = p.storePosition(c.Request().Context(), who, at.route, n, rank, moved)
	}
	here := positionHref(p.base(c), n.ID)
	if fault.KindOf(err) == fault.Conflict {
		return c.Redirect(http.StatusSeeOther, here+"?done=position-before")
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return p.showNewPosition(c, f, at)
	case f.text("then") == "anchor":
		return c.Redirect(http.StatusSeeOther, here+"/anchors/new?done=position")
	}
	return c.Redirect(http.StatusSeeOther, here+"?done=position")
}

// routeGround returns who asks and the route in the path.
func (p *Pages) routeGround(c echo.Context) (registry.Actor, routeGround, error) {
	var at routeGround
	who, id, err := p.recording(c, app.AddPosition)
	if err != nil {
		return who, at, err
	}
	ctx := c.Request().Context()
	if at.route, err = p.service.Route(ctx, who, id); err != nil {
		return who, at, err
	}
	if at.site, err = p.service.Site(ctx, who, at.route.SiteID); err != nil {
		return who, at, err
	}
	positions, err := everything(func(page registry.Page) ([]registry.Position, error) {
		return p.service.Positions(ctx, who, nil, &id, page)
	}, func(n registry.Position) uuid.UUID { return n.ID })
	if err != nil {
		return who, at, err
	}
	for _, n := range positions {
		s := rankedStop{position: n}
		if s.rank, err = p.rank(ctx, who, id, n.ID); err != nil {
			return who, at, err
		}
		at.stops = append(at.stops, s)
	}
	slices.SortFunc(at.stops, func(a, b rankedStop) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), strings.Compare(a.position.Label, b.position.Label))
	})
	return who, at, nil
}

func positionIn(f *form, route registry.Route) registry.Position {
	return registry.Position{
		ID: f.id("id"), SiteID: route.SiteID, SectorID: route.SectorID, Label: f.text("label"),
		Role: registry.PositionRole(f.text("role")), Face: registry.Face(f.text("face")), BackedUp: f.flag("backed_up"),
		Lat: f.number("lat"), Lon: f.number("lon"), HowTo: f.text("how_to_find"), Notes: f.text("notes"),
	}
}

// makeRoom returns the number that a position takes on the route, by what the
// form says, and the stops that must move up for it, the last first, with their
// new numbers. Where there is room already, as when the form is sent twice, none
// moves.
func (at *routeGround) makeRoom(f *form, own uuid.UUID) (int, []rankedStop) {
	others := slices.DeleteFunc(slices.Clone(at.stops), func(s rankedStop) bool { return s.position.ID == own })
	rank := 1
	switch after := f.text("after"); after {
	case firstStop:
	case "":
		if len(others) > 0 {
			rank = others[len(others)-1].rank + 1
		}
	default:
		i := slices.IndexFunc(others, func(s rankedStop) bool { return s.position.ID.String() == after })
		f.checks.Require(i >= 0, "after", fault.NoSuchReference)
		if i >= 0 {
			rank = others[i].rank + 1
		}
	}
	var moved []rankedStop
	taken := rank
	for _, s := range others {
		if s.rank < rank {
			continue
		}
		if s.rank > taken {
			break
		}
		taken++
		moved = append(moved, rankedStop{s.position, taken})
	}
	slices.Reverse(moved)
	return rank, moved
}

// storePosition moves those behind it up before it adds the position: if it
// fails half-way, the order of what is there stays, and the form can be sent
// again.
func (p *Pages) storePosition(ctx context.Context, who registry.Actor, route registry.Route, n registry.Position, rank int, moved []rankedStop) error {
	for _, m := range moved {
		_, err := p.service.ChangePosition(ctx, who, m.position.ID, m.position.Version, func(_ *registry.Position, stops *[]registry.Stop) error {
			for i := range *stops {
				if (*stops)[i].RouteID == route.ID {
					(*stops)[i].Rank = m.rank
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	_, _, err := p.service.AddPosition(ctx, who, n, []registry.Stop{{RouteID: route.ID, PositionID: n.ID, Rank: rank}})
	return err
}

func (p *Pages) showNewPosition(c echo.Context, f *form, at routeGround) error {
	page := positionAddPage{
		form: f, Frame: p.framed(c, "Add a position"), Route: at.route.Name, Cave: at.site.Kind == registry.Cave,
		After: []option{{Text: wording.PositionLast}},
	}
	base := page.Frame.Base
	here := routeHref(base, at.route.ID)
	page.Action, page.Gluing = here+"/positions/new", gluingLink(c, base, "route", at.route.ID)
	page.Trail = []detail{{at.site.Name, siteHref(base, at.site.ID)}, {at.route.Name, here}, {page.Frame.Title, ""}}
	if len(at.stops) > 0 {
		page.After = append(page.After, option{Value: firstStop, Text: wording.PositionFirst})
	}
	for _, s := range at.stops {
		if s.position.EndedOn.IsZero() {
			page.After = append(page.After, option{Value: s.position.ID.String(), Text: wording.PositionAfter(s.position.Label)})
		}
	}
	return render(c, f.status(), positionAddView(page))
}

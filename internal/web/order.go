package web

import (
	"cmp"
	"net/http"
	"slices"
	"strconv"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// orderPage is the form that puts all positions of a route into an order.
type orderPage struct {
	*form
	Frame  frame
	Trail  []detail
	Route  string
	Action string
	Stops  []orderStop
}

// orderStop is a position in that form.
type orderStop struct{ Rank, Version, Label, Of string }

// rankField and versionField are the fields for where a position comes, and for
// the version of it that was read.
func rankField(position uuid.UUID) string    { return "rank." + position.String() }
func versionField(position uuid.UUID) string { return "version." + position.String() }

// orderForm answers the form with the order as it is stored.
func (p *Pages) orderForm(c echo.Context) error {
	_, at, err := p.routeGround(c)
	if err != nil {
		return err
	}
	f := newForm()
	for i, s := range at.stops {
		f.Values.Set(rankField(s.position.ID), strconv.Itoa(i+1))
		f.Values.Set(versionField(s.position.ID), strconv.Itoa(s.position.Version))
	}
	return p.showOrder(c, f, at)
}

// order puts the positions of the route in the path into the order typed.
func (p *Pages) order(c echo.Context) error {
	who, at, err := p.routeGround(c)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	order := at.typedOrder(f)
	if err = f.checks.Err(); err == nil {
		err = p.service.OrderStops(c.Request().Context(), who, at.route.ID, order)
	}
	if fault.KindOf(err) == fault.Stale {
		return p.staleOrder(c, f)
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return p.showOrder(c, f, at)
	}
	return c.Redirect(http.StatusSeeOther, routeHref(p.base(c), at.route.ID)+"?done=order")
}

// typedOrder is the positions by the numbers typed, each with the version that
// was read.
func (at *routeGround) typedOrder(f *form) []registry.Position {
	numbers := make(map[uuid.UUID]float64, len(at.stops))
	var order []registry.Position
	for _, s := range at.stops {
		id := s.position.ID
		if !f.Values.Has(versionField(id)) {
			continue // it came onto the route after the form was opened
		}
		read, err := strconv.Atoi(f.text(versionField(id)))
		if err != nil {
			read = 0 // no version was ever that
		}
		n := f.number(rankField(id))
		f.checks.Require(n != nil || f.text(rankField(id)) != "", rankField(id), fault.Blank)
		if n == nil {
			continue
		}
		for _, other := range order {
			if numbers[other.ID] == *n {
				f.checks.Require(false, rankField(id), fault.Duplicate, "twice", f.text(rankField(id)))
			}
		}
		numbers[id] = *n
		order = append(order, registry.Position{ID: id, Version: read})
	}
	slices.SortStableFunc(order, func(a, b registry.Position) int { return cmp.Compare(numbers[a.ID], numbers[b.ID]) })
	return order
}

// staleOrder shows the order as it is stored by now beside what was typed, ready
// to be sent again.
func (p *Pages) staleOrder(c echo.Context, f *form) error {
	_, at, err := p.routeGround(c)
	if err != nil {
		return err
	}
	f.Stored = map[string]string{}
	for i, s := range at.stops {
		id, now := s.position.ID, strconv.Itoa(i+1)
		if f.text(rankField(id)) != now {
			f.Stored[rankField(id)] = now
		}
		f.Values.Set(versionField(id), strconv.Itoa(s.position.Version))
	}
	if len(f.Stored) == 0 {
		return c.Redirect(http.StatusSeeOther, routeHref(p.base(c), at.route.ID)+"?done=order")
	}
	return p.showOrder(c, f, at)
}

// told is what the summary says of a field; blank: nothing.
func (p orderPage) told(field string) string {
	if len(p.Wrong) > 0 {
		return p.wrong(field)
	}
	if now, other := p.Stored[field]; other {
		return wording.StoredNow(now)
	}
	return ""
}

func (p *Pages) showOrder(c echo.Context, f *form, at routeGround) error {
	page := orderPage{form: f, Frame: p.framed(c, "Order of the positions"), Route: at.route.Name}
	here := routeHref(page.Frame.Base, at.route.ID)
	page.Action = here + "/order"
	page.Trail = []detail{{at.site.Name, siteHref(page.Frame.Base, at.site.ID)}, {at.route.Name, here}, {page.Frame.Title, ""}}
	for _, s := range at.stops {
		stop := orderStop{Rank: rankField(s.position.ID), Version: versionField(s.position.ID), Label: s.position.Label, Of: roleBeside(s.position.Label, s.position.Role)}
		if !s.position.EndedOn.IsZero() {
			stop.Of = joinNamed(", ", stop.Of, wording.PositionEnded)
		}
		page.Stops = append(page.Stops, stop)
	}
	return render(c, f.status(), orderView(page))
}

package web

import (
	"net/http"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// anchorAddPage is the form for an anchor that stands at a position and is not
// in the register. One that was glued just now comes by its card.
type anchorAddPage struct {
	*form
	Frame    frame
	Notice   string
	Trail    []detail
	Action   string
	Gluing   string // link to the gluing card; empty: not allowed
	Products []option
	Standing []occupant // they must come out first
}

// occupant is an anchor that stands where another is to be entered.
type occupant struct {
	Row    anchorRow
	Remove string // link to the form that says how it came out; empty: not allowed
}

// newAnchorForm answers the form for an anchor at the position in the path.
func (p *Pages) newAnchorForm(c echo.Context) error {
	who, id, err := p.recording(c, app.AddAnchor)
	if err != nil {
		return err
	}
	f, err := blankForm()
	if err != nil {
		return err
	}
	return p.showNewAnchor(c, who, f, id)
}

// addAnchor enters an anchor at the position in the path.
func (p *Pages) addAnchor(c echo.Context) error {
	who, id, err := p.recording(c, app.AddAnchor)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	n := anchorIn(f, id, p.service.AsOf(who))
	if err = f.checks.Err(); err == nil {
		_, _, err = p.service.AddAnchor(c.Request().Context(), who, n)
	}
	here := anchorHref(p.base(c), n.ID)
	if fault.KindOf(err) == fault.Conflict {
		return c.Redirect(http.StatusSeeOther, here+"?done=anchor-before")
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return p.showNewAnchor(c, who, f, id)
	}
	return c.Redirect(http.StatusSeeOther, here+"?done=anchor")
}

func anchorIn(f *form, position uuid.UUID, asOf calendar.Date) registry.Anchor {
	return registry.Anchor{
		ID: f.id("id"), PositionID: position, Form: registry.Form(f.text("form")), ProductID: f.ref("product_id"),
		MetalWords: f.text("metal_text"), Shank: f.length("shank_diameter_mm"), Length: f.length("overall_length_mm"),
		SetOn: f.span("set_on", asOf), Notes: f.text("notes"),
	}
}

func (p *Pages) showNewAnchor(c echo.Context, who registry.Actor, f *form, position uuid.UUID) error {
	ctx := c.Request().Context()
	at, err := p.service.Position(ctx, who, position)
	if err != nil {
		return err
	}
	site, err := p.service.Site(ctx, who, at.SiteID)
	if err != nil {
		return err
	}
	products, err := p.catalogued(c, who)
	if err != nil {
		return err
	}
	page := anchorAddPage{form: f, Frame: p.framed(c, "Enter an anchor at "+at.Label), Notice: notice(c), Products: []option{{Text: "Not known"}}}
	base := page.Frame.Base
	here := positionHref(base, position)
	page.Action, page.Gluing = here+"/anchors/new", gluingLink(c, base, "site", site.ID)
	page.Trail = []detail{{site.Name, siteHref(base, site.ID)}, {at.Label, here}, {"Enter an anchor", ""}}
	for _, x := range products {
		if x.Kind == registry.Hardware {
			page.Products = append(page.Products, option{Value: x.ID.String(), Text: wording.ProductName(x)})
		}
	}
	if page.Standing, err = p.occupants(c, who, base, at); err != nil {
		return err
	}
	return render(c, f.status(), anchorAddView(page))
}

// occupants lists the anchors that stand at a position.
func (p *Pages) occupants(c echo.Context, who registry.Actor, base string, at registry.Position) ([]occupant, error) {
	here := positionPage{Frame: frame{Base: base}}
	err := p.anchorsAt(c.Request().Context(), who, &here, registry.AnchorFilter{SiteID: &at.SiteID, SectorID: at.SectorID}, at)
	var list []occupant
	for _, row := range here.Standing {
		s := occupant{Row: row}
		if allowed(c, app.RecordRemoval) {
			s.Remove = row.Href + "/remove"
		}
		list = append(list, s)
	}
	return list, err
}

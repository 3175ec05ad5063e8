package web

import (
	"net/http"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// holdsPage lists legal holds, with a form to add one.
type holdsPage struct {
	*form
	Frame  frame
	Notice string
	Path   string
	Lift   bool // whoever asks may lift one
	Over   finder
	Holds  []holdLine
}

// holdLine is one legal hold.
type holdLine struct {
	Words  string
	Reason string
	Href   string // of what it is over; blank: there is no page of it
	Lift   string // blank: it is lifted
}

func (p *Pages) holds(c echo.Context) error {
	id, err := newID()
	if err != nil {
		return err
	}
	f := newForm("id", id)
	if over := c.QueryParam("over"); over != "" {
		f.Values.Set(holdField, joinNamed(":", over, c.QueryParam("over_id")))
	}
	return p.showHolds(c, f)
}

// holdHref leads to the form for a hold over one thing, with its id filled in:
// nobody should have to copy one. Blank: whoever asks may place none.
func holdHref(c echo.Context, base string, over registry.HoldOver, id uuid.UUID) string {
	if !allowed(c, app.AddLegalHold) {
		return ""
	}
	return base + "/holds?over=" + string(over) + "&over_id=" + id.String() + "#over"
}

func (p *Pages) showHolds(c echo.Context, f *form) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	list, err := everything(func(page registry.Page) ([]registry.LegalHold, error) {
		return p.service.LegalHolds(c.Request().Context(), who, page)
	}, func(h registry.LegalHold) uuid.UUID { return h.ID })
	if err != nil {
		return err
	}
	page := holdsPage{form: f, Frame: p.framed(c, "Legal holds"), Notice: notice(c), Lift: allowed(c, app.LiftLegalHold)}
	page.Path, page.Frame.Script = page.Frame.Base+"/holds", "find.js"
	if page.Over, err = p.holdFinder(c, who, f); err != nil {
		return err
	}
	for _, h := range list {
		page.Holds = append(page.Holds, newHoldLine(page.Frame.Base, h))
	}
	return render(c, f.status(), holdsView(page))
}

func newHoldLine(base string, h registry.LegalHold) holdLine {
	line := holdLine{Words: wording.LegalHold(h), Reason: h.Reason}
	if h.LiftedOn.IsZero() {
		line.Lift = base + "/holds/" + h.ID.String() + "/lift"
	}
	switch h.Over {
	case registry.HoldSite:
		line.Href = base + "/places/" + h.OverID.String()
	case registry.HoldAnchor:
		line.Href = anchorHref(base, *h.OverID)
	}
	return line
}

func (p *Pages) addHold(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	if searched(f, []string{holdField}) {
		return p.showHolds(c, f)
	}
	h := registry.LegalHold{ID: f.id("id"), Reason: f.text("reason"), Until: f.date("until")}
	h.Over, h.OverID = chosenHold(f)
	f.checks.Require(h.Over != "", holdField, fault.Required)
	err = f.checks.Err()
	if err == nil {
		_, _, err = p.service.AddLegalHold(c.Request().Context(), who, h)
	}
	switch bad, err := f.reject(renamed(err, map[string]string{"over_id": holdField})); {
	case err != nil:
		return err
	case bad:
		return p.showHolds(c, f)
	}
	return c.Redirect(http.StatusSeeOther, p.base(c)+"/holds?done=hold")
}

func (p *Pages) liftHold(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	id, err := idOf(c)
	if err != nil {
		return err
	}
	if _, err := p.service.LiftLegalHold(c.Request().Context(), who, id); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, p.base(c)+"/holds?done=hold-lifted")
}

package web

import (
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ownerToErase is the landowner that a page is about, for those who may erase.
func (p *Pages) ownerToErase(c echo.Context) (who registry.Actor, owner registry.Landowner, err error) {
	who, err = actorOf(c)
	if err == nil && !allowed(c, app.EraseLandowner) {
		err = notAllowed(c, app.EraseLandowner)
	}
	if err != nil {
		return who, owner, err
	}
	id, err := idOf(c)
	if err != nil {
		return who, owner, err
	}
	owner, err = p.service.Landowner(c.Request().Context(), who, id)
	return who, owner, err
}

func (p *Pages) eraseOwnerForm(c echo.Context) error {
	_, owner, err := p.ownerToErase(c)
	if err != nil {
		return err
	}
	return p.showEraseOwner(c, newForm(), owner)
}

func (p *Pages) showEraseOwner(c echo.Context, f *form, owner registry.Landowner) error {
	page := erasePage{
		form: f, Frame: p.framed(c, "Erase a landowner’s name"), Name: owner.Name, Gone: !owner.ErasedOn.IsZero(),
		Help: wording.EraseOwnerHelp, Done: wording.OwnerErased + " " + wording.OwnerNotSearched,
	}
	page.Action = page.Frame.Base + "/landowners/" + owner.ID.String() + "/erase"
	page.Up = detail{"Land", page.Frame.Base + "/reports/land"}
	return render(c, f.status(), eraseView(page))
}

// eraseOwner erases a landowner whose name was typed once more.
func (p *Pages) eraseOwner(c echo.Context) error {
	who, owner, err := p.ownerToErase(c)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	typed := strings.Join(strings.Fields(f.text("confirmation")), " ")
	f.checks.Require(registry.Fold(typed) == registry.Fold(owner.Name), "confirmation", fault.Mismatch, "with", "name")
	e := registry.Erasure{LandownerID: &owner.ID, Reason: f.text("reason")}
	f.checks.Nest("", e.Validate())
	if err = f.checks.Err(); err == nil {
		_, err = p.service.EraseLandowner(c.Request().Context(), who, owner.ID, f.text("reason"))
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return p.showEraseOwner(c, f, owner)
	}
	return c.Redirect(http.StatusSeeOther, p.base(c)+"/reports/land?done=owner-erased")
}

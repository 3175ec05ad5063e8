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

// peoplePage lists whom records name.
type peoplePage struct {
	Frame  frame
	Notice string
	People []personLine
}

// personLine is one person; without Href the name is erased.
type personLine struct{ Name, ID, Href, Hold string }

// erasePage is the form that erases a person's name.
type erasePage struct {
	*form
	Frame  frame
	Name   string
	Action string
	Gone   bool // it is erased already
	Up     detail
	Help   string
	Done   string // what is said of one who is erased
}

// erasing lets only those to the pages who may erase.
func (p *Pages) erasing(c echo.Context) (registry.Actor, []registry.Person, error) {
	who, err := actorOf(c)
	if err == nil && !allowed(c, app.ErasePerson) {
		err = notAllowed(c, app.ErasePerson)
	}
	if err != nil {
		return who, nil, err
	}
	list, err := p.persons(c, who)
	return who, list, err
}

func (p *Pages) people(c echo.Context) error {
	_, list, err := p.erasing(c)
	if err != nil {
		return err
	}
	page := peoplePage{Frame: p.framed(c, "People"), Notice: notice(c)}
	for _, n := range list {
		line := personLine{Name: n.Name, ID: n.ID.String()}
		if !n.Erased {
			line.Href = page.Frame.Base + "/people/" + line.ID + "/erase"
			line.Hold = holdHref(c, page.Frame.Base, registry.HoldPerson, n.ID)
		}
		page.People = append(page.People, line)
	}
	return ok(c, peopleView(page))
}

func (p *Pages) eraseForm(c echo.Context) error {
	_, person, err := p.toErase(c)
	if err != nil {
		return err
	}
	return p.showErase(c, newForm(), person)
}

// toErase is the person that a page is about.
func (p *Pages) toErase(c echo.Context) (who registry.Actor, person registry.Person, err error) {
	who, list, err := p.erasing(c)
	if err != nil {
		return who, person, err
	}
	id, err := idOf(c)
	if err != nil {
		return who, person, err
	}
	for _, n := range list {
		if n.ID == id {
			return who, n, nil
		}
	}
	return who, person, fault.New(fault.NotFound, "erase person %s: there is no such person in this group", id)
}

func (p *Pages) showErase(c echo.Context, f *form, person registry.Person) error {
	page := erasePage{
		form: f, Frame: p.framed(c, "Erase a person’s name"), Name: person.Name, Gone: person.Erased,
		Help: wording.EraseHelp, Done: wording.PersonErased,
	}
	page.Up = detail{"People", page.Frame.Base + "/people"}
	page.Action = page.Frame.Base + "/people/" + person.ID.String() + "/erase"
	return render(c, f.status(), eraseView(page))
}

// erase erases a name that was typed once more.
func (p *Pages) erase(c echo.Context) error {
	who, person, err := p.toErase(c)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	typed := strings.Join(strings.Fields(f.text("confirmation")), " ")
	f.checks.Require(registry.Fold(typed) == registry.Fold(person.Name), "confirmation", fault.Mismatch, "with", "name")
	e := registry.Erasure{PersonID: &person.ID, Reason: f.text("reason")}
	f.checks.Nest("", e.Validate())
	err = f.checks.Err()
	if err == nil {
		err = p.service.ErasePerson(c.Request().Context(), who, person.ID, f.text("reason"))
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return p.showErase(c, f, person)
	}
	return c.Redirect(http.StatusSeeOther, p.base(c)+"/people?done=erased")
}

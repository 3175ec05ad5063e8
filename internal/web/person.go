package web

import (
	"context"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// lastPerson is the name under which a session keeps who was chosen last.
const lastPerson = "person"

// persons lists the group's people by name, none if whoever asks may not see
// them.
func (p *Pages) persons(c echo.Context, who registry.Actor) ([]registry.Person, error) {
	if !allowed(c, app.ListPersons) {
		return nil, nil
	}
	list, err := everything(func(page registry.Page) ([]registry.Person, error) {
		return p.service.Persons(c.Request().Context(), who, page)
	}, func(p registry.Person) uuid.UUID { return p.ID })
	slices.SortFunc(list, func(a, b registry.Person) int {
		return strings.Compare(registry.Fold(a.Name), registry.Fold(b.Name))
	})
	return list, err
}

// personOptions are the group's people as choices.
func personOptions(list []registry.Person) []option {
	options := []option{{Text: "Choose a name"}}
	for _, p := range list {
		options = append(options, option{Value: p.ID.String(), Text: p.Name})
	}
	return options
}

// chosenPerson reads who did something: one of the list, or a name that is not
// on it. A name that is, in other case or spacing, is that person. The second
// result says that the person is not in the register yet.
func chosenPerson(f *form, list []registry.Person) (registry.Person, bool) {
	name := strings.Join(strings.Fields(f.text("person_name")), " ")
	for _, p := range list {
		if name == "" && p.ID == f.id("person_id") || name != "" && registry.Fold(p.Name) == registry.Fold(name) {
			return p, false
		}
	}
	f.checks.Require(name != "", "person_id", fault.Required)
	added := registry.Person{ID: f.id("new_person_id"), Name: name}
	if slices.ContainsFunc(list, func(p registry.Person) bool { return p.ID == added.ID }) {
		added.ID = uuid.New() // the form was refused before, under another name, which was kept
	}
	if name != "" {
		f.checks.Nest("", personNamed(added.Validate()))
	}
	return added, name != ""
}

// personNamed gives the violations of a person's name the name that its field
// has in a form.
func personNamed(err error) error { return renamed(err, map[string]string{"name": "person_name"}) }

// keepPerson adds a person who is not in the register yet, and remembers who was
// chosen for the next form.
func (p *Pages) keepPerson(ctx context.Context, who registry.Actor, person registry.Person, add bool) error {
	if add {
		if _, _, err := p.service.AddPerson(ctx, who, person); err != nil {
			return personNamed(err)
		}
	}
	return p.sessions.Keep(ctx, lastPerson, person.ID.String())
}

// everything reads all pages of a list.
func everything[T any](read func(registry.Page) ([]T, error), id func(T) uuid.UUID) ([]T, error) {
	page := registry.Page{Limit: longestPage}
	var all []T
	for {
		list, err := read(page)
		all = append(all, list...)
		if err != nil || len(list) < longestPage {
			return all, err
		}
		page.After = id(list[len(list)-1])
	}
}

// longestPage is the most rows that a list gives at once.
const longestPage = 500

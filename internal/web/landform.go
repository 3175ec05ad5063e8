package web

import (
	"context"
	"net/http"
	"strconv"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// landFormPage is the form for a landowner, a parcel, an agreement or a
// restriction.
type landFormPage struct {
	*form
	Frame   frame
	Trail   []detail
	Kind    string // "landowner" and so on
	Action  string
	Stale   []string // what is kept now where something else was typed; nil: nothing came between
	Contact bool     // whoever asks may see and write a landowner's contact
	Owners  []option
	Places  []option // places and parcels
}

// stands says that the form changes what is kept already: only that can end.
func (p *landFormPage) stands() bool { return p.text("version") != "" }

// landNoun says how the things of one kind are asked for and kept.
type landNoun[N any] struct {
	kind, path  string // "landowner", "/landowners"
	add, change app.Operation
	key         func(*N) (id *uuid.UUID, version int)
	read        func(*app.Service, context.Context, registry.Actor, uuid.UUID) (N, error)
	enter       func(*app.Service, context.Context, registry.Actor, N) (N, bool, error)
	edit        func(*app.Service, context.Context, registry.Actor, uuid.UUID, int, func(*N) error) (N, error)
	fields      []string                       // in the order of the form
	fill        func(f *form, n *N)            // writes a noun into its fields
	take        func(f *form, n *N)            // and reads it out of them
	names       map[string]string              // fields, by the names that violations have
	back        func(base string, n *N) string // the page that shows it
}

// mountLand adds the pages of one kind.
func mountLand[N any](g *echo.Group, p *Pages, k landNoun[N]) {
	g.GET(k.path+"/new", newLand(p, k))
	g.POST(k.path+"/new", addLand(p, k))
	g.GET(k.path+"/:id", landForm(p, k))
	g.POST(k.path+"/:id", changeLand(p, k))
}

// newLand answers the form for a new one, with what the query says filled in.
func newLand[N any](p *Pages, k landNoun[N]) echo.HandlerFunc {
	return func(c echo.Context) error {
		who, err := mayAdd(c, k.add)
		if err != nil {
			return err
		}
		f, err := blankForm()
		if err != nil {
			return err
		}
		for _, name := range k.fields {
			f.Values.Set(name, c.QueryParam(name))
		}
		return p.showLandForm(c, who, f, k.kind, k.path+"/new", http.StatusOK, nil)
	}
}

// addLand adds what a form says.
func addLand[N any](p *Pages, k landNoun[N]) echo.HandlerFunc {
	return func(c echo.Context) error {
		who, err := mayAdd(c, k.add)
		if err != nil {
			return err
		}
		f, err := landPosted(c)
		if err != nil {
			return err
		}
		var n N
		id, _ := k.key(&n)
		*id = f.id("id")
		k.take(f, &n)
		if err = f.checks.Err(); err == nil {
			n, _, err = k.enter(p.service, c.Request().Context(), who, n)
		}
		if fault.KindOf(err) == fault.Conflict && fault.CodeOf(err) == fault.ConflictCode {
			return c.Redirect(http.StatusSeeOther, p.base(c)+"/land?done=land-before")
		}
		switch bad, err := f.reject(renamed(err, k.names)); {
		case err != nil:
			return err
		case bad:
			return p.showLandForm(c, who, f, k.kind, k.path+"/new", f.status(), nil)
		}
		return c.Redirect(http.StatusSeeOther, k.back(p.base(c), &n)+"?done="+k.kind)
	}
}

// landForm answers the form that changes one.
func landForm[N any](p *Pages, k landNoun[N]) echo.HandlerFunc {
	return func(c echo.Context) error {
		who, id, err := p.recording(c, k.change)
		if err != nil {
			return err
		}
		n, err := k.read(p.service, c.Request().Context(), who, id)
		if err != nil {
			return err
		}
		return p.showLandForm(c, who, k.filled(&n), k.kind, k.path+"/"+id.String(), http.StatusOK, nil)
	}
}

// filled is a form filled with what is kept.
func (k landNoun[N]) filled(n *N) *form {
	f := newForm()
	k.fill(f, n)
	_, version := k.key(n)
	f.Values.Set("version", strconv.Itoa(version))
	return f
}

// changeLand changes one to what a form says.
func changeLand[N any](p *Pages, k landNoun[N]) echo.HandlerFunc {
	return func(c echo.Context) error {
		who, id, err := p.recording(c, k.change)
		if err != nil {
			return err
		}
		f, err := landPosted(c)
		if err != nil {
			return err
		}
		ctx, path := c.Request().Context(), k.path+"/"+id.String()
		version, _ := strconv.Atoi(f.text("version")) // none is no version of anything: stale
		n, err := k.edit(p.service, ctx, who, id, version, func(n *N) error {
			k.take(f, n)
			return f.checks.Err()
		})
		switch {
		case fault.KindOf(err) == fault.Stale:
			kept, err := k.read(p.service, ctx, who, id)
			if err != nil {
				return err
			}
			return p.showLandForm(c, who, f, k.kind, path, http.StatusConflict, k.filled(&kept))
		case fault.CodeOf(err) == fault.OnHold:
			f.Wrong = append(f.Wrong, wrongField{"", wording.Fault(fault.OnHold, nil)})
			return p.showLandForm(c, who, f, k.kind, path, f.status(), nil)
		}
		f.checks = fault.Checks{} // they came back in err
		switch bad, err := f.reject(renamed(err, k.names)); {
		case err != nil:
			return err
		case bad:
			return p.showLandForm(c, who, f, k.kind, path, f.status(), nil)
		}
		return c.Redirect(http.StatusSeeOther, k.back(p.base(c), &n)+"?done="+k.kind)
	}
}

// showLandForm draws a form. Kept is what another wrote in the meantime, nil for
// nothing: the form then goes on from that version with what was typed.
func (p *Pages) showLandForm(c echo.Context, who registry.Actor, f *form, kind, path string, status int, kept *form) error {
	title := wording.LandAdd(kind)
	if f.text("version") != "" {
		title = wording.LandChange(kind)
	}
	page := landFormPage{form: f, Frame: p.framed(c, title), Kind: kind, Contact: who.Role.Rank() >= registry.RoleOwner.Rank()}
	page.Action = page.Frame.Base + path
	page.Trail = []detail{{"Landowners, agreements, restrictions", page.Frame.Base + "/land"}, {title, ""}}
	var err error
	switch kind {
	case "parcel", "agreement":
		page.Owners, err = p.ownerChoices(c, f.text("landowner_id"))
	case "restriction":
		page.Places, err = p.placeChoices(c, who, f.text("barred_at"))
	}
	if err != nil {
		return err
	}
	if kept != nil {
		page.Stale = page.between(kept)
		f.Values.Set("version", kept.text("version"))
	}
	return render(c, status, landFormView(page))
}

// between says what is kept now, field by field, where something else was typed.
func (page *landFormPage) between(kept *form) []string {
	lines := []string{wording.LandStale}
	for _, name := range landFields {
		if now, shown := kept.Values[name]; shown && kept.text(name) != page.text(name) {
			lines = append(lines, wording.LandKept(fieldLabel(name), page.choiceText(now[0])))
		}
	}
	return lines
}

// choiceText is the text of a choice, or the value itself.
func (page *landFormPage) choiceText(value string) string {
	for _, list := range [][]option{page.Owners, page.Places} {
		for _, o := range list {
			if value != "" && o.Value == value {
				return o.Text
			}
		}
	}
	return value
}

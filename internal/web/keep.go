package web

import (
	"context"
	"net/http"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// kept says how the things of one kind of inventory are added and changed by a
// form.
type kept[N any] struct {
	noun        string // in what the pages say was done
	add, change app.Operation
	key         func(*N) (id *uuid.UUID, version *int)
	read        func(ctx context.Context, who registry.Actor, id uuid.UUID) (N, error)
	// fresh is a new thing, at what the path names; it finds out whether that
	// is there.
	fresh  func(ctx context.Context, who registry.Actor, at uuid.UUID) (N, error)
	enter  func(ctx context.Context, who registry.Actor, n N) (N, bool, error)
	keep   func(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*N) error) (N, error)
	check  func(*N) error
	fields func(ctx context.Context, who registry.Actor, n *N) ([]keptField[N], error)
	place  func(ctx context.Context, who registry.Actor, base string, n *N) (keptPlace, error)
}

// keptField is a field of such a form: how it shows a thing, and how it puts
// what was typed in place.
type keptField[N any] struct {
	formField
	show func(*N) string
	put  func(*form, *N)
}

// formField is how a field is drawn.
type formField struct {
	Name    string
	Kind    string // "text", "number", "date", "words", "select" or "radio"
	Help    string
	Options []option
}

// keptPlace is where a thing stands. That of a new one is not linked.
type keptPlace struct {
	name, href string
	above      []detail // what it lies in
}

// keepPage is the form in which a thing is added or changed.
type keepPage struct {
	*form
	Frame  frame
	Trail  []detail
	Help   string
	Fields []formField
	Action string
	Button string
}

// endedField is the field for the day on which a place ended. Of a batch the
// same word of the API says something else.
const endedField = "place_ended_on"

// keptNames are the names in the form of what the API calls otherwise.
var keptNames = map[string]string{"ended_on": endedField}

// mountKept adds the forms in which the inventory is added and changed.
func (p *Pages) mountKept(g *echo.Group) {
	sites, sectors, routes, inSector := p.keptSites(), p.keptSectors(), p.keptRoutes(false), p.keptRoutes(true)
	sites.mountNew(p, g, "/places/new")
	sectors.mountNew(p, g, "/places/:id/sectors/new")
	routes.mountNew(p, g, "/places/:id/routes/new")
	inSector.mountNew(p, g, "/sectors/:id/routes/new")
	sites.mountChange(p, g, "/places/:id/change")
	sectors.mountChange(p, g, "/sectors/:id/change")
	routes.mountChange(p, g, "/routes/:id/change")
	p.keptPositions().mountChange(p, g, "/positions/:id/change")
	p.keptAnchors().mountChange(p, g, "/anchors/:id/change")
	g.GET("/routes/:id/order", p.orderForm)
	g.POST("/routes/:id/order", p.order)
}

func (k kept[N]) mountNew(p *Pages, g *echo.Group, path string) {
	g.GET(path, k.newForm(p))
	g.POST(path, k.new(p))
}

func (k kept[N]) mountChange(p *Pages, g *echo.Group, path string) {
	g.GET(path, k.changeForm(p))
	g.POST(path, k.alter(p))
}

// newForm answers the blank form.
func (k kept[N]) newForm(p *Pages) echo.HandlerFunc {
	return func(c echo.Context) error {
		who, n, err := k.blank(c)
		if err != nil {
			return err
		}
		f, err := blankForm()
		if err != nil {
			return err
		}
		fields, err := k.fields(c.Request().Context(), who, &n)
		if err != nil {
			return err
		}
		fill(f, fields, &n)
		return k.show(p, c, who, f, &n)
	}
}

// blank returns who asks, and a new thing at what the path names.
func (k kept[N]) blank(c echo.Context) (registry.Actor, N, error) {
	var none N
	who, err := mayAdd(c, k.add)
	if err != nil {
		return who, none, err
	}
	at := uuid.Nil
	if c.Param("id") != "" {
		if at, err = idOf(c); err != nil {
			return who, none, err
		}
	}
	n, err := k.fresh(c.Request().Context(), who, at)
	return who, n, err
}

// new adds what was typed.
func (k kept[N]) new(p *Pages) echo.HandlerFunc {
	return func(c echo.Context) error {
		who, n, err := k.blank(c)
		if err != nil {
			return err
		}
		f, err := postedForm(c)
		if err != nil {
			return err
		}
		ctx := c.Request().Context()
		fields, err := k.fields(ctx, who, &n)
		if err != nil {
			return err
		}
		made := n
		id, _ := k.key(&made)
		*id = f.id("id")
		stored := made
		if err = k.typed(f, fields, &made); err == nil {
			stored, _, err = k.enter(ctx, who, made)
		}
		if fault.KindOf(err) == fault.Conflict {
			return k.leadOn(p, c, who, &made, k.noun+"-before")
		}
		switch bad, err := f.reject(renamed(err, keptNames)); {
		case err != nil:
			return err
		case bad:
			return k.show(p, c, who, f, &n)
		}
		return k.leadOn(p, c, who, &stored, k.noun)
	}
}

// changeForm answers the form as the thing in the path is stored.
func (k kept[N]) changeForm(p *Pages) echo.HandlerFunc {
	return func(c echo.Context) error {
		who, n, err := k.stored(p, c)
		if err != nil {
			return err
		}
		fields, err := k.fields(c.Request().Context(), who, &n)
		if err != nil {
			return err
		}
		_, version := k.key(&n)
		f := newForm("version", strconv.Itoa(*version))
		fill(f, fields, &n)
		return k.show(p, c, who, f, &n)
	}
}

func (k kept[N]) stored(p *Pages, c echo.Context) (registry.Actor, N, error) {
	who, id, err := p.recording(c, k.change)
	if err != nil {
		var none N
		return who, none, err
	}
	n, err := k.read(c.Request().Context(), who, id)
	return who, n, err
}

// alter changes the thing in the path to what was typed.
func (k kept[N]) alter(p *Pages) echo.HandlerFunc {
	return func(c echo.Context) error {
		who, n, err := k.stored(p, c)
		if err != nil {
			return err
		}
		f, err := postedForm(c)
		if err != nil {
			return err
		}
		ctx := c.Request().Context()
		fields, err := k.fields(ctx, who, &n)
		if err != nil {
			return err
		}
		id, stored := k.key(&n)
		read, err := strconv.Atoi(f.text("version"))
		if err != nil {
			read = 0 // no version was ever that
		}
		trial := n
		if err = k.typed(f, fields, &trial); err == nil && read == *stored {
			_, err = k.keep(ctx, who, *id, read, func(n *N) error {
				put(&form{Values: f.Values}, fields, n)
				return nil
			})
		}
		if err == nil && read != *stored || fault.KindOf(err) == fault.Stale {
			return k.stale(p, c, f)
		}
		switch bad, err := f.reject(renamed(err, keptNames)); {
		case err != nil:
			return err
		case bad:
			return k.show(p, c, who, f, &n)
		}
		return k.leadOn(p, c, who, &n, k.noun+"-changed")
	}
}

// stale shows what is stored by now beside what was typed, ready to be sent
// again. Where both say the same, as when a form is sent twice, all is done.
func (k kept[N]) stale(p *Pages, c echo.Context, f *form) error {
	who, n, err := k.stored(p, c)
	if err != nil {
		return err
	}
	fields, err := k.fields(c.Request().Context(), who, &n)
	if err != nil {
		return err
	}
	mine := n
	put(&form{Values: f.Values}, fields, &mine)
	f.Stored = map[string]string{}
	for _, field := range fields {
		if field.show(&mine) != field.show(&n) {
			f.Stored[field.Name] = field.told(field.show(&n))
		}
	}
	if len(f.Stored) == 0 {
		return k.leadOn(p, c, who, &n, k.noun+"-changed")
	}
	_, version := k.key(&n)
	f.Values.Set("version", strconv.Itoa(*version))
	return k.show(p, c, who, f, &n)
}

// typed puts what was typed into n and returns all that is wrong with it.
func (k kept[N]) typed(f *form, fields []keptField[N], n *N) error {
	put(f, fields, n)
	f.checks.Nest("", renamed(k.check(n), keptNames))
	return f.checks.Err()
}

// fill fills a form with a thing as it is.
func fill[N any](f *form, fields []keptField[N], n *N) {
	for _, field := range fields {
		f.Values.Set(field.Name, field.show(n))
	}
}

// put puts what was typed into n. A field that stands as it showed n says
// nothing: what cannot be typed exactly, as an imported text, is kept.
func put[N any](f *form, fields []keptField[N], n *N) {
	for _, field := range fields {
		if f.prose(field.Name) != strings.TrimSpace(field.show(n)) {
			field.put(f, n)
		}
	}
}

// told is a value of the field as people read it.
func (d formField) told(value string) string {
	for _, o := range d.Options {
		if o.Value == value {
			return o.Text
		}
	}
	if day, err := calendar.ParseDate(value); err == nil && d.Kind == "date" {
		return day.Words()
	}
	if value == "" {
		return wording.NothingStored
	}
	return value
}

// leadOn leads to the page of a thing and says what was done.
func (k kept[N]) leadOn(p *Pages, c echo.Context, who registry.Actor, n *N, done string) error {
	at, err := k.place(c.Request().Context(), who, p.base(c), n)
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, at.href+"?done="+done)
}

func (k kept[N]) show(p *Pages, c echo.Context, who registry.Actor, f *form, n *N) error {
	ctx := c.Request().Context()
	at, err := k.place(ctx, who, p.base(c), n)
	if err != nil {
		return err
	}
	fields, err := k.fields(ctx, who, n)
	if err != nil {
		return err
	}
	page := keepPage{form: f, Help: wording.KeepHelp(k.noun), Trail: at.above}
	if id, _ := k.key(n); *id == uuid.Nil {
		page.Button = "Add this " + k.noun
		page.Frame = p.framed(c, "Add a "+k.noun)
		page.Trail = append(page.Trail, detail{page.Frame.Title, ""})
	} else {
		page.Button = "Change this " + k.noun
		page.Frame = p.framed(c, wording.ChangeOf(k.noun, at.name))
		page.Trail = append(page.Trail, detail{at.name, at.href}, detail{"Change", ""})
	}
	page.Action = c.Request().URL.Path
	for _, field := range fields {
		page.Fields = append(page.Fields, field.formField)
	}
	return render(c, f.status(), keepView(page))
}

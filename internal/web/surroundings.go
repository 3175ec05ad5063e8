package web

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// surroundings are what is on record about a place beside its anchors.
type surroundings struct {
	Environment  []environmentLine
	Origin       string // where every value came from; blank: each has its own
	EnterHref    string // form for its environment; empty: whoever asks may not
	Restrictions []groundLine
	Agreements   []groundLine
	Events       []groundLine
	RestrictHref string // form for a restriction here; empty: whoever asks may not
	LandHref     string // all landowners, agreements and restrictions
}

// environmentLine is one value of the environment and where it came from.
type environmentLine struct{ Name, Value, Origin string }

// groundLine is a restriction, an agreement or an event as a sentence.
type groundLine struct {
	ID     uuid.UUID
	Where  string // blank: here
	Text   string
	State  string // "in force today" and the like; blank: nothing to say
	Now    bool   // it bars or counts today
	Change string // form that changes it; blank: there is none, or whoever asks may not
}

// ground is a place with the places that it is part of, or all those in it.
type ground struct {
	here    registry.Place
	site    uuid.UUID
	names   map[uuid.UUID]string   // of all the places, with their kind
	parcels map[uuid.UUID]struct{} // that its positions stand on
	above   map[uuid.UUID]struct{} // places whose environment holds here
}

// newGround returns the ground of a place of a site, with no other place in it
// yet.
func newGround(here registry.Place, site registry.Site) *ground {
	g := &ground{
		here: here, site: site.ID,
		names: map[uuid.UUID]string{}, parcels: map[uuid.UUID]struct{}{}, above: map[uuid.UUID]struct{}{},
	}
	g.add(registry.AtSite, site.ID, site.Name, true)
	return g
}

// add names one more place. What is said of the environment of a place above
// holds here too.
func (g *ground) add(kind registry.PlaceKind, id uuid.UUID, name string, above bool) {
	g.names[id] = wording.Label(kind) + " " + name
	if above {
		g.above[id] = struct{}{}
	}
}

// stand adds the parcel that a position stands on.
func (g *ground) stand(parcel *uuid.UUID) {
	if parcel != nil {
		g.parcels[*parcel] = struct{}{}
	}
}

// where names another place than this one.
func (g *ground) where(id uuid.UUID) string {
	if id == g.here.ID {
		return ""
	}
	return g.names[id]
}

// surroundings reads what is on record about a place.
func (p *Pages) surroundings(c echo.Context, who registry.Actor, g *ground) (surroundings, error) {
	ctx, asOf := c.Request().Context(), p.service.AsOf(who)
	var s surroundings
	if allowed(c, app.AddEnvironment) {
		s.EnterHref = placeHref(p.base(c), g.here) + "/environment"
	}
	statements, err := p.statements(ctx, who, g)
	if err != nil {
		return s, err
	}
	for _, f := range registry.ExplainEnvironment(statements, asOf) {
		s.Environment = append(s.Environment, environmentLine{
			wording.EnvironmentName(f.Field), wording.EnvironmentValue(f.Field, f.Value), g.origin(f),
		})
	}
	s.shareOrigin()
	parcels, err := p.parcels(ctx, who, g)
	if err != nil {
		return s, err
	}
	if s.Restrictions, err = p.restrictions(ctx, who, g, asOf); err != nil {
		return s, err
	}
	if s.Agreements, err = p.agreements(ctx, who, parcels, asOf); err != nil {
		return s, err
	}
	s.mayLand(c, p.base(c), g.here)
	s.Events, err = p.events(ctx, who, g, asOf)
	return s, err
}

// shareOrigin says an origin that all values have once, below them.
func (s *surroundings) shareOrigin() {
	for _, e := range s.Environment {
		if e.Origin != s.Environment[0].Origin {
			return
		}
	}
	if len(s.Environment) == 0 {
		return
	}
	s.Origin = s.Environment[0].Origin
	for i := range s.Environment {
		s.Environment[i].Origin = ""
	}
}

// origin says where a value of the environment came from.
func (g *ground) origin(f registry.EnvironmentField) string {
	text := "from here"
	if name := g.where(f.Place.ID); name != "" {
		text = "from the " + strings.ToLower(name[:1]) + name[1:]
	}
	if !f.From.IsZero() {
		text += ", since " + f.From.Words()
	}
	return text
}

// statements are those about the environment that hold at a place.
func (p *Pages) statements(ctx context.Context, who registry.Actor, g *ground) ([]registry.Environment, error) {
	all, err := everything(func(page registry.Page) ([]registry.Environment, error) {
		return p.service.Environments(ctx, who, &g.site, page)
	}, func(e registry.Environment) uuid.UUID { return e.ID })
	return slices.DeleteFunc(all, func(e registry.Environment) bool {
		_, holds := g.above[e.Place.ID]
		return !holds
	}), err
}

// parcels reads the parcels of a ground and names them.
func (p *Pages) parcels(ctx context.Context, who registry.Actor, g *ground) ([]registry.Parcel, error) {
	var list []registry.Parcel
	for id := range g.parcels {
		parcel, err := p.service.Parcel(ctx, who, id)
		if err != nil {
			return nil, err
		}
		g.names[id] = "Parcel " + parcel.Name
		list = append(list, parcel)
	}
	return list, nil
}

// restrictions are those of the places and parcels of a ground, those that bar
// today first.
func (p *Pages) restrictions(ctx context.Context, who registry.Actor, g *ground, asOf calendar.Date) ([]groundLine, error) {
	all, err := everything(func(page registry.Page) ([]registry.Restriction, error) {
		return p.service.Restrictions(ctx, who, page)
	}, func(r registry.Restriction) uuid.UUID { return r.ID })
	var lines []groundLine
	for _, r := range all {
		at := restrictedAt(r)
		if _, ours := g.names[at]; !ours || !r.Until.IsZero() && r.Until < asOf {
			continue
		}
		l := groundLine{ID: r.ID, Where: g.where(at), Text: wording.Restriction(r), Now: r.Bars(asOf)}
		if l.Now {
			l.State = "in force today"
		}
		lines = append(lines, l)
	}
	return nowFirst(lines), err
}

// restrictedAt is the place or parcel that a restriction is about.
func restrictedAt(r registry.Restriction) uuid.UUID {
	switch {
	case r.Place != nil:
		return r.Place.ID
	case r.ParcelID != nil:
		return *r.ParcelID
	}
	return uuid.Nil
}

func nowFirst(lines []groundLine) []groundLine {
	slices.SortStableFunc(lines, func(a, b groundLine) int {
		switch {
		case a.Now == b.Now:
			return 0
		case a.Now:
			return -1
		}
		return 1
	})
	return lines
}

// agreements are those with the landowners of the parcels.
func (p *Pages) agreements(ctx context.Context, who registry.Actor, parcels []registry.Parcel, asOf calendar.Date) ([]groundLine, error) {
	var owners []uuid.UUID
	for _, parcel := range parcels {
		if !slices.Contains(owners, parcel.LandownerID) {
			owners = append(owners, parcel.LandownerID)
		}
	}
	var all []registry.Agreement
	for _, owner := range owners {
		list, err := p.service.Agreements(ctx, who, &owner, registry.Page{})
		if err != nil {
			return nil, err
		}
		all = append(all, list...)
	}
	slices.SortFunc(all, func(a, b registry.Agreement) int {
		return cmp.Or(-cmp.Compare(a.From, b.From), strings.Compare(a.ID.String(), b.ID.String()))
	})
	lines := make([]groundLine, len(all))
	for i, a := range all {
		lines[i] = agreementLine(a, asOf)
	}
	return nowFirst(lines), nil
}

func agreementLine(a registry.Agreement, asOf calendar.Date) groundLine {
	l := groundLine{ID: a.ID, Text: wording.Agreement(a)}
	switch {
	case a.From > asOf:
		l.State = "not yet in force"
	case !a.Until.IsZero() && a.Until < asOf:
		l.State = "no longer in force"
	default:
		l.State, l.Now = "in force today", true
	}
	return l
}

// events are what befell the site and still stands, newest first.
func (p *Pages) events(ctx context.Context, who registry.Actor, g *ground, asOf calendar.Date) ([]groundLine, error) {
	all, err := everything(func(page registry.Page) ([]registry.Event, error) {
		return p.service.Events(ctx, who, &g.site, page)
	}, func(e registry.Event) uuid.UUID { return e.ID })
	slices.SortFunc(all, func(a, b registry.Event) int {
		return cmp.Or(-cmp.Compare(a.HappenedOn, b.HappenedOn), strings.Compare(a.ID.String(), b.ID.String()))
	})
	var lines []groundLine
	for _, e := range all {
		if e.EndedOn.IsZero() || e.EndedOn > asOf {
			lines = append(lines, groundLine{Text: wording.Event(e), Now: e.Closed})
		}
	}
	return lines, err
}

// placeHref is the page of a place.
func placeHref(base string, place registry.Place) string {
	paths := map[registry.PlaceKind]string{
		registry.AtSite: "/places/", registry.AtSector: "/sectors/", registry.AtRoute: "/routes/", registry.AtPosition: "/positions/",
	}
	return base + paths[place.Kind] + place.ID.String()
}

func sectorHref(base string, id uuid.UUID) string {
	return placeHref(base, registry.Place{Kind: registry.AtSector, ID: id})
}

func routeHref(base string, id uuid.UUID) string {
	return placeHref(base, registry.Place{Kind: registry.AtRoute, ID: id})
}

func positionHref(base string, id uuid.UUID) string {
	return placeHref(base, registry.Place{Kind: registry.AtPosition, ID: id})
}

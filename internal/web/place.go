package web

import (
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// Rows on one page; more are a link away.
const (
	sitesOnPage   = 100
	anchorsOnPage = 300
)

// placesPage lists the sites of a group.
type placesPage struct {
	Frame  frame
	Import bool   // whoever asks may import
	Add    string // link to add a site; empty: not allowed
	All    string // link to the anchors of all of them; empty: not allowed
	Sites  []siteLine
	Ended  []siteLine // looked after no longer
	More   string     // link to the next page; empty: none
}

type siteLine struct{ Href, Name, Kind string }

// option is one choice of a select field.
type option struct {
	Value, Text string
	Chosen      bool
}

func (p *Pages) places(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	after := afterOf(c)
	sites, err := p.service.Sites(c.Request().Context(), who, registry.Page{Limit: sitesOnPage, After: after})
	if err != nil {
		return err
	}
	f := p.framed(c, "Places")
	page := placesPage{Frame: f, Import: allowed(c, app.ImportList), All: searchAll(c, f.Base)}
	if allowed(c, app.AddSite) {
		page.Add = f.Base + "/places/new"
	}
	if len(sites) == sitesOnPage {
		page.More = f.Base + "/places?after=" + sites[len(sites)-1].ID.String()
	}
	slices.SortFunc(sites, func(a, b registry.Site) int { return strings.Compare(registry.Fold(a.Name), registry.Fold(b.Name)) })
	for _, s := range sites {
		line := siteLine{siteHref(f.Base, s.ID), s.Name, wording.Label(s.Kind)}
		if s.EndedOn.IsZero() {
			page.Sites = append(page.Sites, line)
		} else {
			page.Ended = append(page.Ended, line)
		}
	}
	return ok(c, placesView(page))
}

// standingParam reads the standing asked for; one that does not exist asks for
// all.
func standingParam(c echo.Context) registry.Standing {
	s := registry.Standing(c.QueryParam("standing"))
	if !slices.Contains(registry.Standings(), s) {
		return ""
	}
	return s
}

func standingOptions(chosen registry.Standing) []option {
	options := []option{{"", "Any standing", chosen == ""}}
	for _, s := range registry.Standings() {
		options = append(options, option{string(s), wording.Standing(s), s == chosen})
	}
	return options
}

// afterOf reads the id after which a page begins; a text that is none begins
// at the start.
func afterOf(c echo.Context) uuid.UUID {
	id, err := uuid.Parse(c.QueryParam("after"))
	if err != nil {
		return uuid.Nil
	}
	return id
}

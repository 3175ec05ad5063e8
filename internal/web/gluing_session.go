package web

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// sessionsOnPage is how many gluing sessions one page lists.
const sessionsOnPage = 100

// gluingListPage lists gluing sessions, or the places where one can be.
type gluingListPage struct {
	Frame    frame
	May      bool // whoever asks may record one
	Sessions []siteLine
	Places   []siteLine
	Older    string // link to those before; empty: none
}

// gluingPageOf is one gluing session with the anchors set in it.
type gluingPageOf struct {
	Frame      frame
	Notice     string
	Trail      []detail
	Heading    string
	ReplacedBy string // link to the session that corrects this one; empty: none
	Said       []wording.Said
	Open       string // the fields left open
	Correct    string // link to the form; empty: whoever asks may not, or a later one counts
	CureCard   string
	Anchors    []setAnchor
}

// setAnchor is one anchor of a session, as it was set.
type setAnchor struct {
	Row             anchorRow
	Said            []wording.Said
	Open            string
	NotBefore       string // blank: nothing bonds it
	Rests           string // what that rests on
	FirstUse, Cured string // links to the forms; empty: whoever asks may not
}

// gluingSessions lists the group's gluing sessions, the latest day first.
func (p *Pages) gluingSessions(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	sessions, err := everything(func(at registry.Page) ([]registry.GluingSession, error) {
		return p.service.GluingSessions(ctx, who, nil, at)
	}, func(s registry.GluingSession) uuid.UUID { return s.ID })
	if err != nil {
		return err
	}
	sites, err := p.siteNames(ctx, who)
	if err != nil {
		return err
	}
	slices.SortFunc(sessions, func(a, b registry.GluingSession) int {
		return cmp.Or(cmp.Compare(b.DoneOn.To, a.DoneOn.To), cmp.Compare(b.ID.String(), a.ID.String()))
	})
	page := gluingListPage{Frame: p.framed(c, "Gluing"), May: allowed(c, app.RecordGluing)}
	from, _ := strconv.Atoi(c.QueryParam("from"))
	from = min(max(from, 0), len(sessions))
	to := min(from+sessionsOnPage, len(sessions))
	if to < len(sessions) {
		page.Older = page.Frame.Base + "/gluing?from=" + strconv.Itoa(to)
	}
	for _, s := range sessions[from:to] {
		page.Sessions = append(page.Sessions, siteLine{gluingHref(page.Frame.Base, s.ID), wording.Dated(s.DoneOn), sites[s.SiteID]})
	}
	return ok(c, gluingListView(page))
}

func (p *Pages) siteNames(ctx context.Context, who registry.Actor) (map[uuid.UUID]string, error) {
	sites, err := everything(func(at registry.Page) ([]registry.Site, error) {
		return p.service.Sites(ctx, who, at)
	}, func(s registry.Site) uuid.UUID { return s.ID })
	names := make(map[uuid.UUID]string, len(sites))
	for _, s := range sites {
		names[s.ID] = s.Name
	}
	return names, err
}

// gluingSession shows one session.
func (p *Pages) gluingSession(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	story, site, cures, err := p.gluingStory(c, who)
	if err != nil {
		return err
	}
	page := newGluingPageOf(p.framed(c, wording.Gluing(story.Session)), story, site, cures, zoneOf(who))
	page.Notice = notice(c)
	if allowed(c, app.RecordGluing) && story.ReplacedBy == nil {
		page.Correct = gluingHref(page.Frame.Base, story.Session.ID) + "/correct"
	}
	if allowed(c, app.RecordFirstUse) {
		for i := range page.Anchors {
			page.Anchors[i].FirstUse = page.Anchors[i].Row.Href + "/first-use"
			page.Anchors[i].Cured = page.Anchors[i].Row.Href + "/cure"
		}
	}
	return ok(c, gluingSessionView(page))
}

// gluingStory reads the session in the path, its site and the cure times of its
// anchors.
func (p *Pages) gluingStory(c echo.Context, who registry.Actor) (registry.GluingStory, registry.Site, map[uuid.UUID]registry.CureTime, error) {
	var none registry.Site
	id, err := idOf(c)
	if err != nil {
		return registry.GluingStory{}, none, nil, err
	}
	ctx := c.Request().Context()
	story, err := p.service.GluingSession(ctx, who, id)
	if err != nil {
		return story, none, nil, err
	}
	site, err := p.service.Site(ctx, who, story.Session.SiteID)
	if err != nil {
		return story, none, nil, err
	}
	cures, err := p.service.CureTimes(ctx, who, anchorsOf(story.Anchors))
	return story, site, cures, err
}

func newGluingPageOf(f frame, s registry.GluingStory, site registry.Site, cures map[uuid.UUID]registry.CureTime, zone *time.Location) gluingPageOf {
	names := wording.Names{Persons: s.Persons, Products: s.Products, Batches: s.Batches}
	page := gluingPageOf{
		Frame: f, Heading: joinNamed(", ", wording.Gluing(s.Session), site.Name),
		Trail:    []detail{{site.Name, siteHref(f.Base, site.ID)}, {"Gluing", f.Base + "/gluing"}, {wording.Dated(s.Session.DoneOn), ""}},
		CureCard: gluingHref(f.Base, s.Session.ID) + "/cure-card",
	}
	if s.ReplacedBy != nil {
		page.ReplacedBy = gluingHref(f.Base, *s.ReplacedBy)
	}
	said, open := wording.RecordedSession(&s.Session, names, zone)
	page.Said, page.Open = said, wording.OpenFields(open)
	at := linesByAnchor(s.Anchors)
	for k := range s.Installations {
		i := &s.Installations[k]
		a := setAnchor{Row: lineRow(f.Base, at[i.AnchorID])}
		set := asInSession(i, &s.Session)
		said, open := wording.RecordedInstallation(&set, names, zone)
		a.Said, a.Open = said, wording.OpenFront(open)
		if t, bonded := cures[i.AnchorID]; bonded {
			a.NotBefore, a.Rests = wording.NotBefore(t, zone), wording.CureRests(t)
		}
		page.Anchors = append(page.Anchors, a)
	}
	return page
}

// asInSession is an installation with what it leaves open taken from a session
// that it names, or that corrects the one it names.
func asInSession(i *registry.Installation, s *registry.GluingSession) registry.Installation {
	named := *i
	named.SessionID = &s.ID
	facts := registry.Facts{Sessions: []registry.GluingSession{*s}}
	return facts.AsSet(&named)
}

func linesByAnchor(lines []registry.AnchorLine) map[uuid.UUID]registry.AnchorLine {
	at := make(map[uuid.UUID]registry.AnchorLine, len(lines))
	for _, l := range lines {
		at[l.Anchor.ID] = l
	}
	return at
}

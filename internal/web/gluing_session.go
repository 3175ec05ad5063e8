package web

import (
	"cmp"
	"context"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
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
	Find     string // as typed into the search for a place
	State    string // how many of how many places are shown; blank: all, and there is no search
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
	Sample     string // where it is said what the sample was found to be; as Correct
	CureCard   string
	Anchors    []setAnchor
}

// setAnchor is one anchor of a session, as it was set.
type setAnchor struct {
	Row             anchorRow
	Also            registry.Standing // beside not in use yet: suspect if it is; blank otherwise
	Held            []findingLine     // what the sheet check holds against the setting
	Said            []wording.Said
	Open            string
	NotBefore       string // blank: nothing bonds it
	Rests           string // what that rests on
	Pictures        []pictureLine
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
		page.Sessions = append(page.Sessions, siteLine{gluingHref(page.Frame.Base, s.ID), wording.Dated(s.DoneOn), wording.GluingRow(s, sites[s.SiteID], zoneOf(who))})
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
	told, err := p.gluingStory(c, who)
	if err != nil {
		return err
	}
	story := told.story
	page := newGluingPageOf(p.framed(c, wording.Gluing(story.Session)), told, zoneOf(who))
	page.Notice = notice(c)
	if err := p.addSetPictures(c, who, &page, story); err != nil {
		return err
	}
	if allowed(c, app.RecordGluing) && story.ReplacedBy == nil {
		here := gluingHref(page.Frame.Base, story.Session.ID)
		page.Correct, page.Sample = here+"/correct", here+"/sample"
	}
	if allowed(c, app.RecordFirstUse) {
		for i := range page.Anchors {
			page.Anchors[i].FirstUse = page.Anchors[i].Row.Href + "/first-use"
			page.Anchors[i].Cured = page.Anchors[i].Row.Href + "/cure"
		}
	}
	return ok(c, gluingSessionView(page))
}

// toldSession is a session, its site, and by anchor what is known of the latest
// setting: its cure time and what the sheet check holds against it.
type toldSession struct {
	story registry.GluingStory
	site  registry.Site
	cures map[uuid.UUID]registry.CureTime
	held  map[uuid.UUID][]registry.Finding
}

// gluingStory reads the session in the path and what goes with it.
func (p *Pages) gluingStory(c echo.Context, who registry.Actor) (told toldSession, err error) {
	id, err := idOf(c)
	if err != nil {
		return told, err
	}
	ctx := c.Request().Context()
	if told.story, err = p.service.GluingSession(ctx, who, id); err != nil {
		return told, err
	}
	if told.site, err = p.service.Site(ctx, who, told.story.Session.SiteID); err != nil {
		return told, err
	}
	told.inOrder()
	anchors := anchorsOf(told.story.Anchors)
	if told.cures, err = p.service.CureTimes(ctx, who, anchors); err != nil {
		return told, err
	}
	told.held, err = p.service.SettingFindings(ctx, who, anchors)
	return told, err
}

// inOrder puts what was set in the order of routes and positions by name, "B2"
// before "B10".
func (t *toldSession) inOrder() {
	at := linesByAnchor(t.story.Anchors)
	slices.SortStableFunc(t.story.Installations, func(a, b registry.Installation) int {
		x, y := at[a.AnchorID], at[b.AnchorID]
		return cmp.Or(strings.Compare(x.Route, y.Route), strings.Compare(countable(x.Label), countable(y.Label)), strings.Compare(x.Label, y.Label))
	})
}

// digits matches the numbers in a name.
var digits = regexp.MustCompile(`[0-9]+`)

// countable is a name whose numbers, of up to nine digits, sort by how large
// they are.
func countable(name string) string {
	return digits.ReplaceAllStringFunc(registry.Fold(name), func(n string) string { return fmt.Sprintf("%9s", n) })
}

// against is what the sheet check holds against an installation; nothing if the
// anchor was set anew since.
func (t *toldSession) against(i *registry.Installation) []registry.Finding {
	var held []registry.Finding
	for _, f := range t.held[i.AnchorID] {
		if f.RecordID != nil && *f.RecordID == i.ID {
			held = append(held, f)
		}
	}
	return held
}

func newGluingPageOf(f frame, told toldSession, zone *time.Location) gluingPageOf {
	s, site := told.story, told.site
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
		held := told.against(i)
		a.Also = alsoSuspect(a.Row.Standing, held)
		for _, f := range held {
			a.Held = append(a.Held, newFindingLine(f))
		}
		if t, ok := told.cures[i.AnchorID]; ok && t.InstallationID == i.ID { // set anew since: not this one
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

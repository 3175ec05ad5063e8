package web

import (
	"slices"
	"strconv"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// cardPage is gluing cards to print, each on one sheet of A5.
type cardPage struct {
	Frame  frame
	Back   string // link to where the reader came from
	Where  string // blank: not known yet
	Sheets [][]string
}

// gluingCard answers the card to print, with the positions of a route or a site
// where no anchor stands; without either, an empty one.
func (p *Pages) gluingCard(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	if !allowed(c, app.ListPositions) {
		return notAllowed(c, app.ListPositions)
	}
	f := newForm("route_id", c.QueryParam("route"), "site_id", c.QueryParam("site"))
	at, err := p.ground(c.Request().Context(), who, f)
	if err != nil {
		return err
	}
	page := cardPage{Frame: p.framed(c, "Gluing card"), Back: p.base(c) + "/gluing", Sheets: sheetsOf(nil)}
	if at != nil {
		page.Where, page.Back = at.name(), p.base(c)+"/gluing/new?"+at.query()
		if at.route != nil {
			page.Sheets = sheetsOf(at.free())
		}
	}
	return ok(c, gluingCardView(page))
}

// free are the names of the positions where no anchor stands.
func (at *gluingGround) free() []string {
	var names []string
	for _, h := range at.holes {
		if h.standing == nil {
			names = append(names, at.spot(h))
		}
	}
	return names
}

// sheetsOf puts positions on cards of as many lines as the form has at first;
// at least one card, with blank lines at its end.
func sheetsOf(positions []string) [][]string {
	var sheets [][]string
	for {
		sheet := make([]string, linesAtFirst)
		n := copy(sheet, positions)
		positions = positions[n:]
		sheets = append(sheets, sheet)
		if len(positions) == 0 {
			return sheets
		}
	}
}

// boxWidths are the sixths of the card's width that the fields of its head take
// where that is not two.
var boxWidths = map[string]int{
	"adhesive_id": 3, "batch_id": 3, "words": 4,
}

// boxClass says how wide a box of the head is.
func boxClass(name string) string {
	if w, ok := boxWidths[name]; ok {
		return "box box-" + strconv.Itoa(w)
	}
	return "box box-2"
}

// cureCardPage is what hangs at the pitch head or the route's foot.
type cureCardPage struct {
	Frame   frame
	Back    string
	Where   string
	Heading string // when it was glued
	Until   string // the latest of all anchors
	Doubt   string // which anchors are in doubt; blank: none
	Anchors []cureLine
}

// faceText is how many characters about anchors go on the face of a cure card,
// below the big print; more go on its back.
const faceText = 420

// onFace says whether what is said of the anchors goes on the face.
func (p cureCardPage) onFace() bool {
	n := 0
	for _, l := range p.Anchors {
		n += len(l.Spot) + len(l.NotBefore) + len(l.Rests) + len(l.Doubt)
	}
	return n+2*len(p.Doubt) <= faceText
}

// cureLine is the cure of one anchor, or of several of which the same is said.
type cureLine struct{ Spot, NotBefore, Rests, Doubt string }

// cureCard answers the card that says until when nobody must load the anchors
// of a session.
func (p *Pages) cureCard(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	told, err := p.gluingStory(c, who)
	if err != nil {
		return err
	}
	page := newCureCard(p.framed(c, "Cure card"), told, zoneOf(who))
	return ok(c, cureCardView(page))
}

func newCureCard(f frame, told toldSession, zone *time.Location) cureCardPage {
	story := told.story
	page := cureCardPage{
		Frame: f, Back: gluingHref(f.Base, story.Session.ID), Where: told.site.Name, Heading: wording.Gluing(story.Session),
	}
	at := linesByAnchor(story.Anchors)
	latest, known := registry.CureTime{}, false
	var doubted []string
	for k := range story.Installations {
		i := &story.Installations[k]
		t, ok := told.cures[i.AnchorID]
		if !ok || t.InstallationID != i.ID { // nothing bonds it, or it was set anew since
			continue
		}
		latest, known = later(latest, t, known), true
		l := at[i.AnchorID]
		line := cureLine{joinNamed(", ", l.Route, l.Label), wording.NotBefore(t, zone), wording.CureRests(t), wording.InDoubt(told.against(i))}
		if line.Doubt != "" {
			doubted = append(doubted, line.Spot)
		}
		page.Anchors = append(page.Anchors, line)
	}
	page.Until, page.Doubt = wording.NotBefore(latest, zone), wording.CureCardInDoubt(doubted)
	return page.alike()
}

// later is the less favourable of two cure times: the one without an instant,
// otherwise the one that ends later.
func later(a, b registry.CureTime, known bool) registry.CureTime {
	switch {
	case !known || b.NotBefore.IsZero():
		return b
	case a.NotBefore.IsZero() || a.NotBefore.After(b.NotBefore):
		return a
	}
	return b
}

// alike puts the anchors of which the same is said into one line, and leaves out
// of it what the big print says already.
func (p cureCardPage) alike() cureCardPage {
	var lines []cureLine
	for _, l := range p.Anchors {
		if l.NotBefore == p.Until {
			l.NotBefore = ""
		}
		same := slices.IndexFunc(lines, func(o cureLine) bool { return o.NotBefore == l.NotBefore && o.Rests == l.Rests && o.Doubt == l.Doubt })
		if same < 0 {
			lines = append(lines, l)
			continue
		}
		lines[same].Spot += "; " + l.Spot
	}
	p.Anchors = lines
	return p
}

// anchorsOf are the ids of the anchors of a session.
func anchorsOf(lines []registry.AnchorLine) []uuid.UUID {
	ids := make([]uuid.UUID, len(lines))
	for i, l := range lines {
		ids[i] = l.Anchor.ID
	}
	return ids
}

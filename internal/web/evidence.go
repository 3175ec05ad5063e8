package web

import (
	"cmp"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// evidencePage is what the register knew and showed of an anchor on a day, and
// what was done after it. It is made to be printed.
type evidencePage struct {
	Frame   frame
	Trail   []detail
	Form    asOfForm
	Path    string // its own, for the form
	Heading string
	Where   string
	Known   bool

	Standing registry.Standing // blank: nothing was shown
	Shown    string
	Since    string

	InHole   []detail
	Fittings []fittingLine
	Place    []detail
	Records  []evidenceItem
	Rows     []evidenceItem // everything but records
	After    []evidenceItem
	Seal     string // blank: none
	Footing  []detail
}

// evidenceItem is one line of evidence.
type evidenceItem struct {
	At   string
	By   string // who recorded it, and in the course of what; blank: it was shown
	Text string
	Gone bool
}

func (p *Pages) evidence(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	id, err := idOf(c)
	if err != nil {
		return err
	}
	e, form, err := p.evidenceOn(c, who, id)
	if err != nil {
		return err
	}
	page := newEvidencePage(p.framed(c, "Evidence"), e, zoneOf(who))
	page.Form, page.Path = form, c.Request().URL.Path
	return render(c, form.status(), evidenceView(page))
}

// evidenceOn makes evidence for the day asked for, or today's with what is
// wrong with that day.
func (p *Pages) evidenceOn(c echo.Context, who registry.Actor, id uuid.UUID) (report.Evidence, asOfForm, error) {
	ctx, form := c.Request().Context(), asOfForm{Text: strings.TrimSpace(c.QueryParam("as_known_on"))}
	today := p.service.AsOf(who)
	day := cmp.Or(form.read(), today)
	e, err := p.service.Evidence(ctx, who, id, day)
	if fault.KindOf(err) == fault.Invalid && day != today {
		form.reject(err)
		e, err = p.service.Evidence(ctx, who, id, today)
	}
	return e, form, err
}

func newEvidencePage(f frame, e report.Evidence, zone *time.Location) evidencePage {
	then, now := e.Log.Then, e.Log.Now
	page := evidencePage{
		Frame: f, Heading: wording.EvidenceOn(e.KnownOn, e.TimeZone), Known: e.Log.Known,
		Trail: append(anchorTrail(f.Base, now), detail{now.Facts.Position.Label, anchorHref(f.Base, e.AnchorID)}, detail{"Evidence", ""}),
		After: evidenceItems(wording.EvidenceAfter(e.Log), zone),
	}
	var footing details
	footing.add("Made", instantWords(e.MadeAt, zone))
	footing.add("Anchor", e.AnchorID.String())
	page.Footing = footing
	if e.Seal != nil {
		page.Seal = wording.NewestSeal(*e.Seal)
	}
	if !e.Log.Known {
		return page
	}
	page.Where = joinNamed(", ", then.Facts.Site.Name, then.Sector, strings.Join(namesOfRoutes(then.Routes), " and "), then.Facts.Position.Label)
	page.InHole, page.Fittings, page.Place = holeDetails(then), fittingLines(then.Facts.Fittings), placeDetails(then)
	if e.Shown != nil {
		page.Standing, page.Shown = e.Shown.Standing, wording.EvidenceShown(*e.Shown, e.Overdue)
		page.Since = instantWords(e.Shown.At, zone)
	}
	var records, rows []wording.EvidenceLine
	for _, l := range wording.EvidenceKnown(e.Log) {
		if l.Record {
			records = append(records, l)
		} else {
			rows = append(rows, l)
		}
	}
	page.Records, page.Rows = evidenceItems(records, zone), evidenceItems(rows, zone)
	return page
}

func namesOfRoutes(routes []registry.Route) []string {
	names := make([]string, len(routes))
	for i := range routes {
		names[i] = routes[i].Name
	}
	return names
}

func evidenceItems(lines []wording.EvidenceLine, zone *time.Location) []evidenceItem {
	items := make([]evidenceItem, len(lines))
	for i, l := range lines {
		items[i] = evidenceItem{At: instantWords(l.At, zone), Text: l.Words, Gone: l.Gone}
		if l.Line != nil {
			items[i].By = wording.EvidenceBy(l.Who, l.Line.What)
		}
	}
	return items
}

// instantWords says an instant by the clocks of a zone: "3 May 2026, 10:30".
func instantWords(at time.Time, zone *time.Location) string {
	return calendar.On(at, zone).Words() + at.In(zone).Format(", 15:04")
}

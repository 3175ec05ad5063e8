package web

import (
	"crypto/sha256"
	"encoding/hex"
	"net/http"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// settlePage is the form by which a named person answers a finding.
type settlePage struct {
	*form
	Frame   frame
	Trail   []detail
	Action  string
	Finding findingLine
	Gone    bool // the finding does not stand any more
	Persons []option
}

// findingKey names a finding with its values, so that an answer to other values
// than those read answers nothing.
func findingKey(f registry.Finding) string {
	h := sha256.New()
	h.Write([]byte(f.Rule))
	for _, v := range f.Values {
		h.Write([]byte("\x1f" + v.Name + "\x1e" + v.Text))
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}

func settleHref(base string, anchor uuid.UUID, f registry.Finding) string {
	return anchorHref(base, anchor) + "/settle?finding=" + findingKey(f)
}

func (p *Pages) settleForm(c echo.Context) error {
	who, id, err := p.recording(c, app.RecordSettlement)
	if err != nil {
		return err
	}
	record, err := newID()
	if err != nil {
		return err
	}
	person, err := newID()
	if err != nil {
		return err
	}
	f := newForm("id", record, "new_person_id", person, "finding", c.QueryParam("finding"),
		"done_on", p.service.AsOf(who).String(), "person_id", p.sessions.Kept(c.Request().Context(), lastPerson))
	return p.showSettle(c, who, id, f)
}

func (p *Pages) settle(c echo.Context) error {
	who, id, err := p.recording(c, app.RecordSettlement)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	err = p.recordSettlement(c, who, f, id)
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return p.showSettle(c, who, id, f)
	}
	return c.Redirect(http.StatusSeeOther, anchorHref(p.base(c), id)+"?done=settlement")
}

// recordSettlement checks the whole form before it adds anything, a person
// included.
func (p *Pages) recordSettlement(c echo.Context, who registry.Actor, f *form, anchor uuid.UUID) error {
	ctx := c.Request().Context()
	story, err := p.service.AnchorStory(ctx, who, anchor)
	if err != nil {
		return err
	}
	finding, stands := standingFinding(story, f.text("finding"))
	if !stands {
		f.checks.Require(false, "", fault.NoSuchReference)
		return f.checks.Err()
	}
	persons, err := p.persons(c, who)
	if err != nil {
		return err
	}
	person, add := chosenPerson(f, persons)
	s := registry.Settlement{
		Record: registry.Record{ID: f.id("id"), AnchorID: anchor, DoneOn: calendar.Exactly(f.date("done_on")), PersonID: &person.ID},
		Rule:   finding.Rule, Values: finding.Values, Reason: f.text("reason"), Until: f.date("until"),
	}
	f.checks.Nest("", s.Validate(p.service.AsOf(who)))
	if err := f.checks.Err(); err != nil {
		return err
	}
	if err := p.keepPerson(ctx, who, person, add); err != nil {
		return err
	}
	_, _, err = p.service.RecordSettlement(ctx, who, s)
	return err
}

// standingFinding is the finding with that key which nothing settles yet.
func standingFinding(s registry.AnchorStory, key string) (registry.Finding, bool) {
	for _, f := range s.Assessment.Findings {
		if f.SettledBy == nil && findingKey(f) == key {
			return f, true
		}
	}
	return registry.Finding{}, false
}

func (p *Pages) showSettle(c echo.Context, who registry.Actor, anchor uuid.UUID, f *form) error {
	story, err := p.service.AnchorStory(c.Request().Context(), who, anchor)
	if err != nil {
		return err
	}
	persons, err := p.persons(c, who)
	if err != nil {
		return err
	}
	page := settlePage{
		form: f, Frame: p.framed(c, "Settle a finding"), Action: anchorHref(p.base(c), anchor) + "/settle", Persons: personOptions(persons),
	}
	page.Trail = append(anchorTrail(page.Frame.Base, story), detail{story.Facts.Position.Label, anchorHref(page.Frame.Base, anchor)}, detail{"Settle a finding", ""})
	finding, stands := standingFinding(story, f.text("finding"))
	if page.Gone = !stands; stands {
		page.Finding = newFindingLine(finding)
	}
	return render(c, f.status(), settleView(page))
}

// newFindingLine says one thing held against an anchor.
func newFindingLine(f registry.Finding) findingLine {
	return findingLine{Severity: f.Severity, Text: wording.Finding(f), Settles: wording.Settles(f), Source: f.Source}
}

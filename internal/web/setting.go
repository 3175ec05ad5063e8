package web

import (
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// settingPart is how an anchor was set, on its page.
type settingPart struct {
	Said     []wording.Said // none: nothing is recorded
	Open     []string       // the fields left open; none also where a list said it all
	Session  string         // link to its gluing session; empty: none
	Cure     []detail       // until first use is allowed
	FirstUse string         // link to the form; empty: whoever asks may not
	Cured    string
	Correct  string // link to the form that corrects it; empty: whoever asks may not
}

// newSettingPart says how an anchor was set, with what its session states where
// the installation leaves it open.
func newSettingPart(base string, s registry.AnchorStory, zone *time.Location) settingPart {
	facts := s.Facts.Current()
	last := facts.Setting()
	if last == nil {
		return settingPart{}
	}
	i := facts.AsSet(last)
	said, open := wording.RecordedInstallation(&i, namesOf(s), zone)
	part := settingPart{Said: said}
	if i.Origin == registry.Recorded {
		part.Open = open
	}
	if session := facts.SessionOf(&i); session != nil {
		part.Session = gluingHref(base, session.ID)
	}
	return part
}

// offerRelease adds what is known of the cure of a bonded anchor that was set
// here, and the ways on from there.
func (p *Pages) offerRelease(c echo.Context, who registry.Actor, page *anchorPage, s registry.AnchorStory) error {
	facts := s.Facts.Current()
	i, bonded := facts.Setting(), facts.Bonded()
	if i == nil || i.Origin != registry.Recorded || bonded != nil && !*bonded || facts.Anchor.Removed {
		return nil
	}
	if allowed(c, app.RecordFirstUse) {
		href := anchorHref(page.Frame.Base, facts.Anchor.ID)
		page.Setting.FirstUse, page.Setting.Cured = href+"/first-use", href+"/cure"
	}
	if len(facts.FirstUses) > 0 {
		return nil
	}
	times, err := p.service.CureTimes(c.Request().Context(), who, []uuid.UUID{facts.Anchor.ID})
	if t, ok := times[facts.Anchor.ID]; ok {
		page.Setting.Cure = cureDetails(t, who)
	}
	return err
}

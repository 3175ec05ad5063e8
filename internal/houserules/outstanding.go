package houserules

import (
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// EventStands says whether an event still asks for an inspection of the anchor
// on a day: it was not taken back by then, the anchor was not surely set after
// it, and no inspection that resets the event's clock was done since.
func (r *Rules) EventStands(f *registry.Facts, e *registry.Event, asOf calendar.Date) bool {
	if ended(e.EndedOn, asOf) || f.Anchor.SetOn.From > e.HappenedOn {
		return false
	}
	return !r.inspectedAfter(f, ruleEvent, e.HappenedOn)
}

// NoticeStands says whether a notice still asks for an inspection of the anchor
// on a day: it names the anchor or its criterion hits it, it was not ended by
// then, and no inspection that resets an event's clock was done since it was
// issued.
func (r *Rules) NoticeStands(f *registry.Facts, n *registry.Notice, asOf calendar.Date) bool {
	if ended(n.EndedOn, asOf) {
		return false
	}
	rule, about := noticeRules[f.HitBy(n)]
	return about && !r.inspectedAfter(f, rule, n.IssuedOn)
}

// noticeRules are the rules of suspicion that hold of each hit.
var noticeRules = map[registry.NoticeHit]string{
	registry.HitNamed: ruleNotice, registry.HitSure: ruleHitSure, registry.HitPossible: ruleHitPossible,
}

func ended(on, asOf calendar.Date) bool { return !on.IsZero() && on <= asOf }

package app

import (
	"slices"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/sheetcheck"
)

// admitFirstUse wants an anchor that may be bonded and whose setting is recorded
// here to have cured by what is on record when its first use is allowed, by
// somebody else than who set it, with the kept sample stated, as the house rules
// have it. Without a cure time, by the sheet of its day or its label as read,
// there is no first use. A list's setting asks for none of that, nor does a
// first use that is wholly of a day before the latest setting.
//
// A sample that was not kept, or did not lie at the rock's temperature, is not
// taken as hard: see checkSample.
//
// Where it is not recorded who set it, nobody is refused for that: the note on
// what is missing of the setting says so.
func admitFirstUse(at *scene, r *registry.FirstUse) error {
	var c fault.Checks
	c.Nest("", admitDated(at.facts, &r.Record))
	onDay(&c, "at", r.At, r.DoneOn, at.zone)
	c.Require(!r.At.To.After(at.now), "at", fault.DateAhead, "today", at.asOf.String())
	f := at.facts.Current()
	cure, asked := sheetcheck.Cure(&f, &at.rules)
	if !asked || !setHere(&f, &cure, r) {
		return c.Err()
	}
	checkCured(&c, at, &cure, r)
	checkSample(&c, &f, &cure, r)
	stated := r.Sample != "" || at.rules.KeptSample.Value != houserules.SampleStated
	c.Require(stated, "sample", fault.Required)
	other := at.rules.FirstUseBy.Value != houserules.AnotherPerson || r.PersonID == nil ||
		!slices.Contains(sheetcheck.SetBy(&f), *r.PersonID)
	c.Require(other, "person_id", fault.SamePerson)
	return c.Err()
}

// setHere says whether the setting that a cure is of was recorded here, not
// surely after the first use.
func setHere(f *registry.Facts, cure *registry.CureTime, r *registry.FirstUse) bool {
	for k := range f.Installations {
		if i := &f.Installations[k]; i.ID == cure.InstallationID {
			return i.Origin == registry.Recorded && r.DoneOn.To >= i.DoneOn.From
		}
	}
	return false
}

// checkSample refuses any word on the sample where the session says that it was
// found soft, and that it is hard where none was kept, or it did not lie at the
// rock's temperature: then it says nothing of what is in the hole.
func checkSample(c *fault.Checks, f *registry.Facts, cure *registry.CureTime, r *registry.FirstUse) {
	for k := range f.Installations {
		i := &f.Installations[k]
		s := f.SessionOf(i)
		if i.ID != cure.InstallationID || s == nil {
			continue
		}
		if s.SampleFound == registry.SampleSoft {
			c.Require(false, "sample", fault.Mismatch, "with", "sample_found")
			return
		}
		if r.Sample != registry.SampleHard {
			return
		}
		kept, atRock := s.SampleKept == nil || *s.SampleKept, s.SampleAtRock == nil || *s.SampleAtRock
		c.Require(kept, "sample", fault.Mismatch, "with", "sample_kept")
		c.Require(!kept || atRock, "sample", fault.Mismatch, "with", "sample_at_rock")
	}
}

// checkCured wants first use to be allowed no sooner than the cure is over. Of
// one without a time the day counts from its beginning in the group's zone; where
// the cure ends within that day, the time is asked for.
func checkCured(c *fault.Checks, at *scene, cure *registry.CureTime, r *registry.FirstUse) {
	if cure.Basis == registry.CureNone || cure.NotBefore.IsZero() {
		c.Require(false, "at", fault.CureNotKnown, "missing", cure.Missing)
		return
	}
	until := cure.NotBefore.Format(time.RFC3339)
	if r.At.Known() {
		c.Require(!r.At.From.Before(cure.NotBefore), "at", fault.CureNotOver, "not_before", until)
		return
	}
	switch {
	case !beginningOf(r.DoneOn.From, at.zone).Before(cure.NotBefore):
	case cure.NotBefore.Before(beginningOf(r.DoneOn.To.AddDays(1), at.zone)):
		c.Require(false, "at", fault.Required, "not_before", until)
	default:
		c.Require(false, "at", fault.CureNotOver, "not_before", until)
	}
}

// beginningOf returns the instant at which a day begins in a zone.
func beginningOf(d calendar.Date, zone *time.Location) time.Time {
	y, m, day := d.Civil()
	return time.Date(y, m, day, 0, 0, 0, 0, zone)
}

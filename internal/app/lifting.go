package app

import (
	"slices"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// lifting holds a correction of how anchors were set against what stood against
// them before it.
type lifting struct {
	at *scene
	op Operation
	// named says that the correction names a person; words are its own, and were
	// those of the record that it replaces.
	named      bool
	field      string // of the person
	words, was string
	before     map[uuid.UUID]registry.Assessment
}

// hold remembers how an anchor stands before the correction.
func (l *lifting) hold(f *registry.Facts) {
	if l.before == nil {
		l.before = make(map[uuid.UUID]registry.Assessment)
	}
	l.before[f.Anchor.ID] = assess.Anchor(f.Current(), l.at.rules, l.at.asOf)
}

// admit wants whoever makes a correction with which an anchor stands better, or
// is less in doubt, to be a steward who names a person and says why in words of
// its own. Notes weigh nothing. An anchor that was not held passes. Errors are of
// kind fault.Forbidden or fault.Invalid.
func (l *lifting) admit(after *registry.Assessment) error {
	before, ok := l.before[after.AnchorID]
	if !ok || !eased(&before, after) {
		return nil
	}
	if least := registry.RoleSteward; l.at.who.Role.Rank() < least.Rank() {
		return fault.New(fault.Forbidden, "a correction that lifts what stands against anchor %v takes a %s", after.AnchorID, least).
			With("operation", string(l.op), "role", string(l.at.who.Role), "least", string(least), "lifts", "setting")
	}
	why := strings.TrimSpace(l.words)
	var c fault.Checks
	c.Require(l.named, l.field, fault.Required, "lifts", "setting")
	c.Require(why != "" && why != strings.TrimSpace(l.was), "words", fault.Required, "lifts", "setting")
	return c.Err()
}

// eased says whether an anchor stands better than before, or something that
// weighs more than a note has gone or weighs less. A standing outside the order
// is neither better nor worse.
func eased(before, after *registry.Assessment) bool {
	worst := registry.StandingOutOfUse.Rank()
	if is, was := after.Standing.Rank(), before.Standing.Rank(); is < was && was <= worst {
		return true
	}
	return slices.ContainsFunc(before.Findings, func(f registry.Finding) bool {
		least := f.Weighs().Rank()
		left := max(heaviest(after.Findings, f.Rule), heaviest(after.Findings, surer[f.Rule]))
		return least >= registry.Watch.Rank() && left < least
	})
}

// surer are the rules that say more surely, or of more of it, what others say:
// with one of these in its place a finding has not gone.
var surer = map[string]string{
	"notice-hit-possible":      "notice-hit-sure",
	"adhesive-perhaps-expired": "adhesive-expired",
	"cleaning-short-of-sheet":  "hole-not-cleaned",
	"loaded-without-cure-time": "loaded-before-cure",
}

// heaviest is the rank of the worst finding of a rule that counts; 0: none.
func heaviest(list []registry.Finding, rule string) int {
	worst := 0
	for k := range list {
		if list[k].Rule == rule {
			worst = max(worst, list[k].Weighs().Rank())
		}
	}
	return worst
}

// lifting remembers how an anchor stands if the record replaces another.
func (k recordKind[R]) lifting(at *scene, r *R) lifting {
	rec := k.record(r)
	l := lifting{at: at, op: k.op, named: rec.PersonID != nil, field: "person_id", words: rec.Words}
	list := *k.facts(at.facts)
	i := slices.IndexFunc(list, func(o R) bool { return rec.Replaces != nil && k.record(&o).ID == *rec.Replaces })
	if i >= 0 {
		l.was = k.record(&list[i]).Words
		l.hold(at.facts)
	}
	return l
}

// lifting remembers how the anchors stand of which the session, or one of its
// installations, corrects how they were set; all are in the order of t.standing.
func (t *gluing) lifting(all []registry.Facts, rules houserules.Rules) lifting {
	s := &t.g.Session
	at := t.scene(nil)
	at.rules = rules
	l := lifting{at: at, op: RecordGluing, field: "checked_by_id", words: s.Words, was: t.was.Words}
	l.named = s.SetByID != nil || s.SupervisedByID != nil || s.CheckedByID != nil ||
		s.SampleFoundByID != nil && s.SampleFound != t.was.SampleFound // it names who looked
	for k := range all {
		anchor := all[k].Anchor.ID
		corrects := func(i registry.Installation) bool { return i.AnchorID == anchor && i.Replaces != nil }
		if s.Replaces != nil || slices.ContainsFunc(t.g.Installations, corrects) {
			l.hold(&all[k])
		}
	}
	return l
}

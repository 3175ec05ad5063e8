package app

import (
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/sheetcheck"
)

// twoHands holds a change of how anchors were set, or of what counts of that,
// against the rule that somebody else allows first use than who set the anchor:
// no order of corrections and retractions gets round what admitFirstUse refuses.
// What was so before the change, by older rules perhaps, does not stand in its
// way.
type twoHands struct {
	before map[uuid.UUID][]uuid.UUID // by anchor: the first uses
	// field names what makes it so, given who is meant and of which anchor. Nil:
	// nothing is held against this change.
	field func(person, anchor uuid.UUID) string
}

// hold remembers how it is with an anchor before the change.
func (t *twoHands) hold(f *registry.Facts, rules *houserules.Rules) {
	if t.before == nil {
		t.before = make(map[uuid.UUID][]uuid.UUID)
	}
	for _, u := range allowedBySetter(f, rules) {
		t.before[f.Anchor.ID] = append(t.before[f.Anchor.ID], u.ID)
	}
}

// admit is fault.Invalid, code SamePerson, where by the facts after the change a
// person who allowed first use is one who set the anchor.
func (t *twoHands) admit(f *registry.Facts, rules *houserules.Rules) error {
	var c fault.Checks
	if t.field == nil {
		return c.Err()
	}
	anchor := f.Anchor.ID
	for _, u := range allowedBySetter(f, rules) {
		if !slices.Contains(t.before[anchor], u.ID) {
			c.Require(false, t.field(*u.PersonID, anchor), fault.SamePerson, "first_use", u.ID.String(), "anchor", anchor.String())
		}
	}
	return c.Err()
}

// allowedBySetter lists the first uses that count and that admitFirstUse would
// refuse for who allowed them.
func allowedBySetter(facts *registry.Facts, rules *houserules.Rules) []registry.FirstUse {
	if rules.FirstUseBy.Value != houserules.AnotherPerson {
		return nil
	}
	f := facts.Current()
	cure, asked := sheetcheck.Cure(&f, rules)
	if !asked {
		return nil
	}
	by := sheetcheck.SetBy(&f)
	var out []registry.FirstUse
	for k := range f.FirstUses {
		u := &f.FirstUses[k]
		if u.PersonID != nil && slices.Contains(by, *u.PersonID) && setHere(&f, &cure, u) {
			out = append(out, *u)
		}
	}
	return out
}

// hands names the field of an installation or a retraction that makes one person
// of two; of other records it holds nothing.
func (k recordKind[R]) hands(r *R) (t twoHands) {
	switch r := any(r).(type) {
	case *registry.Installation:
		t.field = func(person, _ uuid.UUID) string {
			if r.PersonID != nil && *r.PersonID == person || r.SessionID == nil {
				return "person_id"
			}
			return "session_id"
		}
	case *registry.Retraction:
		t.field = func(uuid.UUID, uuid.UUID) string { return "retracts_id" }
	}
	return t
}

// hands names the field of the session, or of the installation, that makes one
// person of two.
func (t *gluing) hands() twoHands {
	return twoHands{field: func(person, anchor uuid.UUID) string {
		k := slices.IndexFunc(t.g.Installations, func(i registry.Installation) bool {
			return i.AnchorID == anchor && i.PersonID != nil && *i.PersonID == person
		})
		if k >= 0 {
			return nth("installations", k) + ".person_id"
		}
		return "set_by_id"
	}}
}

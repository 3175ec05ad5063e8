package app_test

import (
	"errors"
	"testing"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

func TestChangeAnchor(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	read := h.anchor(t, "B1")
	shank := 10 * quantity.Millimetre
	changed, err := h.ChangeAnchor(t.Context(), h.who, read.ID, read.Version, func(a *registry.Anchor) error {
		a.Shank, a.Metal, a.Notes = &shank, metal.Set{"1.4401", "1.4404"}, "measured"
		a.Removed, a.Origin = true, registry.Recorded // not for an edit to change
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	stored := h.anchor(t, "B1")
	if stored.Version != read.Version+1 || changed.Version != stored.Version {
		t.Errorf("version %d answered, %d stored; want %d", changed.Version, stored.Version, read.Version+1)
	}
	if stored.Shank == nil || *stored.Shank != shank || stored.Notes != "measured" || len(stored.Metal) != 2 {
		t.Errorf("stored %+v without the change", stored)
	}
	if stored.Removed || stored.Origin != registry.Imported {
		t.Errorf("an edit changed removed to %v or origin to %q", stored.Removed, stored.Origin)
	}
	same, err := h.ChangeAnchor(t.Context(), h.who, read.ID, stored.Version, func(*registry.Anchor) error { return nil })
	if err != nil || same.Version != stored.Version {
		t.Errorf("nothing changed: version %d, %v; want %d", same.Version, err, stored.Version)
	}
}

func TestChangeAnchorRejects(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	read := h.anchor(t, "B1")
	notes := func(a *registry.Anchor) error { a.Notes = "x"; return nil }
	mine := errors.New("the editor's own")
	for _, c := range []struct {
		name    string
		who     registry.Actor
		version int
		edit    func(*registry.Anchor) error
		want    func(error) bool
	}{
		{"another version", h.who, read.Version + 1, notes, kind(fault.Stale)},
		{"a recorder", h.as(registry.RoleRecorder), read.Version, notes, kind(fault.Forbidden)},
		{"the editor's error", h.who, read.Version, func(*registry.Anchor) error { return mine }, func(err error) bool { return errors.Is(err, mine) }},
		{"no such form", h.who, read.Version, func(a *registry.Anchor) error { a.Form = "nail"; return nil }, kind(fault.Invalid)},
		{"set tomorrow", h.who, read.Version, func(a *registry.Anchor) error { a.SetOn = calendar.Exactly(firstDay + 1); return nil }, kind(fault.Invalid)},
		{"set, one end only", h.who, read.Version, func(a *registry.Anchor) error { a.SetOn = calendar.Span{From: firstDay}; return nil }, kind(fault.Invalid)},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			if _, err := h.ChangeAnchor(t.Context(), c.who, read.ID, c.version, c.edit); !c.want(err) {
				t.Errorf("change = %v", err)
			}
		})
	}
}

func kind(k fault.Kind) func(error) bool {
	return func(err error) bool { return err != nil && fault.KindOf(err) == k }
}

func TestAnchorStoryIsFresh(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	id := h.anchor(t, "B1").ID
	h.turnTo(firstDay.AddYears(2)) // nobody refreshed
	story, err := h.AnchorStory(t.Context(), h.as(registry.RoleReader), id)
	if err != nil {
		t.Fatal(err)
	}
	a := story.Assessment
	if a.AsOf != firstDay.AddYears(2) || a.DueState != registry.Overdue {
		t.Errorf("assessment as of %v is %q, want overdue as of today", a.AsOf, a.DueState)
	}
	if got := h.anchors(t, registry.AnchorFilter{})[0]; got.Anchor.ID != id || got.DueState != registry.Overdue {
		t.Errorf("%s is listed as %q, want what was shown stored", got.Label, got.DueState)
	}
}

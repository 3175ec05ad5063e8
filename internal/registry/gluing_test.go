package registry_test

import (
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

func newID() uuid.UUID { return uuid.Must(uuid.NewV7()) }

// at is an instant so many hours into an invented day.
func at(hours int) time.Time { return time.Date(2026, time.May, 3, hours, 0, 0, 0, time.UTC) }

func TestSessionOf(t *testing.T) {
	t.Parallel()
	first, second, third, fork := newID(), newID(), newID(), newID()
	session := func(id uuid.UUID, hour int, replaces *uuid.UUID) registry.GluingSession {
		return registry.GluingSession{ID: id, RecordedAt: at(hour), Replaces: replaces}
	}
	names := registry.Installation{SessionID: &first}
	for name, c := range map[string]struct {
		sessions []registry.GluingSession
		set      registry.Installation
		want     *uuid.UUID
	}{
		"none named":                {[]registry.GluingSession{session(first, 1, nil)}, registry.Installation{}, nil},
		"not among the facts":       {nil, names, nil},
		"the one named":             {[]registry.GluingSession{session(first, 1, nil), session(second, 2, nil)}, names, &first},
		"its correction":            {[]registry.GluingSession{session(second, 2, &first), session(first, 1, nil)}, names, &second},
		"a correction of that":      {[]registry.GluingSession{session(third, 3, &second), session(first, 1, nil), session(second, 2, &first)}, names, &third},
		"the later of two":          {[]registry.GluingSession{session(first, 1, nil), session(fork, 4, &first), session(second, 2, &first)}, names, &fork},
		"the correction named":      {[]registry.GluingSession{session(first, 1, nil), session(second, 2, &first)}, registry.Installation{SessionID: &second}, &second},
		"a circle ends where it is": {[]registry.GluingSession{session(first, 1, &second), session(second, 2, &first)}, names, &second},
		"a session of itself":       {[]registry.GluingSession{session(first, 1, &first)}, names, &first},
	} {
		f := registry.Facts{Sessions: c.sessions}
		got := f.SessionOf(&c.set)
		if (got == nil) != (c.want == nil) || got != nil && got.ID != *c.want {
			t.Errorf("%s: SessionOf = %+v, want %v", name, got, c.want)
		}
	}
}

// However the facts are ordered, the same session is read.
func TestSessionOfIsOfNoOrder(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		ids := []uuid.UUID{newID()}
		list := []registry.GluingSession{{ID: ids[0]}}
		for range rapid.IntRange(0, 6).Draw(t, "corrections") {
			old := ids[rapid.IntRange(0, len(ids)-1).Draw(t, "of")]
			s := registry.GluingSession{ID: newID(), Replaces: &old, RecordedAt: at(rapid.IntRange(0, 3).Draw(t, "hour"))}
			ids, list = append(ids, s.ID), append(list, s)
		}
		i := registry.Installation{SessionID: &ids[0]}
		f := registry.Facts{Sessions: list}
		want := f.SessionOf(&i).ID
		f.Sessions = rapid.Permutation(list).Draw(t, "order")
		if got := f.SessionOf(&i).ID; got != want {
			t.Fatalf("SessionOf = %v, in another order %v", want, got)
		}
	})
}

func TestAsSet(t *testing.T) {
	t.Parallel()
	session, resin, other, batch, second, gluer, helper := newID(), newID(), newID(), newID(), newID(), newID(), newID()
	day, later := dayOf(t, "2026-05-03"), dayOf(t, "2026-05-04")
	f := registry.Facts{Sessions: []registry.GluingSession{{
		ID: session, AdhesiveID: &resin, BatchID: &batch, SetByID: &gluer, DoneOn: calendar.Exactly(day),
		OpenedAt: calendar.Moment{From: at(9), To: at(9)},
	}}}
	for name, c := range map[string]struct {
		i               registry.Installation
		adhesive, batch *uuid.UUID
	}{
		"nothing of its own":            {registry.Installation{}, &resin, &batch},
		"a bonded form":                 {registry.Installation{Form: registry.Staple}, &resin, &batch},
		"a form that no resin holds":    {registry.Installation{Form: registry.WedgeAnchor}, nil, nil},
		"that form, glued all the same": {registry.Installation{Form: registry.WedgeAnchor, AdhesiveID: &other}, &other, nil},
		"the same adhesive":             {registry.Installation{AdhesiveID: &resin}, &resin, &batch},
		"another adhesive":              {registry.Installation{AdhesiveID: &other}, &other, nil},
		"the same batch":                {registry.Installation{BatchID: &batch}, &resin, &batch},
		"another batch":                 {registry.Installation{BatchID: &second}, nil, &second},
	} {
		c.i.SessionID = &session
		before := c.i
		got := f.AsSet(&c.i)
		if !sameID(got.AdhesiveID, c.adhesive) || !sameID(got.BatchID, c.batch) {
			t.Errorf("%s: adhesive %v, batch %v, want %v, %v", name, got.AdhesiveID, got.BatchID, c.adhesive, c.batch)
		}
		if !sameID(got.PersonID, &gluer) || got.DoneOn != calendar.Exactly(day) || got.SetAt.Known() {
			t.Errorf("%s: by %v on %v at %v, want person and day of the session, and no time", name, got.PersonID, got.DoneOn, got.SetAt)
		}
		if c.i.PersonID != before.PersonID || c.i.BatchID != before.BatchID {
			t.Errorf("%s: AsSet changed the installation it was given", name)
		}
	}
	own := registry.Installation{SessionID: &session}
	own.PersonID, own.DoneOn = &helper, calendar.Exactly(later)
	if got := f.AsSet(&own); !sameID(got.PersonID, &helper) || got.DoneOn != calendar.Exactly(later) {
		t.Errorf("AsSet = %+v, want the installation's own person and day", got)
	}
}

func sameID(a, b *uuid.UUID) bool { return (a == nil) == (b == nil) && (a == nil || *a == *b) }

// A glued anchor whose form is later put down as one that no resin holds stays
// glued if its installation recorded the form, an adhesive, or a session's.
func TestBondedByItsInstallation(t *testing.T) {
	t.Parallel()
	session, resin := newID(), newID()
	sessions := []registry.GluingSession{{ID: session, AdhesiveID: &resin}}
	yes, no := true, false
	for name, c := range map[string]struct {
		form registry.Form
		set  registry.Installation
		want *bool
	}{
		"the form recorded":         {registry.WedgeAnchor, registry.Installation{Form: registry.TwistedLeg}, &yes},
		"the session's adhesive":    {registry.WedgeAnchor, registry.Installation{SessionID: &session}, &yes},
		"a wedge set in a session":  {registry.WedgeAnchor, registry.Installation{SessionID: &session, Form: registry.WedgeAnchor}, &no},
		"an expansion form alone":   {"", registry.Installation{Form: registry.SleeveAnchor}, &no},
		"nothing but that it's set": {"", registry.Installation{}, nil},
	} {
		f := registry.Facts{Anchor: registry.Anchor{Form: c.form}, Installations: []registry.Installation{c.set}, Sessions: sessions}
		got := f.Bonded()
		if (got == nil) != (c.want == nil) || got != nil && *got != *c.want {
			t.Errorf("%s: Bonded = %v, want %v", name, got, c.want)
		}
	}
}

func TestNamed(t *testing.T) {
	t.Parallel()
	ids := []uuid.UUID{newID(), newID(), newID(), newID(), newID(), newID()}
	f := registry.Facts{
		Anchor:        registry.Anchor{ProductID: &ids[0]},
		Installations: []registry.Installation{{HardwareID: &ids[1], AdhesiveID: &ids[2], BatchID: &ids[4]}, {}},
		Sessions:      []registry.GluingSession{{AdhesiveID: &ids[3], BatchID: &ids[5]}, {}},
	}
	products, batches := f.Named()
	if !slices.Equal(products, ids[:4]) || !slices.Equal(batches, ids[4:]) {
		t.Errorf("Named() = %v, %v, want %v, %v", products, batches, ids[:4], ids[4:])
	}
}

package app_test

import (
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// corrector sends one correction; edit changes it before.
type corrector struct {
	name string
	send func(who registry.Actor, reason string, by *uuid.UUID, milder bool) error
}

// Whoever may record a setting may correct it, but not to wash a suspicion away:
// that takes a steward, a name and a reason. Judgement of this project.
func TestCorrectionOfASettingThatLifts(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	g := w.gluing(w.positions[0])
	g.BatchText, g.Session.ExpiresOn = "", firstDay-100 // expired: suspect
	i := &g.Installations[0]
	i.CleaningCycles, i.Moisture, i.SetAt = sample.Of(0), registry.HoleDry, around(firstDay, 8, 8) // not cleaned: suspect
	g.Session.OpenedAt = around(firstDay, 7, 7)
	if _, _, err := w.RecordGluing(t.Context(), w.who, g); err != nil {
		t.Fatal(err)
	}
	row := quantity.Temperature(5)
	cure := registry.Cure{
		Record: record(i.AnchorID, w.person, firstDay), LabelCureMinutes: sample.Of(120), LabelC: &row,
		LowestC: &registry.Reading{C: 8, How: registry.Measured}, LoadedAt: around(firstDay, 9, 9), // an hour early: suspect
	}
	if _, _, err := w.RecordCure(t.Context(), w.who, cure); err != nil {
		t.Fatal(err)
	}
	last := map[string]uuid.UUID{"session": g.Session.ID, "installation": i.ID, "cure": cure.ID}
	replaced := func(kind string, id uuid.UUID, err error) error {
		if err == nil {
			last[kind] = id
		}
		return err
	}
	for _, c := range []corrector{
		{"session", func(who registry.Actor, reason string, by *uuid.UUID, milder bool) error {
			right := registry.Gluing{Session: g.Session}
			s, old := &right.Session, last["session"]
			s.ID, s.Replaces, s.Words, s.SetByID = sample.ID(), &old, reason, by
			if milder {
				s.ExpiresOn = 0
			}
			_, _, err := w.RecordGluing(t.Context(), who, right)
			return replaced("session", s.ID, err)
		}},
		{"installation", func(who registry.Actor, reason string, by *uuid.UUID, milder bool) error {
			right, old := *i, last["installation"]
			right.ID, right.Replaces, right.Words, right.PersonID, right.SessionID = sample.ID(), &old, reason, by, &g.Session.ID
			if milder {
				right.CleaningCycles = sample.Of(9)
			}
			_, _, err := w.RecordInstallation(t.Context(), who, right)
			return replaced("installation", right.ID, err)
		}},
		{"cure", func(who registry.Actor, reason string, by *uuid.UUID, milder bool) error {
			right, old := cure, last["cure"]
			right.ID, right.Replaces, right.Words, right.PersonID = sample.ID(), &old, reason, by
			if milder {
				right.LoadedAt = around(firstDay, 11, 11)
			}
			_, _, err := w.RecordCure(t.Context(), who, right)
			return replaced("cure", right.ID, err)
		}},
	} {
		recorder, person := w.as(registry.RoleRecorder), &w.person.ID
		if err := c.send(recorder, "spelt right", person, false); err != nil {
			t.Errorf("%s: a recorder corrects what lifts nothing: %v", c.name, err)
		}
		err := c.send(recorder, "misread", person, true)
		if e, ok := fault.As(err); !ok || e.Kind != fault.Forbidden || e.Values["lifts"] == "" {
			t.Errorf("%s: a recorder lifts: %v, want forbidden", c.name, err)
		}
		steward := w.as(registry.RoleSteward)
		violated(t, c.name+": no reason", c.send(steward, " ", person, true), "words", fault.Required)
		violated(t, c.name+": the reason of another", c.send(steward, "spelt right", person, true), "words", fault.Required)
		if err := c.send(steward, "nobody named", nil, true); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%s: nobody named: %v, want invalid", c.name, err)
		}
		if err := c.send(steward, "misread", person, true); err != nil {
			t.Errorf("%s: a steward with name and reason: %v", c.name, err)
		}
		if err := c.send(recorder, "it was right", person, false); err != nil {
			t.Errorf("%s: a recorder corrects to worse: %v", c.name, err)
		}
	}
}

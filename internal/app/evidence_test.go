package app_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// evidence asks for it as a steward.
func (h *house) evidence(t testing.TB, anchor uuid.UUID, day calendar.Date) report.Evidence {
	t.Helper()
	e, err := h.Evidence(t.Context(), h.as(registry.RoleSteward), anchor, day)
	if err != nil {
		t.Fatalf("evidence of %v: %v", day, err)
	}
	return e
}

// looked records an inspection that saw a loose nut, done on a day.
func (h *house) looked(t testing.TB, anchor uuid.UUID, on calendar.Date, edit func(*registry.Inspection)) registry.Inspection {
	t.Helper()
	i := inspected(anchor, on, edit)
	stored, _, err := h.RecordInspection(t.Context(), h.who, i)
	if err != nil {
		t.Fatal(err)
	}
	return stored
}

func TestEvidenceKnowsOnlyWhatWasRecordedByThen(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	anchor := h.anchor(t, "B1").ID
	h.turnTo(firstDay + 10)
	late := h.looked(t, anchor, firstDay-5, nil) // of an earlier day, entered later

	e := h.evidence(t, anchor, firstDay+9)
	if !e.Log.Known || len(e.Log.Then.Facts.Inspections) != 1 { // the list's own sight
		t.Errorf("on the day before it was entered: %+v, want the list's sight alone", e.Log.Then.Facts.Inspections)
	}
	later := e.Log.LaterLines()
	if len(later) != 1 || later[0].RowID != late.ID || later[0].Noun != "inspection" || later[0].Who != "test" {
		t.Errorf("done after: %+v, want the inspection", later)
	}
	if len(e.Log.ShownLater) != 1 || e.Shown == nil {
		t.Errorf("shown %+v, later %+v; want what the entry showed, and one more after", e.Shown, e.Log.ShownLater)
	}
	if e := h.evidence(t, anchor, firstDay+10); len(e.Log.Then.Facts.Inspections) != 2 || len(e.Log.LaterLines()) != 0 {
		t.Errorf("on the day it was entered: %+v, later %+v", e.Log.Then.Facts.Inspections, e.Log.LaterLines())
	}
}

func TestEvidenceKnowsNothingBefore(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	e := h.evidence(t, h.anchor(t, "B1").ID, firstDay-1)
	if e.Log.Known || e.Shown != nil || len(e.Log.KnownLines()) != 0 || len(e.Log.LaterLines()) == 0 {
		t.Errorf("before it was entered: known %v, shown %+v, %d lines known, %d later; want nothing known", e.Log.Known, e.Shown, len(e.Log.KnownLines()), len(e.Log.LaterLines()))
	}
}

func TestEvidenceOfACorrection(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	anchor := h.anchor(t, "B1")
	person := add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
	wrong := h.looked(t, anchor.ID, firstDay, func(i *registry.Inspection) { i.Observations = []registry.Observation{registry.CrackedMetal} })
	h.turnTo(firstDay + 3)
	h.looked(t, anchor.ID, firstDay, func(i *registry.Inspection) { i.Replaces, i.PersonID = &wrong.ID, &person.ID })
	_, err := h.ChangeAnchor(t.Context(), h.who, anchor.ID, anchor.Version, func(a *registry.Anchor) error {
		a.Form, a.Notes = registry.SleeveAnchor, "corrected"
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	e := h.evidence(t, anchor.ID, firstDay+2)
	if then := e.Log.Then.Facts; then.Anchor.Form != anchor.Form || then.Anchor.Notes == "corrected" || len(then.Current().Inspections) != 2 {
		t.Errorf("before the correction: %+v, %+v", then.Anchor, then.Current().Inspections)
	}
	if e.Shown == nil || e.Shown.Standing != registry.StandingOutOfUse {
		t.Errorf("shown %+v, want it out of use, as it was shown then", e.Shown)
	}
	if now := e.Log.Now.Facts; now.Anchor.Form != registry.SleeveAnchor || now.Anchor.Version != anchor.Version+1 {
		t.Errorf("now: %+v, want the correction", now.Anchor)
	}
}

// What the log only seals is said in full where the register still has it, and
// where not it is said that it has not.
func TestEvidenceSaysWhatIsSealed(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	anchor, person := h.anchor(t, "B1"), add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
	h.looked(t, anchor.ID, firstDay, func(i *registry.Inspection) { i.Words, i.PersonID = "by the bush", &person.ID })
	note := func(text string) {
		a, err := h.ChangeAnchor(t.Context(), h.who, anchor.ID, anchor.Version, func(a *registry.Anchor) error {
			a.Notes = text
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		anchor = a
	}
	note("first words")
	said := func(day calendar.Date) (known, after string) {
		log := h.evidence(t, anchor.ID, day).Log
		for _, l := range wording.EvidenceKnown(log) {
			known += l.Words + "\n"
		}
		for _, l := range wording.EvidenceAfter(log) {
			after += l.Words + "\n"
		}
		return known, after
	}
	has := func(text string, parts ...string) {
		t.Helper()
		for _, part := range parts {
			if !strings.Contains(text, part) {
				t.Errorf("evidence lacks %q:\n%s", part, text)
			}
		}
		if strings.Contains(text, "private") {
			t.Errorf("evidence speaks of veils:\n%s", text)
		}
	}
	known, _ := said(firstDay)
	has(known, "by the bush", "Invented Person", "notes: “first words”", "of the list “")

	h.turnTo(firstDay + 1)
	note("second words")
	if err := h.ErasePerson(t.Context(), h.as(registry.RoleOwner), person.ID, "invented"); err != nil {
		t.Fatal(err)
	}
	known, after := said(firstDay)
	has(known, "by the bush", registry.ErasedName, "notes: "+registry.WordsSealed)
	has(after, "notes: “second words”, before "+registry.WordsSealed)
	if strings.Contains(known+after, "first words") || strings.Contains(known+after, person.Name) {
		t.Errorf("evidence says what is gone:\n%s%s", known, after)
	}
	h.turnTo(firstDay + 2)
	note("third words")
	h.turnTo(firstDay + 3)
	note("fourth words")
	_, after = said(firstDay + 1)
	has(after, "notes: changed; "+registry.WordsSealed, "notes: “fourth words”")
}

func TestEvidenceHasTheNewestSeal(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	anchor := h.anchor(t, "B1").ID
	if e := h.evidence(t, anchor, firstDay); e.Seal != nil {
		t.Errorf("before anything is sealed: %+v", e.Seal)
	}
	if _, err := h.SealLedgers(t.Context()); err != nil {
		t.Fatal(err)
	}
	if e := h.evidence(t, anchor, firstDay); e.Seal == nil || e.Seal.Hash == "" {
		t.Errorf("once it is sealed: %+v, want the seal", e.Seal)
	}
}

func TestEvidenceEndsWithTheDayOfTheGroup(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	who := h.as(registry.RoleOwner)
	h.enter(t, smallList) // at noon, UTC
	anchor := h.anchor(t, "B1").ID
	for _, c := range []struct {
		zone  string
		known bool
	}{
		{"Europe/London", true},       // noon of the same day
		{"Pacific/Kiritimati", false}, // UTC+14: the next day already (tz database)
	} {
		who.TimeZone = c.zone
		h.turnTo(firstDay + 2)
		e, err := h.Evidence(t.Context(), who, anchor, firstDay)
		if err != nil || e.Log.Known != c.known {
			t.Errorf("%s: known %v, %v; want %v", c.zone, e.Log.Known, err, c.known)
		}
	}
}

func TestEvidenceRejects(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	anchor := h.anchor(t, "B1").ID
	stranger := h.addGroup(t, "other")
	for _, c := range []struct {
		name   string
		who    registry.Actor
		anchor uuid.UUID
		day    calendar.Date
		want   fault.Kind
	}{
		{"a recorder", h.as(registry.RoleRecorder), anchor, firstDay, fault.Forbidden},
		{"tomorrow", h.who, anchor, firstDay + 1, fault.Invalid},
		{"no day", h.who, anchor, 0, fault.Invalid},
		{"no such anchor", h.who, uuid.New(), firstDay, fault.NotFound},
		{"another group's", stranger, anchor, firstDay, fault.NotFound},
	} {
		if _, err := h.Evidence(t.Context(), c.who, c.anchor, c.day); err == nil || fault.KindOf(err) != c.want {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
}

// live is what the register answered of an anchor on a day.
type live struct {
	day   calendar.Date
	story registry.AnchorStory
}

// Whatever is recorded and however the days go by, evidence of a day is what the
// register answered at its end.
func TestEvidenceIsWhatWasAnswered(t *testing.T) {
	t.Parallel()
	h, groups := newHouse(t), 0
	rapid.Check(t, func(rt *rapid.T) {
		groups++
		h.turnTo(firstDay)
		h.who = h.addGroup(t, fmt.Sprintf("group-%d", groups))
		h.enter(t, smallList)
		anchor, person := h.anchor(t, "B2").ID, add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
		var answered []live
		day := firstDay
		for range rapid.IntRange(2, 6).Draw(rt, "days") {
			for range rapid.IntRange(0, 3).Draw(rt, "changes") {
				h.changeSomehow(t, rt, anchor, person, day)
			}
			story, err := h.AnchorStory(t.Context(), h.who, anchor)
			if err != nil {
				rt.Fatal(err)
			}
			answered = append(answered, live{day, story})
			day = day.AddDays(rapid.SampledFrom([]int{1, 2, 40, 400}).Draw(rt, "days on"))
			h.turnTo(day)
		}
		for _, l := range answered {
			compareEvidence(rt, l, h.evidence(t, anchor, l.day))
		}
	})
}

// changeSomehow makes one change that bears on the anchor; one that is refused
// is none.
func (h *house) changeSomehow(t testing.TB, rt *rapid.T, anchor uuid.UUID, person registry.Person, today calendar.Date) {
	ctx, back := t.Context(), rapid.IntRange(0, 30).Draw(rt, "days back")
	r := record(anchor, person, today.AddDays(-back))
	story, err := h.AnchorStory(ctx, h.who, anchor)
	if err != nil {
		rt.Fatal(err)
	}
	switch rapid.SampledFrom([]string{"look", "mend", "mark", "take-back", "edit", "move", "hang", "site"}).Draw(rt, "change") {
	case "look":
		i := registry.Inspection{Record: r, Level: registry.HandsOn, Ticked: true}
		if rapid.Bool().Draw(rt, "loose") {
			i.Observations = []registry.Observation{registry.LooseNut}
		}
		_, _, err = h.RecordInspection(ctx, h.who, i)
	case "mend":
		_, _, err = h.RecordMaintenance(ctx, h.who, registry.Maintenance{Record: r, Done: []registry.Upkeep{registry.Tightened}}, nil)
	case "mark":
		_, _, err = h.RecordMarking(ctx, h.who, registry.Marking{Record: r, How: []registry.MarkingHow{registry.MarkedTape}})
	case "take-back":
		if list := story.Facts.Current().Inspections; len(list) > 0 {
			_, _, err = h.RecordRetraction(ctx, h.who, registry.Retraction{Record: r, RetractsID: list[0].ID, Reason: "invented"})
		}
	case "edit":
		_, err = h.ChangeAnchor(ctx, h.who, anchor, story.Facts.Anchor.Version, func(a *registry.Anchor) error {
			a.Notes += "x"
			return nil
		})
	case "move":
		p := story.Facts.Position
		_, err = h.ChangePosition(ctx, h.who, p.ID, p.Version, func(p *registry.Position, _ *[]registry.Stop) error {
			p.Label += "x"
			return nil
		})
	case "hang":
		_, _, err = h.AddFitting(ctx, h.who, registry.Fitting{ID: uuid.Must(uuid.NewV7()), AnchorID: anchor, Kind: registry.Ring, Presence: registry.Present})
	case "site":
		p := story.Facts.Site
		_, err = h.ChangeSite(ctx, h.who, p.ID, p.Version, func(p *registry.Site) error {
			p.Notes += "x"
			return nil
		})
	}
	if err != nil && fault.KindOf(err) != fault.Invalid && fault.KindOf(err) != fault.Conflict {
		rt.Fatal(err)
	}
}

// changedSince makes of notes what evidence says of them.
func changedSince(then *string, now string) {
	if *then != "" && *then != now {
		*then = registry.WordsSealed
	}
}

// compareEvidence holds evidence against what was answered. The order of facts
// means nothing, and a log keeps a rule's values in the order of their names. Of
// notes that were changed later it says so; all other words are there.
func compareEvidence(rt *rapid.T, l live, e report.Evidence) {
	now := e.Log.Now.Facts
	changedSince(&l.story.Facts.Anchor.Notes, now.Anchor.Notes)
	changedSince(&l.story.Facts.Site.Notes, now.Site.Notes)
	byID := cmpopts.SortSlices(func(a, b registry.Inspection) bool { return a.ID.String() < b.ID.String() })
	if diff := cmp.Diff(l.story.Facts, e.Log.Then.Facts, cmpopts.EquateEmpty(), byID); diff != "" {
		rt.Errorf("%v: facts (-answered +evidence):\n%s", l.day, diff)
	}
	if diff := cmp.Diff(l.story.History, e.Log.Then.History); diff != "" {
		rt.Errorf("%v: history (-answered +evidence):\n%s", l.day, diff)
	}
	a := l.story.Assessment
	if e.Shown == nil {
		rt.Fatalf("%v: nothing shown, want %q", l.day, a.Standing)
	}
	inOrder := cmpopts.SortSlices(func(a, b string) bool { return a < b }) // the history sorts them
	var rules, settled []string
	for _, f := range a.Findings {
		if rules = append(rules, f.Rule); f.SettledBy != nil {
			settled = append(settled, f.Rule)
		}
	}
	if e.Shown.Standing != a.Standing || e.Shown.DueOn != a.DueOn || e.Overdue != (a.DueState == registry.Overdue) {
		rt.Errorf("%v: shown %+v, overdue %v; answered %q, %v, %q", l.day, e.Shown, e.Overdue, a.Standing, a.DueOn, a.DueState)
	}
	if diff := cmp.Diff([][]string{rules, settled}, [][]string{e.Shown.Rules, e.Shown.Settled}, cmpopts.EquateEmpty(), inOrder); diff != "" {
		rt.Errorf("%v: findings (-answered +evidence):\n%s", l.day, diff)
	}
}

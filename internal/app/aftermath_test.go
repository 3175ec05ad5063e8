package app_test

import (
	"slices"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// record is what every record of an anchor made by a person on a day says.
func record(anchor uuid.UUID, by registry.Person, on calendar.Date) registry.Record {
	return registry.Record{ID: uuid.Must(uuid.NewV7()), AnchorID: anchor, DoneOn: calendar.Exactly(on), PersonID: &by.ID}
}

func TestRemovalAndItsRetraction(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	h.enter(t, smallList)
	anchor := h.anchor(t, "B1").ID
	person := add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
	removal := registry.Removal{Record: record(anchor, person, firstDay-1)}
	if _, created, err := h.RecordRemoval(ctx, h.as(registry.RoleRecorder), removal); err != nil || !created {
		t.Fatalf("removal: %v, %v", created, err)
	}
	if a := h.anchor(t, "B1"); !a.Removed || a.RemovedOn.From != firstDay-1 || a.Version != 2 {
		t.Errorf("after its removal: %+v", a)
	}
	second := registry.Removal{Record: record(anchor, person, firstDay)}
	if _, _, err := h.RecordRemoval(ctx, h.who, second); fault.KindOf(err) != fault.Conflict {
		t.Errorf("removed once more: %v, want conflict", err)
	}
	back := registry.Retraction{Record: record(anchor, person, firstDay), RetractsID: removal.ID, Reason: "wrong anchor"}
	if _, _, err := h.RecordRetraction(ctx, h.as(registry.RoleRecorder), back); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("a recorder takes back: %v, want forbidden", err)
	}
	if _, created, err := h.RecordRetraction(ctx, h.who, back); err != nil || !created {
		t.Fatalf("retraction: %v, %v", created, err)
	}
	story, err := h.AnchorStory(ctx, h.who, anchor)
	if err != nil || story.Facts.Anchor.Removed || story.Facts.Anchor.RemovedOn.Known() || story.Assessment.Standing == registry.StandingRemoved {
		t.Errorf("after the retraction: %+v, %v; want it in the rock again", story.Facts.Anchor, err)
	}
	again := registry.Retraction{Record: record(anchor, person, firstDay), RetractsID: removal.ID, Reason: "twice"}
	_, _, err = h.RecordRetraction(ctx, h.who, again)
	violated(t, "taken back twice", err, "retracts_id", fault.Duplicate)
	elsewhere := registry.Retraction{Record: record(h.anchor(t, "B2").ID, person, firstDay), RetractsID: removal.ID, Reason: "x"}
	_, _, err = h.RecordRetraction(ctx, h.who, elsewhere)
	violated(t, "another anchor's record", err, "retracts_id", fault.NoSuchReference)
	backAgain := registry.Retraction{Record: record(anchor, person, firstDay), RetractsID: back.ID, Reason: "right after all"}
	if _, _, err := h.RecordRetraction(ctx, h.who, backAgain); err != nil {
		t.Fatalf("take the retraction back: %v", err)
	}
	if a := h.anchor(t, "B1"); !a.Removed {
		t.Errorf("after its retraction was taken back: %+v, want it removed", a)
	}
}

func TestSettlement(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	h.enter(t, smallList)
	anchor := h.anchor(t, "B3").ID // the list says that it spins
	person := add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
	before, err := h.AnchorStory(ctx, h.who, anchor)
	if err != nil {
		t.Fatal(err)
	}
	worst := before.Assessment.Findings[0]
	settled := registry.Settlement{
		Record: record(anchor, person, firstDay), Rule: worst.Rule, Values: worst.Values, Reason: "an old hanger, changed since",
	}
	wrong := settled
	wrong.ID, wrong.Rule = uuid.Must(uuid.NewV7()), "no-such-rule"
	_, _, err = h.RecordSettlement(ctx, h.who, wrong)
	violated(t, "a finding that does not stand", err, "rule", fault.NoSuchFinding)
	wrong.Rule, wrong.Values = worst.Rule, registry.Values{{Name: "seen_on", Text: "1999-01-01"}}
	_, _, err = h.RecordSettlement(ctx, h.who, wrong)
	violated(t, "other values", err, "rule", fault.NoSuchFinding)
	wrong.Values, wrong.PersonID = worst.Values, nil
	_, _, err = h.RecordSettlement(ctx, h.who, wrong)
	violated(t, "settled by nobody", err, "person_id", fault.Required)

	if _, created, err := h.RecordSettlement(ctx, h.who, settled); err != nil || !created {
		t.Fatalf("settle: %v, %v", created, err)
	}
	if _, created, err := h.RecordSettlement(ctx, h.who, settled); err != nil || created {
		t.Errorf("the same again: %v, %v; want the stored one", created, err)
	}
	after, err := h.AnchorStory(ctx, h.who, anchor)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(after.Assessment.Findings, func(f registry.Finding) bool { return f.Rule == worst.Rule })
	if i < 0 || after.Assessment.Findings[i].SettledBy == nil || *after.Assessment.Findings[i].SettledBy != settled.ID {
		t.Fatalf("findings %+v, want the settled one named", after.Assessment.Findings)
	}
	if after.Assessment.Standing.Rank() >= before.Assessment.Standing.Rank() {
		t.Errorf("standing %q, then %q; want a settled finding to weigh nothing", before.Assessment.Standing, after.Assessment.Standing)
	}
}

func TestMeasuredFitting(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	ring := add(t, h, registry.Fitting{AnchorID: h.anchor(t, "B2").ID, Kind: registry.Ring, Presence: registry.Present}, h.AddFitting)
	of := func(anchor uuid.UUID) registry.Inspection {
		return inspected(anchor, firstDay, func(i *registry.Inspection) {
			i.Measured = []registry.Measurement{{FittingID: &ring.ID, Left: 9}}
		})
	}
	if _, _, err := h.RecordInspection(t.Context(), h.who, of(ring.AnchorID)); err != nil {
		t.Errorf("its own fitting measured: %v", err)
	}
	_, _, err := h.RecordInspection(t.Context(), h.who, of(h.anchor(t, "B1").ID))
	violated(t, "another anchor's fitting measured", err, "measured[0].fitting_id", fault.NoSuchReference)
}

func TestHouseRules(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	h.enter(t, smallList)
	text, version, err := h.HouseRules(ctx, h.as(registry.RoleReader))
	if err != nil || version != 1 {
		t.Fatalf("house rules: version %d, %v", version, err)
	}
	if same, err := h.SetHouseRules(ctx, h.who, text, version); err != nil || same != version {
		t.Errorf("the same rules: version %d, %v; want %d", same, err, version)
	}
	sooner := replaceNumber(t, text, "first_round_months", 3)
	preview, err := h.PreviewHouseRules(ctx, h.who, sooner)
	if err != nil || preview.Anchors != 3 || preview.DueEarlier != 2 || preview.Unchanged != 1 || preview.Heading.RulesVersion != 1 {
		t.Errorf("preview %+v, %v; want two of three earlier", preview, err)
	}
	due := h.anchors(t, registry.AnchorFilter{})[0].DueOn
	next, err := h.SetHouseRules(ctx, h.who, sooner, version)
	if err != nil || next != 2 {
		t.Fatalf("set: version %d, %v; want 2", next, err)
	}
	if now := h.anchors(t, registry.AnchorFilter{})[0].DueOn; now >= due {
		t.Errorf("due on %v, then %v; want the new rules to count at once", due, now)
	}
	if _, err := h.SetHouseRules(ctx, h.who, text, version); fault.KindOf(err) != fault.Stale {
		t.Errorf("an old version: %v, want stale", err)
	}
	if _, err := h.SetHouseRules(ctx, h.who, replaceNumber(t, text, "first_round_months", -3), next); fault.KindOf(err) != fault.Invalid {
		t.Errorf("a negative number: %v, want invalid", err)
	}
	if _, err := h.SetHouseRules(ctx, h.as(registry.RoleRecorder), text, next); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("a recorder sets rules: %v, want forbidden", err)
	}
}

// What anchors rest on is changed, and their dates follow at once.
func TestChangesReassess(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	h.enter(t, smallList)
	anchor := h.anchor(t, "B1")
	due := func() calendar.Date {
		for _, l := range h.anchors(t, registry.AnchorFilter{}) {
			if l.Label == "B1" {
				return l.DueOn
			}
		}
		return 0
	}
	before := due()
	flood := add(t, h, registry.Event{SiteID: anchor.SiteID, Kind: registry.Flood, HappenedOn: firstDay - 1, InspectBy: firstDay + 20}, h.AddEvent)
	if got := due(); got != firstDay+20 {
		t.Errorf("after a flood due on %v, want the steward's %v", got, firstDay+20)
	}
	if _, err := h.ChangeEvent(ctx, h.who, flood.ID, 1, func(e *registry.Event) error { e.EndedOn = firstDay; return nil }); err != nil {
		t.Fatal(err)
	}
	if got := due(); got != before {
		t.Errorf("after the flood is taken back due on %v, want %v", got, before)
	}
	recall := registry.Notice{Title: "invented recall", IssuedOn: firstDay, InspectBy: firstDay + 10, AnchorIDs: []uuid.UUID{anchor.ID}}
	notice := add(t, h, recall, h.AddNotice)
	if got := due(); got != firstDay+10 {
		t.Errorf("after a notice due on %v, want %v", got, firstDay+10)
	}
	other := h.anchor(t, "B2").ID
	if _, err := h.ChangeNotice(ctx, h.who, notice.ID, 1, func(n *registry.Notice) error { n.AnchorIDs = []uuid.UUID{other}; return nil }); err != nil {
		t.Fatal(err)
	}
	if got := due(); got != before {
		t.Errorf("no longer named by the notice: due on %v, want %v", got, before)
	}
	recall.AnchorIDs = []uuid.UUID{uuid.New()}
	_, _, err := h.AddNotice(ctx, h.who, recall)
	violated(t, "a notice about no anchor", err, "anchor_ids", fault.NoSuchReference)
}

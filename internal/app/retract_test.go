package app_test

import (
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/sample"
)

// What a preview says would follow is what follows, record by record, and a
// preview stores nothing. The records: a verdict, a correction of it, how the
// anchor came out, and retractions.
func TestARetractionDoesWhatItsPreviewSays(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	record := func() registry.Record {
		return registry.Record{ID: sample.ID(), AnchorID: w.standing.ID, DoneOn: calendar.Exactly(firstDay), PersonID: &w.person.ID}
	}
	bad := registry.Inspection{Record: record(), Level: registry.HandsOn, Verdict: registry.TakeOutOfUse, Ticked: true}
	worse := registry.Inspection{Record: record(), Level: registry.HandsOn, Verdict: registry.TakeOutOfUse, Observations: []registry.Observation{registry.Rust}, Ticked: true}
	worse.Replaces = &bad.ID
	out := registry.Removal{Record: record()}
	back := registry.Retraction{Record: record(), RetractsID: out.ID, Reason: "It was another."}
	for _, i := range []registry.Inspection{bad, worse} {
		if _, _, err := w.RecordInspection(t.Context(), w.who, i); err != nil {
			t.Fatal(err)
		}
	}
	if _, _, err := w.RecordRemoval(t.Context(), w.who, out); err != nil {
		t.Fatal(err)
	}
	w.takesBack(t, back, nil, nil)
	again := registry.Retraction{Record: record(), RetractsID: back.ID, Reason: "It was this one."}
	w.takesBack(t, again, []uuid.UUID{out.ID}, nil)
	// What took a retraction back is not undone by a third: see registry.Facts.Current.
	w.takesBack(t, registry.Retraction{Record: record(), RetractsID: again.ID, Reason: "It was not."}, nil, nil)
	w.takesBack(t, registry.Retraction{Record: record(), RetractsID: worse.ID, Reason: "No rust."}, []uuid.UUID{bad.ID}, nil)
	w.takesBack(t, registry.Retraction{Record: record(), RetractsID: bad.ID, Reason: "The wrong anchor."}, nil, nil)
	if p, err := w.PreviewRetraction(t.Context(), w.who, w.standing.ID, bad.ID); fault.KindOf(err) != fault.Invalid {
		t.Errorf("taken back already: %+v, %v, want Invalid", p, err)
	}
}

// takesBack looks at a retraction twice, records it, and compares.
func (w *workshop) takesBack(t *testing.T, r registry.Retraction, revived, lost []uuid.UUID) {
	t.Helper()
	var p report.Retraction
	for range 2 {
		before, err := w.AnchorStory(t.Context(), w.who, r.AnchorID)
		if err != nil {
			t.Fatal(err)
		}
		if p, err = w.PreviewRetraction(t.Context(), w.who, r.AnchorID, r.RetractsID); err != nil {
			t.Fatalf("preview: %v", err)
		}
		if p.Now.Standing != before.Assessment.Standing || p.Now.DueOn != before.Assessment.DueOn {
			t.Errorf("now %q, %v by the preview, %q, %v by the story", p.Now.Standing, p.Now.DueOn, before.Assessment.Standing, before.Assessment.DueOn)
		}
	}
	if !sameIDs(p.Revived, revived) || !sameIDs(p.Lost, lost) {
		t.Errorf("%q: revives %v and loses %v, want %v and %v", r.Reason, p.Revived, p.Lost, revived, lost)
	}
	if _, _, err := w.RecordRetraction(t.Context(), w.who, r); err != nil {
		t.Fatal(err)
	}
	after, err := w.AnchorStory(t.Context(), w.who, r.AnchorID)
	if err != nil {
		t.Fatal(err)
	}
	if p.Then.Standing != after.Assessment.Standing || p.Then.DueOn != after.Assessment.DueOn || len(p.Then.Findings) != len(after.Assessment.Findings) {
		t.Errorf("%q: then %q, %v, %d findings by the preview, %q, %v, %d in truth", r.Reason, p.Then.Standing, p.Then.DueOn, len(p.Then.Findings),
			after.Assessment.Standing, after.Assessment.DueOn, len(after.Assessment.Findings))
	}
}

func sameIDs(a, b []uuid.UUID) bool {
	in := make(map[uuid.UUID]int)
	for _, id := range a {
		in[id]++
	}
	for _, id := range b {
		in[id]--
	}
	for _, n := range in {
		if n != 0 {
			return false
		}
	}
	return true
}

// What a retraction would be refused for, whoever gives whatever reason, its
// preview is refused for.
func TestAPreviewIsRefusedAsTheRetractionIs(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	out := registry.Removal{Record: registry.Record{ID: sample.ID(), AnchorID: w.standing.ID, DoneOn: calendar.Exactly(firstDay)}}
	if _, _, err := w.RecordRemoval(t.Context(), w.who, out); err != nil {
		t.Fatal(err)
	}
	if _, _, err := w.AddAnchor(t.Context(), w.who, registry.Anchor{ID: sample.ID(), PositionID: w.standing.PositionID, Form: registry.Staple}); err != nil {
		t.Fatal(err)
	}
	for name, id := range map[string]uuid.UUID{"another stands there": out.ID, "no record of it": sample.ID()} {
		_, err := w.PreviewRetraction(t.Context(), w.who, w.standing.ID, id)
		r := registry.Retraction{Record: registry.Record{ID: sample.ID(), AnchorID: w.standing.ID, DoneOn: calendar.Exactly(firstDay), PersonID: &w.person.ID}, RetractsID: id, Reason: "No."}
		_, _, truth := w.RecordRetraction(t.Context(), w.who, r)
		e, _ := fault.As(err)
		want, _ := fault.As(truth)
		if e == nil || want == nil || len(e.Violations) != 1 || len(want.Violations) != 1 || e.Violations[0].Code != want.Violations[0].Code || e.Violations[0].Field != "retracts_id" {
			t.Errorf("%s: preview %v, record %v", name, err, truth)
		}
	}
	if _, err := w.PreviewRetraction(t.Context(), w.as(registry.RoleRecorder), w.standing.ID, out.ID); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("by a recorder: %v, want Forbidden", err)
	}
}

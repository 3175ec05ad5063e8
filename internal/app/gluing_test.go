package app_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// workshop is a house with a site, free positions, an anchor that stands, and
// what a gluing session needs. All of it is invented.
type workshop struct {
	*house
	site      registry.Site
	positions []registry.Position
	standing  registry.Anchor // at another position
	hardware  registry.Product
	adhesive  registry.Product
	person    registry.Person
}

func newWorkshop(t *testing.T) *workshop {
	t.Helper()
	w := &workshop{house: newHouse(t)}
	w.site = add(t, w.house, registry.Site{Name: "Tarn Edge", Kind: registry.Crag}, w.AddSite)
	for _, label := range []string{"B1", "B2", "B3"} {
		w.positions = append(w.positions, w.addPosition(t, label))
	}
	w.hardware = add(t, w.house, registry.Product{Kind: registry.Hardware, Name: "Invented Eye", Form: registry.TwistedLeg}, w.AddProduct)
	w.adhesive = add(t, w.house, registry.Product{Kind: registry.Adhesive, Name: "Invented Resin"}, w.AddProduct)
	w.person = add(t, w.house, registry.Person{Name: "Invented Person"}, w.AddPerson)
	w.standing = add(t, w.house, registry.Anchor{
		PositionID: w.positions[2].ID, Form: registry.GlueIn, SetOn: calendar.Exactly(firstDay),
	}, w.AddAnchor)
	return w
}

func (w *workshop) addPosition(t *testing.T, label string) registry.Position {
	t.Helper()
	p, _, err := w.AddPosition(t.Context(), w.who, registry.Position{SiteID: w.site.ID, Label: label}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// gluing is a session that sets a new anchor at each position, and the anchor
// that stands if there are more installations than positions.
func (w *workshop) gluing(positions ...registry.Position) registry.Gluing {
	g := registry.Gluing{
		Session: registry.GluingSession{
			ID: sample.ID(), SiteID: w.site.ID, DoneOn: calendar.Exactly(firstDay), AdhesiveID: &w.adhesive.ID,
			RockC: &registry.Reading{C: 8, How: registry.Measured}, SetByID: &w.person.ID,
			OpenedAt: calendar.Moment{From: firstDay.Time(), To: firstDay.Time(), Words: "midnight"},
		},
		BatchText: "L 09-A",
	}
	for _, p := range positions {
		a := registry.Anchor{ID: sample.ID(), PositionID: p.ID}
		g.Anchors = append(g.Anchors, a)
		g.Installations = append(g.Installations, w.installation(a.ID))
	}
	return g
}

func (w *workshop) installation(anchor uuid.UUID) registry.Installation {
	return registry.Installation{
		Record: registry.Record{ID: sample.ID(), AnchorID: anchor, DoneOn: calendar.Exactly(firstDay)},
		Form:   registry.TwistedLeg, HardwareID: &w.hardware.ID, HoleDiameter: sample.Of(quantity.Length(16)),
	}
}

func TestRecordGluing(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	sent := w.gluing(w.positions[:2]...)
	sent.Installations = append(sent.Installations, w.installation(w.standing.ID))
	stored, created, err := w.RecordGluing(t.Context(), w.as(registry.RoleRecorder), sent)
	if err != nil || !created {
		t.Fatalf("record = %v, %v; want it created", created, err)
	}
	batches, err := w.Batches(t.Context(), w.who, &w.adhesive.ID, registry.Page{})
	if err != nil || len(batches) != 1 || batches[0].Text != "L 09-A" || *stored.Session.BatchID != batches[0].ID || !batches[0].ReceivedOn.IsZero() {
		t.Errorf("batches = %+v, %v; want the one of the session made, its receipt not known", batches, err)
	}
	for _, i := range sent.Installations {
		story, err := w.AnchorStory(t.Context(), w.who, i.AnchorID)
		if err != nil {
			t.Fatal(err)
		}
		if story.Assessment.Standing != registry.NotInUseYet {
			t.Errorf("standing = %q, want %q until first use is allowed", story.Assessment.Standing, registry.NotInUseYet)
		}
		f := &story.Facts
		if set := f.AsSet(&f.Installations[0]); deref(set.BatchID) != batches[0].ID || deref(set.PersonID) != w.person.ID {
			t.Errorf("as set: %+v, want batch and person of the session", set)
		}
		if len(f.Sessions) != 1 || len(f.Batches) != 1 || story.Persons[w.person.ID] == "" || story.Products[w.hardware.ID].Name == "" {
			t.Errorf("story has sessions %v, batches %v, persons %v, products %v", f.Sessions, f.Batches, story.Persons, story.Products)
		}
	}
	found, err := w.Anchors(t.Context(), w.who, registry.AnchorFilter{BatchID: stored.Session.BatchID}, registry.Page{})
	if err != nil || len(found) != 3 {
		t.Errorf("%d anchors of the batch, %v, want the 3 of the session", len(found), err)
	}
	a := found[slices.IndexFunc(found, func(l registry.AnchorLine) bool { return l.Anchor.ID == sent.Anchors[0].ID })].Anchor
	if a.Form != registry.TwistedLeg || a.SetOn != calendar.Exactly(firstDay) || deref(a.ProductID) != w.hardware.ID {
		t.Errorf("new anchor %+v, want form, product and day of its installation", a)
	}

	w.turnTo(firstDay.AddDays(3))
	again, created, err := w.RecordGluing(t.Context(), w.who, sent)
	if err != nil || created {
		t.Fatalf("the same again = %v, %v; want the stored one", created, err)
	}
	if diff := cmp.Diff(stored.Session, again.Session); diff != "" || len(again.Anchors) != 2 || len(again.Installations) != 3 {
		t.Errorf("the same again: %d anchors, %d installations (-stored +answered):\n%s", len(again.Anchors), len(again.Installations), diff)
	}
	for name, edit := range map[string]func(*registry.Gluing){
		"another temperature": func(g *registry.Gluing) { g.Session.RockC = &registry.Reading{C: 9, How: registry.Measured} },
		"another hole": func(g *registry.Gluing) {
			g.Installations = slices.Clone(g.Installations)
			g.Installations[1].HoleDiameter = sample.Of(quantity.Length(18))
		},
		"one fewer":     func(g *registry.Gluing) { g.Installations = g.Installations[:2] },
		"another batch": func(g *registry.Gluing) { g.BatchText = "L 09-B" },
		"another metal": func(g *registry.Gluing) { g.Anchors = slices.Clone(g.Anchors); g.Anchors[0].MetalWords = "316L" },
		"an anchor moved": func(g *registry.Gluing) {
			g.Anchors = slices.Clone(g.Anchors)
			g.Anchors[0].PositionID = w.positions[2].ID
		},
	} {
		other := sent
		edit(&other)
		if _, _, err := w.RecordGluing(t.Context(), w.who, other); fault.KindOf(err) != fault.Conflict {
			t.Errorf("%s under the same id: %v, want conflict", name, err)
		}
	}
	list, err := w.GluingSessions(t.Context(), w.who, &w.site.ID, registry.Page{})
	if err != nil || len(list) != 1 || cmp.Diff(stored.Session, list[0]) != "" {
		t.Errorf("sessions = %+v, %v, want the one stored", list, err)
	}
}

// Everything that is wrong is told at once, by where it stands.
func TestRecordGluingRejects(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	nobody := sample.ID()
	g := w.gluing(w.positions[0], w.positions[0], w.positions[2])
	g.Session.CheckedByID, g.Session.RockC.C = &nobody, 120
	g.BatchText = "--"
	g.Installations[0].HoleDiameter = sample.Of(quantity.Length(-1))
	g.Installations[1].HardwareID = &w.adhesive.ID
	g.Installations[2].DoneOn = calendar.Exactly(firstDay + 1)
	lost := w.installation(nobody)
	lost.BatchID = &nobody
	twice := w.installation(w.standing.ID)
	g.Installations = append(g.Installations, lost, twice, twice)
	_, _, err := w.RecordGluing(t.Context(), w.who, g)
	f, _ := fault.As(err)
	if f == nil || f.Kind != fault.Invalid {
		t.Fatalf("record = %v, want Invalid", err)
	}
	var got []string
	for _, v := range f.Violations {
		got = append(got, v.Field+" "+string(v.Code))
	}
	slices.Sort(got)
	want := []string{
		"anchors[1].position_id duplicate", "anchors[2].position_id in-use",
		"batch_text blank", "checked_by_id no-such-reference",
		"installations[0].hole_diameter_mm not-positive", "installations[1].hardware_id mismatch",
		"installations[2].done_on date-ahead", "installations[3].anchor_id no-such-reference",
		"installations[3].batch_id no-such-reference", "installations[5].anchor_id duplicate", "installations[5].id duplicate",
		"rock_c out-of-range",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("violations (-want +got):\n%s", diff)
	}
	sessions, err := w.GluingSessions(t.Context(), w.who, nil, registry.Page{})
	if err != nil || len(sessions) != 0 || len(w.anchors(t, registry.AnchorFilter{})) != 1 {
		t.Errorf("sessions %v, %v: something was stored", sessions, err)
	}
}

func TestRecordGluingRejectsBesideFacts(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	elsewhere := add(t, w.house, registry.Site{Name: "Other Edge", Kind: registry.Crag}, w.AddSite)
	for _, c := range []struct {
		name  string
		edit  func(*registry.Gluing)
		field string
		code  fault.Code
	}{
		{"nothing set", func(g *registry.Gluing) { g.Installations, g.Anchors = nil, nil }, "installations", fault.Required},
		{"before the anchor was set", func(g *registry.Gluing) {
			g.Session.DoneOn.From, g.Installations[1].DoneOn = firstDay-1, calendar.Exactly(firstDay-1)
		}, "installations[1].done_on", fault.Order},
		{"replaces another's", func(g *registry.Gluing) { g.Installations[1].Replaces = &g.Session.ID }, "installations[1].replaces", fault.NoSuchReference},
		{"a correction of nothing", func(g *registry.Gluing) { g.Session.Replaces = &w.site.ID }, "replaces", fault.NoSuchReference},
		{"an anchor set by nothing", func(g *registry.Gluing) { g.Installations = g.Installations[1:] }, "anchors[0].id", fault.Mismatch},
		{"batch by id and text", func(g *registry.Gluing) {
			b := add(t, w.house, registry.Batch{ProductID: &w.adhesive.ID, Text: "other"}, w.AddBatch)
			g.Session.BatchID = &b.ID
		}, "batch_text", fault.NotAllowed},
		{"a line's batch of another adhesive", func(g *registry.Gluing) {
			g.Installations[1].BatchID = w.otherBatch(t, "Second Resin")
		}, "installations[1].batch_id", fault.Mismatch},
		{"a line's batch of another product than the session's batch", func(g *registry.Gluing) {
			b := add(t, w.house, registry.Batch{ProductID: &w.adhesive.ID, Text: "of the session"}, w.AddBatch)
			g.Session.AdhesiveID, g.Session.BatchID, g.BatchText = nil, &b.ID, ""
			g.Installations[1].BatchID = w.otherBatch(t, "Third Resin")
		}, "installations[1].batch_id", fault.Mismatch},
		{"hardware for an adhesive", func(g *registry.Gluing) { g.Session.AdhesiveID = &w.hardware.ID }, "adhesive_id", fault.Mismatch},
	} {
		g := w.gluing(w.positions[0])
		g.Installations = append(g.Installations, w.installation(w.standing.ID))
		c.edit(&g)
		_, _, err := w.RecordGluing(t.Context(), w.who, g)
		violated(t, c.name, err, c.field, c.code)
	}
	far := w.gluing()
	far.Session.SiteID = elsewhere.ID
	far.Installations = append(far.Installations, w.installation(w.standing.ID))
	_, _, err := w.RecordGluing(t.Context(), w.who, far)
	violated(t, "an anchor of another site", err, "installations[0].anchor_id", fault.Mismatch)
	if _, _, err := w.RecordGluing(t.Context(), w.as(registry.RoleReader), w.gluing(w.positions[0])); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("a reader: %v, want forbidden", err)
	}
}

// otherBatch adds a batch of another invented adhesive.
func (w *workshop) otherBatch(t *testing.T, product string) *uuid.UUID {
	t.Helper()
	p := add(t, w.house, registry.Product{Kind: registry.Adhesive, Name: product}, w.AddProduct)
	b := add(t, w.house, registry.Batch{ProductID: &p.ID, Text: "of " + product}, w.AddBatch)
	return &b.ID
}

// A line whose batch is not of the session's adhesive is refused by the names of
// both; with its own adhesive named it is taken.
func TestALineOfAnotherAdhesive(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	g := w.gluing(w.positions[0])
	g.Installations[0].BatchID = w.otherBatch(t, "Second Resin")
	_, _, err := w.RecordGluing(t.Context(), w.who, g)
	f, _ := fault.As(err)
	if f == nil || len(f.Violations) != 1 || f.Violations[0].Values["batch_product"] != "Second Resin" ||
		f.Violations[0].Values["session_product"] != "Invented Resin" {
		t.Fatalf("record = %v, want the names of both", err)
	}
	b, err := w.store.Batch(t.Context(), w.who.GroupID, *g.Installations[0].BatchID)
	if err != nil {
		t.Fatal(err)
	}
	g.Installations[0].AdhesiveID = b.ProductID
	if _, _, err := w.RecordGluing(t.Context(), w.who, g); err != nil {
		t.Fatalf("with its own adhesive named: %v", err)
	}
	late := w.installation(w.standing.ID)
	late.SessionID, late.BatchID = &g.Session.ID, &b.ID
	_, _, err = w.RecordInstallation(t.Context(), w.who, late)
	violated(t, "later, under that session", err, "batch_id", fault.Mismatch)
	corrected := g
	corrected.Session.ID, corrected.Session.Replaces = sample.ID(), &g.Session.ID
	corrected.Session.AdhesiveID, corrected.Session.BatchID = b.ProductID, nil
	corrected.Anchors, corrected.Installations, corrected.BatchText = nil, nil, ""
	if _, _, err := w.RecordGluing(t.Context(), w.who, corrected); err != nil {
		t.Fatal(err)
	}
	if _, _, err := w.RecordInstallation(t.Context(), w.who, late); err != nil {
		t.Errorf("under the corrected session: %v, want it taken", err)
	}
}

// A session corrected: what was set in it reads the correction, and is assessed
// anew at once.
func TestGluingSessionCorrected(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	g := w.gluing(w.positions[0])
	g.BatchText = ""
	if _, _, err := w.RecordGluing(t.Context(), w.who, g); err != nil {
		t.Fatal(err)
	}
	anchor := g.Anchors[0].ID
	open := func() bool {
		story, err := w.store.AnchorStory(t.Context(), w.who.GroupID, anchor) // as stored
		if err != nil {
			t.Fatal(err)
		}
		return slices.ContainsFunc(story.Assessment.Findings, func(f registry.Finding) bool { return f.Rule == "batch-not-recorded" })
	}
	if !open() {
		t.Fatal("no finding that the batch is not recorded")
	}
	right := registry.Gluing{Session: g.Session, BatchText: "L1"}
	right.Session.ID, right.Session.Replaces = sample.ID(), &g.Session.ID
	stored, created, err := w.RecordGluing(t.Context(), w.who, right)
	if err != nil || !created {
		t.Fatalf("correction = %v, %v", created, err)
	}
	if open() {
		t.Error("the finding stands after the correction")
	}
	found, err := w.Anchors(t.Context(), w.who, registry.AnchorFilter{BatchID: stored.Session.BatchID}, registry.Page{})
	if err != nil || len(found) != 1 || found[0].Anchor.ID != anchor {
		t.Errorf("anchors of the batch = %v, %v, want the one of the corrected session", found, err)
	}
	old, err := w.GluingSession(t.Context(), w.who, g.Session.ID)
	if err != nil || deref(old.ReplacedBy) != right.Session.ID {
		t.Errorf("the old one is replaced by %v, %v, want %v", old.ReplacedBy, err, right.Session.ID)
	}
	now, err := w.GluingSession(t.Context(), w.who, right.Session.ID)
	if err != nil || len(now.Installations) != 1 || len(now.Anchors) != 1 || now.Batches[*stored.Session.BatchID].Text != "L1" {
		t.Errorf("the correction's story = %+v, %v, want the installation of the old one", now, err)
	}
	again := right
	again.Session.ID, again.Session.Replaces, again.BatchText = sample.ID(), &right.Session.ID, ""
	if _, _, err := w.RecordGluing(t.Context(), w.who, again); err != nil || !open() {
		t.Errorf("a correction of the correction that names no batch: %v, finding %v, want it back", err, open())
	}
}

func TestRecordCure(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	g := w.gluing(w.positions[0])
	if _, _, err := w.RecordGluing(t.Context(), w.who, g); err != nil {
		t.Fatal(err)
	}
	sent := registry.Cure{
		Record:         registry.Record{ID: sample.ID(), AnchorID: g.Anchors[0].ID, DoneOn: calendar.Exactly(firstDay)},
		InstallationID: &g.Installations[0].ID, LowestC: &registry.Reading{C: 4, How: registry.Measured}, LabelCureMinutes: sample.Of(120),
	}
	stored, created, err := w.RecordCure(t.Context(), w.as(registry.RoleRecorder), sent)
	if err != nil || !created {
		t.Fatalf("record = %v, %v", created, err)
	}
	story, err := w.AnchorStory(t.Context(), w.who, sent.AnchorID)
	if err != nil || len(story.Facts.Cures) != 1 || cmp.Diff(stored, story.Facts.Cures[0]) != "" {
		t.Errorf("cures = %+v, %v, want the stored one", story.Facts.Cures, err)
	}
	if _, created, err := w.RecordCure(t.Context(), w.who, sent); err != nil || created {
		t.Errorf("the same again = %v, %v", created, err)
	}
	sent.ID, sent.AnchorID = sample.ID(), w.standing.ID
	_, _, err = w.RecordCure(t.Context(), w.who, sent)
	violated(t, "another anchor's installation", err, "installation_id", fault.NoSuchReference)
}

// An installation recorded later may name a session of its site.
func TestInstallationNamesItsSession(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	g := w.gluing(w.positions[0])
	if _, _, err := w.RecordGluing(t.Context(), w.who, g); err != nil {
		t.Fatal(err)
	}
	w.turnTo(firstDay.AddDays(1))
	late := w.installation(w.standing.ID)
	late.SessionID = &g.Session.ID
	if _, _, err := w.RecordInstallation(t.Context(), w.who, late); err != nil {
		t.Fatal(err)
	}
	story, err := w.store.AnchorStory(t.Context(), w.who.GroupID, w.standing.ID)
	if err != nil || slices.ContainsFunc(story.Assessment.Findings, func(f registry.Finding) bool { return f.Rule == "batch-not-recorded" }) {
		t.Errorf("findings %v, %v, want the session's batch to count at once", story.Assessment.Findings, err)
	}
	other := add(t, w.house, registry.Site{Name: "Other Edge", Kind: registry.Crag}, w.AddSite)
	p, _, err := w.AddPosition(t.Context(), w.who, registry.Position{SiteID: other.ID, Label: "C1"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	far := add(t, w.house, registry.Anchor{PositionID: p.ID}, w.AddAnchor)
	wrong := w.installation(far.ID)
	wrong.SessionID = &g.Session.ID
	_, _, err = w.RecordInstallation(t.Context(), w.who, wrong)
	violated(t, "a session of another site", err, "session_id", fault.Mismatch)
	if _, created, err := w.RecordGluing(t.Context(), w.who, g); err != nil || created {
		t.Errorf("the session again after a late installation = %v, %v, want the stored one", created, err)
	}
}

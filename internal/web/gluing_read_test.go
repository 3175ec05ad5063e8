package web

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// typed is a gluing form with fields filled in, for a place and a day.
func typed(filled ...string) *form {
	f := newForm("id", id(70).String(), "site_id", id(2).String(), "done_on", "2026-05-02")
	for n := range 3 {
		f.Values.Set(lineField(n, "id"), id(byte(80+n)).String())
		f.Values.Set(lineField(n, "anchor_id"), id(byte(90+n)).String())
		f.Values.Set(lineField(n, "position_id"), id(byte(50+n)).String())
	}
	for i := 0; i+1 < len(filled); i += 2 {
		f.Values.Set(filled[i], filled[i+1])
	}
	return f
}

func readTyped(f *form) (registry.Gluing, *gluingReader) {
	r := &gluingReader{form: f, zone: time.UTC}
	return r.read(3), r
}

// value is something that can be typed into a field of the card.
func value(f wording.CardField) string {
	switch f.Kind {
	case wording.CardYesNo:
		return "no"
	case wording.CardChoice:
		return f.Choices[len(f.Choices)-1]
	case wording.CardNumber:
		return "7"
	case wording.CardTemperature:
		return "-2,5"
	case wording.CardDay:
		return "2027-03-31"
	case wording.CardTime:
		return "about 14:00"
	case wording.CardPerson:
		return id(31).String()
	case wording.CardAdhesive, wording.CardHardware:
		return id(32).String()
	}
	return "some words"
}

// Whatever the card has a field for is read from the form and told on the
// session's page: nothing that was typed gets lost.
func TestEveryFieldOfTheCardIsKept(t *testing.T) {
	t.Parallel()
	f := typed()
	for _, field := range wording.SessionFields() {
		f.Values.Set(field.Name, value(field))
	}
	for _, field := range append(wording.LineFields(), wording.MoreFields()...) {
		v := value(field)
		if field.Kind == wording.CardBatch {
			v = id(33).String()
		}
		f.Values.Set(lineField(0, field.Name), v)
	}
	g, _ := readTyped(f)
	if err := f.checks.Err(); err != nil {
		t.Fatal(err)
	}
	if g.BatchText != "some words" {
		t.Errorf("batch = %q, want what was typed", g.BatchText)
	}
	batch := id(33)
	g.Session.BatchID = &batch // found by its text where the session is stored
	n := wording.Names{
		Persons: map[uuid.UUID]string{id(31): "A. Example"}, Products: map[uuid.UUID]registry.Product{id(32): {Name: "Slow resin"}},
		Batches: map[uuid.UUID]registry.Batch{id(33): {Text: "L1709-A"}},
	}
	if said, open := wording.RecordedSession(&g.Session, n, time.UTC); len(open) > 0 {
		t.Errorf("the session's fields %v are lost; kept: %v", open, said)
	}
	if said, open := wording.RecordedInstallation(&g.Installations[0], n, time.UTC); len(open) > 0 {
		t.Errorf("the anchor's fields %v are lost; kept: %v", open, said)
	}
}

// What a session holds comes back from the form for correcting it as it was.
func TestCorrectingNothingChangesNothing(t *testing.T) {
	t.Parallel()
	story := gluedStory()
	f := newForm("id", story.Session.ID.String(), "site_id", story.Session.SiteID.String())
	fillSession(f, &story, time.UTC)
	r := &gluingReader{form: f, zone: time.UTC, day: f.date("done_on")}
	got := r.session()
	if err := f.checks.Err(); err != nil {
		t.Fatal(err)
	}
	if f.text("batch_id") != "L1709-A" {
		t.Errorf("batch = %q, want its text", f.text("batch_id"))
	}
	got.BatchID, got.Origin = story.Session.BatchID, story.Session.Origin
	if diff := cmp.Diff(story.Session, got); diff != "" {
		t.Errorf("session (-stored +form):\n%s", diff)
	}
	empty := registry.GluingStory{Session: registry.GluingSession{ID: id(70)}}
	f = newForm("id", id(70).String())
	fillSession(f, &empty, time.UTC)
	r = &gluingReader{form: f, zone: time.UTC}
	if said, _ := wording.RecordedSession(new(r.session()), wording.Names{}, time.UTC); len(said) != 0 {
		t.Errorf("a session that says nothing comes back saying %v", said)
	}
}

// An empty form says nothing: no "no", no zero, no anchor.
func TestNothingTypedIsNotRecorded(t *testing.T) {
	t.Parallel()
	f := typed("all.hole_depth_mm", "80", "all.moisture", "dry")
	g, _ := readTyped(f)
	if len(g.Installations) != 0 || len(g.Anchors) != 0 {
		t.Errorf("lines with only a position give %v, want none", g.Installations)
	}
	if said, _ := wording.RecordedSession(&g.Session, wording.Names{}, time.UTC); len(said) != 0 {
		t.Errorf("session says %v, want nothing", said)
	}
	if bad, err := f.reject(nil); !bad || err != nil || f.wrong("") != wording.GluingNothing {
		t.Errorf("a form without an anchor: wrong %v, %v, want that no line is filled in", f.Wrong, err)
	}
	g, _ = readTyped(typed("installations[1].set", "yes"))
	if len(g.Installations) != 1 {
		t.Fatalf("%d installations, want the one that is ticked", len(g.Installations))
	}
	if said, _ := wording.RecordedInstallation(&g.Installations[0], wording.Names{}, time.UTC); len(said) != 0 {
		t.Errorf("a line that is only ticked says %v, want nothing", said)
	}
}

func TestLineComesBeforeTheRowForAll(t *testing.T) {
	t.Parallel()
	g, _ := readTyped(typed(
		"all.form", "twisted-leg", "all.hole_depth_mm", "80", "all.moisture", "dry", "all.cleaning_cycles", "4",
		"installations[0].set_at", "14:05",
		"installations[1].set_at", "14:10", "installations[1].hole_depth_mm", "95", "installations[1].moisture", "-",
		"installations[2].cleaning_cycles", "-",
	))
	type line struct {
		form     registry.Form
		depth    float64
		cycles   int
		moisture registry.Moisture
		at       string
	}
	var got []line
	for _, i := range g.Installations {
		l := line{form: i.Form, depth: i.HoleDepth.Millimetres(), cycles: -1, moisture: i.Moisture}
		if i.CleaningCycles != nil {
			l.cycles = *i.CleaningCycles
		}
		if i.SetAt.Known() {
			l.at = i.SetAt.From.Format("15:04")
		}
		got = append(got, l)
	}
	want := []line{
		{registry.TwistedLeg, 80, 4, registry.HoleDry, "14:05"},
		{registry.TwistedLeg, 95, 4, "", "14:10"},
		{registry.TwistedLeg, 80, -1, registry.HoleDry, ""},
	}
	if diff := cmp.Diff(want, got, cmp.AllowUnexported(line{})); diff != "" {
		t.Errorf("lines (-want +got):\n%s", diff)
	}
	if g.Anchors[1].PositionID != id(51) || g.Anchors[1].ID != g.Installations[1].AnchorID || g.Anchors[1].Form != registry.TwistedLeg {
		t.Errorf("new anchor = %+v, want a twisted leg at the second position", g.Anchors[1])
	}
}

func TestLineOfAnAnchorThatStandsMakesNoNewOne(t *testing.T) {
	t.Parallel()
	g, _ := readTyped(typed("installations[0].position_id", standingAnchor+id(60).String(), "installations[0].set_at", "14:05"))
	if len(g.Anchors) != 0 || g.Installations[0].AnchorID != id(60) {
		t.Errorf("anchors %v, installation of %v, want that of the anchor that stands there", g.Anchors, g.Installations[0].AnchorID)
	}
}

// What is wrong is said beside the field that it was typed into, by the line of
// the form, not by the count of those sent.
func TestViolationsStandBesideTheirFields(t *testing.T) {
	t.Parallel()
	f := typed("all.hole_depth_mm", "5000", "installations[1].set_at", "14:05", "installations[2].set", "yes",
		"installations[2].hole_depth_mm", "90", "installations[2].fill_pct", "lots", "installations[2].position_id", "")
	_, r := readTyped(f)
	var service fault.Checks
	for field, code := range map[string]fault.Code{
		"session.rock_c": fault.OutOfRange, "batch_text": fault.Mismatch, "installations[0].hole_depth_mm": fault.OutOfRange,
		"anchors[1].position_id": fault.InUse, "installations[1].torque_tool": fault.TooLong, "anchors[0].product_id": fault.Mismatch,
	} {
		service.Require(false, field, code)
	}
	bad, err := f.reject(r.byLine(service.Err()))
	if !bad || err != nil {
		t.Fatalf("reject = %v, %v, want it rejected", bad, err)
	}
	for _, field := range []string{
		"rock_c", "batch_id", "all.hole_depth_mm", "installations[2].position_id", "installations[2].torque_tool",
		"installations[1].hardware_id", "installations[2].fill_pct",
	} {
		if f.wrong(field) == "" || !isField(field) {
			t.Errorf("nothing is wrong with %s, or it has no name; wrong: %v", field, f.Wrong)
		}
	}
	if len(f.Wrong) != 7 {
		t.Errorf("wrong: %v, want 7", f.Wrong)
	}
	for name, want := range map[string]string{
		"installations[2].torque_tool": "Anchor 3, torque tool", "all.hole_depth_mm": "For all, hole depth", "rock_c": "Rock",
	} {
		if got := fieldLabel(name); got != want {
			t.Errorf("fieldLabel(%q) = %q, want %q", name, got, want)
		}
	}
}

// The big print of a cure card is the less favourable of all its anchors: one
// without an instant before any other, otherwise the latest.
func TestCureCardTakesTheLatest(t *testing.T) {
	t.Parallel()
	early := registry.CureTime{NotBefore: time.Date(2026, time.May, 2, 15, 0, 0, 0, time.UTC)}
	late := registry.CureTime{NotBefore: time.Date(2026, time.May, 3, 15, 0, 0, 0, time.UTC)}
	never := registry.CureTime{}
	for _, c := range []struct {
		name string
		of   []registry.CureTime
		want time.Time
	}{
		{"one", []registry.CureTime{early}, early.NotBefore},
		{"the later second", []registry.CureTime{early, late}, late.NotBefore},
		{"the later first", []registry.CureTime{late, early}, late.NotBefore},
		{"none first", []registry.CureTime{never, late}, time.Time{}},
		{"none last", []registry.CureTime{late, never}, time.Time{}},
		{"none between", []registry.CureTime{late, never, early}, time.Time{}},
	} {
		var got registry.CureTime
		for k, of := range c.of {
			got = later(got, of, k > 0)
		}
		if !got.NotBefore.Equal(c.want) {
			t.Errorf("%s: not before %v, want %v", c.name, got.NotBefore, c.want)
		}
	}
	told := toldSession{}
	for n, label := range []string{"B10", "B2", "Belay", "b1"} {
		told.story.Installations = append(told.story.Installations, registry.Installation{Record: registry.Record{AnchorID: id(byte(n))}})
		told.story.Anchors = append(told.story.Anchors, registry.AnchorLine{Anchor: registry.Anchor{ID: id(byte(n))}, Label: label})
	}
	told.inOrder()
	var order []string
	for _, i := range told.story.Installations {
		order = append(order, linesByAnchor(told.story.Anchors)[i.AnchorID].Label)
	}
	if diff := cmp.Diff([]string{"b1", "B2", "B10", "Belay"}, order); diff != "" {
		t.Errorf("order of the anchors (-want +got):\n%s", diff)
	}
	card := cureCardPage{Until: "late", Anchors: []cureLine{{"B1", "late", "x", ""}, {"B2", "early", "x", ""}, {"B3", "late", "x", ""}, {"B4", "late", "x", "doubt"}}}.alike()
	want := []cureLine{{"B1; B3", "", "x", ""}, {"B2", "early", "x", ""}, {"B4", "", "x", "doubt"}}
	if diff := cmp.Diff(want, card.Anchors); diff != "" {
		t.Errorf("lines of the card (-want +got):\n%s", diff)
	}
}

func TestPositionIsTakenOnce(t *testing.T) {
	t.Parallel()
	f := typed("installations[0].set_at", "14:05", "installations[1].set_at", "14:10", "installations[1].position_id", id(50).String())
	readTyped(f)
	if _, err := f.reject(nil); err != nil || f.wrong("installations[1].position_id") == "" || f.wrong("installations[0].position_id") != "" {
		t.Errorf("one position in two lines: wrong %v, %v, want the second line's", f.Wrong, err)
	}
}

// FuzzGluingForm wants no text in any field to panic, and no field left blank to
// say anything.
func FuzzGluingForm(f *testing.F) {
	f.Add("about 14:00", "80", "yes")
	f.Add("-", "–", "no")
	f.Add("25:99", "1e999", "maybe")
	f.Fuzz(func(t *testing.T, at, number, answer string) {
		form := typed("installations[0].set_at", at, "installations[0].hole_depth_mm", number, "nozzle_new", answer, "all.cleaning_cycles", number)
		g, r := readTyped(form)
		if err := r.byLine(form.checks.Err()); err != nil && fault.KindOf(err) != fault.Invalid {
			t.Errorf("error %v, want none or Invalid", err)
		}
		if answer = strings.TrimSpace(answer); answer != "yes" && answer != "no" && g.Session.NozzleNew != nil {
			t.Errorf("the answer %q is taken for %v", answer, *g.Session.NozzleNew)
		}
	})
}

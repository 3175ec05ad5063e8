package web

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// settingZone is two hours ahead of UTC: a time that is read in another zone
// than it was written in would show.
var settingZone = time.FixedZone("two hours ahead", 2*3600)

// A form that is sent as it came says what was recorded, every field of it.
func TestSettingFormKeepsWhatWasRecorded(t *testing.T) {
	t.Parallel()
	session := id(70)
	recorded := gluedStory().Installations[0]
	recorded.SessionID, recorded.PersonID = &session, &session
	listed := recorded
	listed.DoneOn = calendar.Span{From: day(2013, time.January, 1), To: day(2013, time.December, 31), Words: "2013"}
	listed.SetAt = calendar.Moment{} // no day, no time
	overnight := recorded
	overnight.SetAt = calendar.Moment{From: recorded.SetAt.From.Add(-14 * time.Hour), To: recorded.SetAt.To}
	for name, was := range map[string]registry.Installation{
		"recorded here": recorded, "of a list": listed, "begun before midnight": overnight,
		"of which nothing is known but the day": {Record: registry.Record{ID: id(61), AnchorID: id(60), DoneOn: recorded.DoneOn}},
	} {
		f := newForm("id", id(99).String())
		fillSetting(f, &was, theDay, settingZone)
		got := readSetting(f, &was, theDay, settingZone)
		want := was
		want.ID, want.Replaces = id(99), &was.ID
		if diff := cmp.Diff(want, got, cmp.AllowUnexported(calendar.Moment{})); diff != "" || f.checks.Err() != nil {
			t.Errorf("%s: read back with a difference (%v):\n%s", name, f.checks.Err(), diff)
		}
	}
}

func TestSettingFormReadsWhatWasChanged(t *testing.T) {
	t.Parallel()
	was := gluedStory().Installations[0]
	f := newForm("id", id(99).String())
	fillSetting(f, &was, theDay, settingZone)
	for name, text := range map[string]string{
		"hole_depth_mm": "95,5", "set_at": "09:30", "done_on": "2026-05-01", "moisture": "", "batch_id": "", "words": "Misread: 95.5.",
	} {
		f.Values.Set(settingField(name), text)
	}
	got := readSetting(f, &was, theDay, settingZone)
	at := time.Date(2026, time.May, 1, 7, 30, 0, 0, time.UTC)
	if got.HoleDepth == nil || got.HoleDepth.Millimetres() != 95.5 || !got.SetAt.From.Equal(at) || got.DoneOn.From != day(2026, time.May, 1) ||
		got.Moisture != "" || got.BatchID != nil || got.Words != "Misread: 95.5." || f.checks.Err() != nil {
		t.Errorf("read %+v (%v), want what was typed", got, f.checks.Err())
	}
}

// A time needs a day that is known exactly; a day that is none is told.
func TestSettingFormRejects(t *testing.T) {
	t.Parallel()
	was := gluedStory().Installations[0]
	for _, c := range []struct{ name, text, wrong string }{
		{"done_on", "2025", "setting.done_on"},
		{"done_on", "soon", "setting.done_on"},
		{"done_on", "2031-01-01", "setting.done_on"},
		{"set_at", "25:30", "setting.set_at"},
		{"hole_depth_mm", "deep", "setting.hole_depth_mm"},
		{"person_id", "nobody", "setting.person_id"},
	} {
		f := newForm()
		fillSetting(f, &was, theDay, settingZone)
		f.Values.Set(settingField(c.name), c.text)
		readSetting(f, &was, theDay, settingZone)
		if bad, err := f.reject(nil); !bad || err != nil || f.wrong(c.wrong) == "" || !isField(c.wrong) {
			t.Errorf("%s %q: wrong %v, %v; want a sentence beside %s", c.name, c.text, f.Wrong, err, c.wrong)
		}
	}
}

// What the register says of a record is told beside the field it is about.
func TestSettingRefusalsFindTheirFields(t *testing.T) {
	t.Parallel()
	var c fault.Checks
	c.Require(false, "hole_depth_mm", fault.OutOfRange)
	c.Require(false, "replaces", fault.Duplicate)
	f := newForm()
	if bad, err := f.reject(inSettingForm(c.Err())); !bad || err != nil || f.wrong("setting.hole_depth_mm") == "" || f.wrong("") == "" {
		t.Errorf("told %v, %v", f.Wrong, err)
	}
	stale := fault.New(fault.Stale, "changed since")
	if err := inSettingForm(stale); fault.KindOf(err) != fault.Stale {
		t.Errorf("another error became %v", err)
	}
}

// What is offered for new work no more stays chosen.
func TestSettingFormOffersWhatItHas(t *testing.T) {
	t.Parallel()
	gone, batch := id(81), id(82)
	story := registry.AnchorStory{
		Products: map[uuid.UUID]registry.Product{gone: {ID: gone, Name: "Old stud (invented)"}},
		Batches:  map[uuid.UUID]registry.Batch{batch: {ID: batch, Text: "OLD-1"}},
	}
	f := newForm(settingField("hardware_id"), gone.String(), settingField("batch_id"), batch.String())
	ch := cardChoices{Batches: []option{{Value: batch.String(), Text: "OLD-1"}}}
	ch.keep(f, story)
	if len(ch.Hardware) != 1 || ch.Hardware[0].Text != "Old stud (invented)" || len(ch.Batches) != 1 {
		t.Errorf("offers %v and %v, want what stands in the form, once", ch.Hardware, ch.Batches)
	}
}

// What the record leaves open is told as the anchor has it, and not filled in.
func TestSettingFormSaysWhatTheAnchorHas(t *testing.T) {
	t.Parallel()
	product := id(81)
	story := registry.AnchorStory{
		Facts:    registry.Facts{Anchor: registry.Anchor{Form: registry.SingleShank, ProductID: &product}},
		Products: map[uuid.UUID]registry.Product{product: {ID: product, Name: "Stud (invented)"}},
	}
	ch := cardChoices{AsAnchor: asAnchor(story)}
	for field, want := range map[string]string{"form": wording.AsTheAnchor(wording.Label(registry.SingleShank)), "hardware_id": wording.AsTheAnchor("Stud (invented)"), "moisture": "Not recorded"} {
		box := ch.settingBox(wording.CardField{Name: field, Kind: wording.CardChoice})
		if len(box.Options) == 0 || box.Options[0].Text != want || box.Options[0].Value != "" {
			t.Errorf("%s begins with %v, want %q for none", field, box.Options, want)
		}
	}
}

// A sheet's moistures are one line.
func TestSheetMoisturesAreOneLine(t *testing.T) {
	t.Parallel()
	got := sheetDetails(registry.ProductVersion{Moistures: []registry.Moisture{registry.HoleDry, registry.HoleDamp}})
	if want := []detail{{"Hole may be", "dry, damp"}}; len(got) != 1 || got[0] != want[0] {
		t.Errorf("details %v, want %v", got, want)
	}
}

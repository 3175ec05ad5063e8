package httpapi_test

import (
	"net/http"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rockledger/api"
	"rockledger/internal/registry"
)

type object map[string]any

func TestRecordInspection(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	recorder := tokens[registry.RoleRecorder]
	line := anchorAt(t, s, recorder, "glue-in")
	post := call{method: http.MethodPost, target: "/v1/anchors/" + line.Id.String() + "/inspections", token: recorder}

	post.body = object{
		"id": newID(t).String(), "done_on": object{"from": "2026-05-02"}, "level": "hands-on",
		"observations": []string{"anchor-turns"}, "verdict": "watch", "inspect_by": "2026-08-01", "words": "half a turn",
	}
	var first, again api.InspectionAnswer
	cautioned(t, s.answer(t, post, http.StatusCreated, &first))
	s.answer(t, post, http.StatusOK, &again)
	if diff := cmp.Diff(first, again); diff != "" {
		t.Errorf("the same record again differs (-first +again):\n%s", diff)
	}
	if in := first.Inspection; in.DoneOn.To.String() != "2026-05-02" || !in.Ticked || in.Origin != api.OriginRecorded {
		t.Errorf("inspection = %+v, want the day alone, ticked, recorded", in)
	}
	other := post
	other.body = object{"id": first.Inspection.Id.String(), "done_on": object{"from": "2026-05-02"}, "level": "full"}
	s.answer(t, other, http.StatusConflict, nil)

	// Without an id every request is a record of its own.
	post.body = object{"done_on": object{"from": "2026-05-02", "to": "2026-05-03", "words": "that weekend"}, "level": "glance"}
	var a, b api.InspectionAnswer
	s.answer(t, post, http.StatusCreated, &a)
	s.answer(t, post, http.StatusCreated, &b)
	if a.Inspection.Id == b.Inspection.Id {
		t.Errorf("two records have the id %v", a.Inspection.Id)
	}

	var after api.Assessment
	s.get(t, "/v1/anchors/"+line.Id.String()+"/assessment", recorder, &after)
	if after.Standing == line.Standing || len(after.Findings) == 0 {
		t.Errorf("standing of a glue-in that turns = %v, as before", after.Standing)
	}
}

func TestRecordRejects(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	recorder := tokens[registry.RoleRecorder]
	anchor := "/v1/anchors/" + anchorAt(t, s, recorder, "glue-in").Id.String()
	nobody := newID(t).String()
	for _, c := range []struct {
		name, target string
		body         object
		status       int
		want         []string
	}{
		{
			"ahead of today", anchor + "/inspections",
			object{"done_on": object{"from": "2026-05-04"}, "level": "glance", "verdict": "keep", "inspect_by": "2026-09-01"},
			422,
			[]string{"done_on date-ahead", "inspect_by mismatch"},
		},
		{
			"dates the wrong way round", anchor + "/inspections",
			object{"done_on": object{"from": "2026-05-02", "to": "2026-05-01"}, "level": "glance"},
			422,
			[]string{"done_on.to order"},
		},
		{"an end alone", anchor + "/inspections", object{"done_on": object{"to": "2026-05-01"}, "level": "glance"}, 422, []string{"done_on.from required"}},
		{
			"not found and yet seen", anchor + "/inspections",
			object{"done_on": object{"from": "2026-05-01"}, "level": "glance", "found": false, "observations": []string{"rust"}},
			422,
			[]string{"observations mismatch"},
		},
		{
			"a hole that is none", anchor + "/installations",
			object{"done_on": object{"from": "2026-05-01"}, "hole_diameter_mm": 0, "hole_depth_mm": -1},
			422,
			[]string{"hole_diameter_mm not-positive", "hole_depth_mm not-positive"},
		},
		{
			"a person who is not there", anchor + "/first-uses",
			object{"done_on": object{"from": "2026-05-01"}, "person_id": nobody},
			422,
			[]string{"person_id no-such-reference"},
		},
		{"first use by nobody", anchor + "/first-uses", object{"done_on": object{"from": "2026-05-01"}}, 422, []string{"person_id required"}},
		{
			"an anchor that is not there", "/v1/anchors/" + nobody + "/inspections",
			object{"done_on": object{"from": "2026-05-01"}, "level": "glance"},
			404, nil,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			w := s.answer(t, call{method: http.MethodPost, target: c.target, token: recorder, body: c.body}, c.status, nil)
			if diff := cmp.Diff(c.want, fieldsOf(t, w.Body.Bytes()), sorted(func(a, b string) bool { return a < b })); diff != "" {
				t.Errorf("violations (-want +got):\n%s", diff)
			}
		})
	}
}

// TestRecordInstallation sets an anchor, whose first use waits for its cure.
func TestRecordInstallation(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	recorder := tokens[registry.RoleRecorder]
	anchor := "/v1/anchors/" + anchorAt(t, s, recorder, "glue-in").Id.String()
	var story api.AnchorStory
	s.get(t, anchor, recorder, &story)
	person, batch := story.Persons[0].Id.String(), story.Batches[0]

	post := call{method: http.MethodPost, target: anchor + "/installations", token: recorder, body: object{
		"id": newID(t).String(), "done_on": object{"from": "2026-04-01"}, "person_id": person,
		"hole_diameter_mm": 14, "hole_depth_mm": 110.5, "adhesive_id": batch.ProductId.String(), "batch_id": batch.Id.String(),
		"rock_sound": "ringing",
	}}
	var set api.InstallationAnswer
	cautioned(t, s.answer(t, post, http.StatusCreated, &set))
	s.answer(t, post, http.StatusOK, nil)
	if in := set.Installation; in.HoleDepthMm == nil || *in.HoleDepthMm != 110.5 || in.BatchId != batch.Id {
		t.Errorf("installation = %+v", in)
	}
	var before api.Assessment
	if s.get(t, anchor+"/assessment", recorder, &before); before.Standing != api.StandingNotInUseYet {
		t.Errorf("standing after an installation recorded here = %v, want %v", before.Standing, api.StandingNotInUseYet)
	}

	// No sheet of the invented resin is on record, and nobody read its label.
	post.target, post.body = anchor+"/first-uses", object{"done_on": object{"from": "2026-04-03"}, "person_id": person}
	w := s.answer(t, post, http.StatusUnprocessableEntity, nil)
	want := []string{"at cure-not-known", "person_id same-person", "sample required"}
	if diff := cmp.Diff(want, fieldsOf(t, w.Body.Bytes()), sorted(func(a, b string) bool { return a < b })); diff != "" {
		t.Errorf("first use without a cure time, by who set it (-want +got):\n%s", diff)
	}
	var after api.Assessment
	if s.get(t, anchor+"/assessment", recorder, &after); after.Standing != api.StandingNotInUseYet {
		t.Errorf("standing after first use was refused = %v", after.Standing)
	}

	// The label is read, and somebody else allows it: three hours, twice that for a
	// hole of which nobody said how wet it was (common practice, no source), after
	// the end of its day.
	label := call{method: http.MethodPost, target: anchor + "/cures", token: recorder, body: object{
		"done_on": object{"from": "2026-04-01"}, "label_cure_minutes": 180, "label_c": 5, "lowest_c": 6, "lowest_how": "measured",
	}}
	s.answer(t, label, http.StatusCreated, nil)
	var told api.AnchorStory
	s.get(t, anchor, recorder, &told)
	cure := told.CureTime
	if cure.Basis != api.CureBasisLabel || cure.CureMinutes == nil || *cure.CureMinutes != 360 || cure.NotBefore.Format(time.RFC3339) != "2026-04-02T18:00:00Z" ||
		cure.InstallationId != set.Installation.Id || !cure.UsualDoubling || cure.Text == "" {
		t.Errorf("cure time = %+v, want six hours by the label", cure)
	}
	var other api.Person
	s.answer(t, call{method: http.MethodPost, target: "/v1/persons", token: tokens[registry.RoleOwner], body: object{"name": "Invented Releaser"}}, http.StatusCreated, &other)
	post.body = object{"done_on": object{"from": "2026-04-03"}, "person_id": other.Id.String(), "sample": "hard"}
	s.answer(t, post, http.StatusCreated, nil)
	if s.get(t, anchor+"/assessment", recorder, &after); after.Standing == api.StandingNotInUseYet {
		t.Errorf("standing after first use was allowed = %v", after.Standing)
	}

	// What expands asks for no cure.
	post.target = "/v1/anchors/" + anchorAt(t, s, recorder, "through bolt").Id.String() + "/first-uses"
	cautioned(t, s.answer(t, post, http.StatusCreated, nil))
}

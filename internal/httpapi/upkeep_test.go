package httpapi_test

import (
	"encoding/json"
	"net/http"
	"slices"
	"testing"

	"rockledger/api"
	"rockledger/internal/registry"
)

// TestUpkeep condemns an anchor, marks it, renews its ring and lifts the marking.
func TestUpkeep(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	recorder, steward := g.tokens[registry.RoleRecorder], g.tokens[registry.RoleSteward]
	at := "/v1/anchors/" + g.ids["anchors"]
	post := func(token, path string, body object, want int, into any) []byte {
		t.Helper()
		w := g.answer(t, call{method: http.MethodPost, target: at + path, token: token, body: body}, want, into)
		if want < 300 {
			cautioned(t, w)
		}
		return w.Body.Bytes()
	}
	on := object{"from": "2026-05-02"}
	person := g.add(t, "persons", object{"name": "Invented Person"})
	ring := g.add(t, at[len("/v1/"):]+"/fittings", object{"kind": "ring", "presence": "present"})
	post(recorder, "/inspections", object{"done_on": on, "level": "hands-on", "verdict": "take-out-of-use", "person_id": person}, http.StatusCreated, nil)

	mark := object{"id": newID(t).String(), "done_on": on, "how": []string{"tape", "hanger-taken"}}
	var marked api.MarkingAnswer
	post(recorder, "/markings", mark, http.StatusCreated, &marked)
	post(recorder, "/markings", mark, http.StatusOK, nil)
	var story api.AnchorStory
	g.get(t, at, recorder, &story)
	if !story.Marked || len(story.Markings) != 1 || story.Assessment.Band != "this-year" || story.Assessment.Standing != "out-of-use" {
		t.Errorf("marked: %v, %+v, %+v", story.Marked, story.Markings, story.Assessment)
	}

	renew := object{
		"id": newID(t).String(), "done_on": on, "person_id": person, "done": []string{"fitting-renewed"}, "fitting_id": ring,
		"new_fitting": object{"kind": "ring", "metal_text": "1.4404", "new_section_mm": 10}, "words": "an invented ring",
	}
	var done api.MaintenanceAnswer
	post(recorder, "/maintenance", renew, http.StatusCreated, &done)
	post(recorder, "/maintenance", renew, http.StatusOK, nil)
	g.get(t, at, recorder, &story)
	hangs := slices.DeleteFunc(slices.Clone(story.Fittings), func(f api.Fitting) bool { return !f.EndedOn.IsZero() || f.Kind != "ring" })
	if len(story.Maintenance) != 1 || len(hangs) != 1 || hangs[0].Id != done.Maintenance.NewFittingId || len(hangs[0].Metal) != 1 {
		t.Errorf("renewed: %+v, hanging %+v", story.Maintenance, hangs)
	}
	if story.Assessment.Standing != "out-of-use" {
		t.Errorf("maintained: %s, want out of use", story.Assessment.Standing)
	}
	bad := object{"done_on": on, "done": []string{"cleaned"}, "torque_nm": 20, "new_fitting": object{"kind": "ring"}, "fitting_id": newID(t).String()}
	if got, want := fieldsOf(t, post(recorder, "/maintenance", bad, 422, nil)), []string{"torque_nm mismatch", "new_fitting mismatch", "fitting_id no-such-reference"}; !slices.Equal(got, want) {
		t.Errorf("maintenance that cannot be right: %v, want %v", got, want)
	}

	lift := object{"done_on": on, "lifts": marked.Marking.Id.String()}
	post(recorder, "/markings", lift, 403, nil)
	if got := fieldsOf(t, post(steward, "/markings", lift, 422, nil)); !slices.Equal(got, []string{"person_id required"}) {
		t.Errorf("nobody lifts it: %v", got)
	}
	lift["person_id"] = person
	post(steward, "/markings", lift, http.StatusCreated, nil)
	g.get(t, at, recorder, &story)
	if story.Marked || story.Assessment.Band != "now" {
		t.Errorf("lifted: %v, %s", story.Marked, story.Assessment.Band)
	}
	out := object{
		"done_on": on, "how": "cored-out", "old_hole": "filled", "observations": []string{"cracked-glue"}, "metal_kept": true,
		"metal_where": "an invented shed", "stub_mm": 2,
	}
	var removed api.RemovalAnswer
	post(recorder, "/removals", out, http.StatusCreated, &removed)
	if r := removed.Removal; r.How != "cored-out" || r.OldHole != "filled" || r.MetalKept == nil || !*r.MetalKept || r.StubMm == nil || *r.StubMm != 2 {
		t.Errorf("removal = %+v", r)
	}
}

// TestWhatSettlesWhat reads the table, and refuses one that lets maintenance lift
// what a person decided, naming the row.
func TestWhatSettlesWhat(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	steward := g.tokens[registry.RoleSteward]
	var rules map[string]any
	w := g.get(t, "/v1/house-rules", steward, &rules)
	table, _ := rules["settled_by"].(map[string]any)
	row, _ := table["loose-nut"].(map[string]any)
	if text, _ := json.Marshal(row["value"]); string(text) != `["hands-on","tightened","fitting-renewed","replacement","settlement"]` || row["source"] == "" {
		t.Fatalf("loose nut is settled by %v", row)
	}
	table["verdict-take-out-of-use"].(map[string]any)["value"] = []string{"hands-on", "tightened", "replacement", "settlement"}
	put := call{method: http.MethodPut, target: "/v1/house-rules", token: steward, body: rules, header: []string{"If-Match", w.Header().Get("ETag")}}
	if got := fieldsOf(t, g.answer(t, put, 422, nil).Body.Bytes()); !slices.Equal(got, []string{"settled_by.verdict-take-out-of-use.value not-allowed"}) {
		t.Errorf("maintenance lifts a verdict: %v", got)
	}
}

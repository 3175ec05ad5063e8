package httpapi_test

import (
	"net/http"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/api"
	"rockledger/internal/registry"
)

// gluingIn is a session with every field of header and installation, which sets
// one new anchor at a new position. All of it is invented.
func gluingIn(t *testing.T, g ground) object {
	t.Helper()
	site := g.ids["sites"]
	position := g.add(t, "positions", object{"site_id": site, "label": "G1"})
	adhesive := g.add(t, "products", object{"kind": "adhesive", "name": "Invented Resin 2"})
	hardware := g.add(t, "products", object{"kind": "hardware", "name": "Invented Eye 2"})
	person := g.add(t, "persons", object{"name": "Invented Gluer"})
	anchor := newID(t).String()
	return object{
		"id": newID(t).String(), "site_id": site, "done_on": object{"from": "2026-05-02"},
		"adhesive_id": adhesive, "batch_text": "L 09 a", "expires_on": "2027-01-31", "cartridge": "3", "nozzle_new": true,
		"opened_at":           object{"from": "2026-05-02T13:00:00Z", "to": "2026-05-02T14:00:00Z", "words": "about 2"},
		"first_mix_discarded": false, "rock_c": 0, "rock_how": "measured", "air_c": 4.5, "cartridge_c": 15, "cartridge_how": "assumed",
		"night_c": -1, "night_how": "assumed", "set_by_id": person, "supervised_by_id": person, "checked_by_id": person,
		"method_statement": "v3", "sample_kept": true, "sample_where": "ledge", "sample_at_rock": true, "words": "cold",
		"anchors": []object{{"id": anchor, "position_id": position, "metal": []string{"1.4404"}}},
		"installations": []object{{
			"id": newID(t).String(), "anchor_id": anchor, "form": "twisted-leg", "hardware_id": hardware,
			"hole_diameter_mm": 16, "hole_depth_mm": 105, "cleaning_cycles": 0, "moisture": "damp",
			"set_at": object{"from": "2026-05-02T14:10:00Z"}, "rock": "hard", "rock_words": "gritstone", "rock_sound": "ringing",
			"cracks_seen": false, "edge_distance_mm": 250, "neighbour_distance_mm": 300, "angle_deg": 0, "embedded_length_mm": 100,
			"recess_cut": true, "dry_fit": true, "from_bottom": true, "fill_pct": 66, "turned": true, "as_drawn": true,
			"surplus_wiped": true, "hole": "new", "old_hole_distance_mm": 120,
		}},
	}
}

func TestRecordGluing(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	recorder := g.tokens[registry.RoleRecorder]
	body := gluingIn(t, g)
	post := call{method: http.MethodPost, target: "/v1/gluing-sessions", token: recorder, body: body}
	var first, again api.GluingAnswer
	cautioned(t, g.answer(t, post, http.StatusCreated, &first))
	g.answer(t, post, http.StatusOK, &again)
	if diff := cmp.Diff(first, again); diff != "" {
		t.Errorf("the same session again differs (-first +again):\n%s", diff)
	}
	s := first.Session
	if s.RockC == nil || *s.RockC != 0 || s.RockHow != api.HowReadMeasured || s.OpenedAt.Words != "about 2" || s.FirstMixDiscarded == nil || s.Words != "cold" {
		t.Errorf("session = %+v, want what was sent; nought degrees are a temperature", s)
	}
	i := first.Installations[0]
	if i.CleaningCycles == nil || *i.CleaningCycles != 0 || i.SetAt.To != i.SetAt.From || i.DoneOn.From.String() != "2026-05-02" || i.SessionId != s.Id {
		t.Errorf("installation = %+v, want no cleaning, one instant, the session's day", i)
	}
	// What is answered says all that was sent.
	sent := body["installations"].([]object)[0]
	var told object
	g.get(t, "/v1/gluing-sessions/"+s.Id.String(), recorder, &told)
	back := told["installations"].([]any)[0].(map[string]any)
	for name := range sent {
		if back[name] == nil {
			t.Errorf("installation answers no %s", name)
		}
	}
	head := told["session"].(map[string]any)
	for name := range body {
		if head[name] == nil && name != "batch_text" && name != "anchors" && name != "installations" {
			t.Errorf("session answers no %s", name)
		}
	}

	var story api.GluingStory
	cautioned(t, g.get(t, "/v1/gluing-sessions/"+s.Id.String(), recorder, &story))
	if len(story.Anchors) != 1 || story.Anchors[0].Standing != api.StandingNotInUseYet || len(story.Batches) != 1 || story.Batches[0].Text != "L 09 a" {
		t.Errorf("story = %+v, want one anchor not in use yet, and the batch", story)
	}
	var page api.GluingSessionList
	cautioned(t, g.get(t, "/v1/gluing-sessions?site_id="+g.ids["sites"], recorder, &page))
	if len(page.Items) != 1 || page.Items[0].Id != s.Id {
		t.Errorf("sessions = %+v, want the one", page.Items)
	}
	body["cartridge"] = "4"
	g.answer(t, post, http.StatusConflict, nil)

	cure := call{method: http.MethodPost, target: "/v1/anchors/" + i.AnchorId.String() + "/cures", token: recorder, body: object{
		"id": newID(t).String(), "done_on": object{"from": "2026-05-03"}, "installation_id": i.Id.String(), "lowest_c": -2, "lowest_how": "measured",
		"label_working_minutes": 10, "label_cure_minutes": 180, "label_c": 0, "loaded_at": object{"words": "not yet"},
	}}
	var u api.CureAnswer
	cautioned(t, g.answer(t, cure, http.StatusCreated, &u))
	g.answer(t, cure, http.StatusOK, nil)
	var whole api.AnchorStory
	g.get(t, "/v1/anchors/"+i.AnchorId.String(), recorder, &whole)
	if len(whole.Sessions) != 1 || len(whole.Cures) != 1 || cmp.Diff(u.Cure, whole.Cures[0]) != "" || cmp.Diff(s, whole.Sessions[0]) != "" {
		t.Errorf("anchor's story: sessions %+v, cures %+v; want those recorded", whole.Sessions, whole.Cures)
	}
	use := call{method: http.MethodPost, target: "/v1/anchors/" + i.AnchorId.String() + "/first-uses", token: recorder, body: object{
		"done_on": object{"from": "2026-05-03"}, "person_id": s.SetById.String(), "at": object{"from": "2026-05-03T08:00:00Z"}, "sample": "soft",
	}}
	w := g.answer(t, use, http.StatusUnprocessableEntity, nil)
	if diff := cmp.Diff([]string{"sample not-allowed"}, fieldsOf(t, w.Body.Bytes())); diff != "" {
		t.Errorf("first use beside a soft sample (-want +got):\n%s", diff)
	}
}

func TestRecordGluingRejects(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	body := gluingIn(t, g)
	i := body["installations"].([]object)[0]
	i["moisture"], i["fill_pct"], i["hardware_id"], i["colour"] = "muddy", 120, body["adhesive_id"], "red"
	body["rock_c"], body["checked_by_id"] = 200, newID(t).String()
	body["anchors"].([]object)[0]["form"] = "nail"
	w := g.answer(t, call{method: http.MethodPost, target: "/v1/gluing-sessions", token: g.tokens[registry.RoleRecorder], body: body}, http.StatusUnprocessableEntity, nil)
	want := []string{
		"anchors[0].form unknown", "checked_by_id no-such-reference", "installations[0].colour not-allowed",
		"installations[0].fill_pct out-of-range", "installations[0].hardware_id mismatch", "installations[0].moisture unknown", "rock_c out-of-range",
	}
	if diff := cmp.Diff(want, fieldsOf(t, w.Body.Bytes()), sorted(func(a, b string) bool { return a < b })); diff != "" {
		t.Errorf("violations (-want +got):\n%s", diff)
	}
	var page api.GluingSessionList
	if g.get(t, "/v1/gluing-sessions", g.tokens[registry.RoleReader], &page); len(page.Items) != 0 {
		t.Errorf("%d sessions stored, want none", len(page.Items))
	}
	how := object{"site_id": body["site_id"], "done_on": body["done_on"], "rock_how": "measured", "adhesive_id": newID(t).String()}
	w = g.answer(t, call{method: http.MethodPost, target: "/v1/gluing-sessions", token: g.tokens[registry.RoleRecorder], body: how}, http.StatusUnprocessableEntity, nil)
	if diff := cmp.Diff([]string{"adhesive_id no-such-reference", "installations required", "rock_c required"}, fieldsOf(t, w.Body.Bytes()), sorted(func(a, b string) bool { return a < b })); diff != "" {
		t.Errorf("how without a temperature (-want +got):\n%s", diff)
	}
	how = object{"done_on": object{"from": "2026-05-01"}, "lowest_how": "measured", "words": "read off the label"}
	w = g.answer(t, call{method: http.MethodPost, target: "/v1/anchors/" + g.ids["anchors"] + "/cures", token: g.tokens[registry.RoleRecorder], body: how}, http.StatusUnprocessableEntity, nil)
	if diff := cmp.Diff([]string{"lowest_c required"}, fieldsOf(t, w.Body.Bytes())); diff != "" {
		t.Errorf("a cure's how without a temperature, and nothing else wrong (-want +got):\n%s", diff)
	}
	g.answer(t, call{method: http.MethodGet, target: "/v1/gluing-sessions/" + newID(t).String(), token: g.tokens[registry.RoleReader]}, http.StatusNotFound, nil)
}

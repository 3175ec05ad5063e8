package httpapi_test

import (
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"

	"rockledger/api"
	"rockledger/internal/registry"
)

// TestSettlement answers a finding, and takes the answer back.
func TestSettlement(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	steward := tokens[registry.RoleSteward]
	at := "/v1/anchors/" + anchorAt(t, s, steward, "through bolt").Id.String()
	var people api.PersonList
	s.get(t, "/v1/persons", steward, &people)
	var before api.Assessment
	s.get(t, at+"/assessment", steward, &before)
	worst := before.Findings[0]

	post := call{method: http.MethodPost, target: at + "/settlements", token: steward, body: object{
		"id": newID(t).String(), "done_on": object{"from": "2026-05-03"}, "person_id": people.Items[0].Id.String(),
		"rule": worst.Rule, "values": worst.Values, "reason": "invented: looked at, nothing turns",
	}}
	var first, again api.SettlementAnswer
	cautioned(t, s.answer(t, post, http.StatusCreated, &first))
	s.answer(t, post, http.StatusOK, &again)
	if first.Settlement.Id != again.Settlement.Id || first.Settlement.Rule != worst.Rule {
		t.Errorf("settlement = %+v, again %+v", first, again)
	}
	var after api.Assessment
	s.get(t, at+"/assessment", steward, &after)
	i := slices.IndexFunc(after.Findings, func(f api.Finding) bool { return f.Rule == worst.Rule })
	if i < 0 || after.Findings[i].SettledBy != first.Settlement.Id || after.Standing == before.Standing {
		t.Errorf("after the settlement = %v %+v, want the finding settled and another standing than %v", after.Standing, after.Findings, before.Standing)
	}

	none := post
	none.body = object{
		"done_on": object{"from": "2026-05-03"}, "person_id": people.Items[0].Id.String(),
		"rule": "no-such-rule", "values": object{}, "reason": "x",
	}
	w := s.answer(t, none, 422, nil)
	if got := fieldsOf(t, w.Body.Bytes()); !slices.Equal(got, []string{"rule no-such-finding"}) {
		t.Errorf("settling what does not stand = %v, want rule no-such-finding", got)
	}

	back := call{method: http.MethodPost, target: at + "/retractions", token: steward, body: object{
		"id": newID(t).String(), "done_on": object{"from": "2026-05-03"}, "person_id": people.Items[0].Id.String(),
		"retracts_id": first.Settlement.Id.String(), "reason": "invented: the wrong anchor",
	}}
	cautioned(t, s.answer(t, back, http.StatusCreated, nil))
	s.answer(t, back, http.StatusOK, nil)
	var story api.AnchorStory
	s.get(t, at, steward, &story)
	if story.Assessment.Standing != before.Standing || len(story.Settlements) != 1 || len(story.Retractions) != 1 {
		t.Errorf("after the retraction = %v, %+v, %+v; want %v and both records", story.Assessment.Standing, story.Settlements, story.Retractions, before.Standing)
	}
	var history api.History
	cautioned(t, s.get(t, at+"/history", tokens[registry.RoleReader], &history))
	if len(history.Items) < 3 || slices.ContainsFunc(history.Items, func(l api.HistoryLine) bool { return l.Text == "" }) {
		t.Errorf("history = %+v, want sentences", history.Items)
	}
	s.answer(t, call{method: http.MethodPost, target: at + "/settlements", token: tokens[registry.RoleRecorder], body: post.body}, 403, nil)
	s.answer(t, call{method: http.MethodPost, target: at + "/retractions", token: tokens[registry.RoleRecorder], body: back.body}, 403, nil)
}

// TestRemoval takes an anchor out and puts a new one in its place.
func TestRemoval(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	recorder, steward := tokens[registry.RoleRecorder], tokens[registry.RoleSteward]
	line := anchorAt(t, s, recorder, "through bolt")
	at := "/v1/anchors/" + line.Id.String()
	body := object{"id": newID(t).String(), "done_on": object{"from": "2026-05-02"}, "words": "came out whole"}
	post := call{method: http.MethodPost, target: at + "/removals", token: recorder, body: body}
	cautioned(t, s.answer(t, post, http.StatusCreated, nil))
	s.answer(t, post, http.StatusOK, nil)
	var story api.AnchorStory
	s.get(t, at, recorder, &story)
	if story.Assessment.Standing != api.StandingRemoved || !story.Anchor.Removed || story.Anchor.RemovedOn.From.String() != "2026-05-02" {
		t.Errorf("anchor taken out = %+v, %+v", story.Anchor, story.Assessment)
	}

	add := call{method: http.MethodPost, target: "/v1/anchors", token: steward, body: object{
		"id": newID(t).String(), "position_id": line.PositionId.String(), "form": "glue-in-single-shank", "metal": []string{"1.4462"},
		"shank_diameter_mm": 12, "set_on": object{"from": "2026-05-02"},
	}}
	var fresh, again api.AnchorAnswer
	w := s.answer(t, add, http.StatusCreated, &fresh)
	cautioned(t, w)
	s.answer(t, add, http.StatusOK, &again)
	if w.Header().Get("ETag") != `"1"` || fresh.Anchor.SiteId != line.SiteId || fresh.Anchor.Origin != api.OriginRecorded || again.Anchor.Id != fresh.Anchor.Id {
		t.Errorf("new anchor = %s %+v", w.Header().Get("ETag"), fresh.Anchor)
	}
	var now api.Assessment
	cautioned(t, s.get(t, "/v1/anchors/"+fresh.Anchor.Id.String()+"/assessment", recorder, &now))
	if now.DueOn.IsZero() {
		t.Errorf("assessment of a new anchor = %+v, want a date", now)
	}
	s.answer(t, call{method: http.MethodPost, target: "/v1/anchors", token: recorder, body: add.body}, 403, nil)
	nowhere := s.answer(t, call{method: http.MethodPost, target: "/v1/anchors", token: steward, body: object{"position_id": newID(t).String()}}, 422, nil)
	if got := fieldsOf(t, nowhere.Body.Bytes()); !slices.Equal(got, []string{"position_id no-such-reference"}) {
		t.Errorf("an anchor nowhere = %v", got)
	}
}

// TestMeasurement records a section measured on a fitting.
func TestMeasurement(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	recorder := g.tokens[registry.RoleRecorder]
	at := "/v1/anchors/" + g.ids["anchors"]
	ring := g.add(t, strings.TrimPrefix(at, "/v1/")+"/fittings", object{"kind": "ring", "presence": "present", "new_section_mm": 10})
	post := call{method: http.MethodPost, target: at + "/inspections", token: recorder, body: object{
		"id": newID(t).String(), "done_on": object{"from": "2026-05-02"}, "level": "full",
		"measured": []object{{"fitting_id": ring, "left_mm": 9.5}, {"left_mm": 11.75, "new_mm": 12}},
	}}
	var got api.InspectionAnswer
	g.answer(t, post, http.StatusCreated, &got)
	g.answer(t, post, http.StatusOK, nil)
	m := got.Inspection.Measured
	if len(m) != 2 || m[0].FittingId.String() != ring || m[0].LeftMm != 9.5 || m[1].NewMm == nil || *m[1].NewMm != 12 {
		t.Errorf("measured = %+v", m)
	}
	post.body = object{
		"done_on": object{"from": "2026-05-02"}, "level": "full", "measured": []object{{"left_mm": 13, "new_mm": 12}},
	}
	if got := fieldsOf(t, g.answer(t, post, 422, nil).Body.Bytes()); !slices.Equal(got, []string{"measured.left_mm order"}) {
		t.Errorf("more left than there was = %v, want measured.left_mm order", got)
	}
}

// TestRecordsOfOthers holds that nothing is recorded about another group's
// anchor, which is answered like one that never was.
func TestRecordsOfOthers(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	theirs := anchorAt(t, s, tokens[registry.RoleReader], "glue-in").Id.String()
	mine := s.group(t, "other-end")[registry.RoleOwner]
	person := s.answer(t, call{method: http.MethodPost, target: "/v1/persons", token: mine, body: object{"name": "C. Tester"}}, http.StatusCreated, nil)
	who, _ := nounOf(t, person.Body.Bytes())["id"].(string)
	for path, more := range map[string]object{
		"removals":    {},
		"settlements": {"rule": "anchor-turns", "values": object{}, "reason": "x"},
		"retractions": {"retracts_id": newID(t).String(), "reason": "x"},
		"fittings":    {"kind": "ring", "presence": "present"},
	} {
		body := object{}
		if path != "fittings" {
			body = object{"done_on": object{"from": "2026-05-01"}, "person_id": who}
		}
		maps.Copy(body, more)
		post := func(anchor string) (int, string) {
			w := s.do(t, call{method: http.MethodPost, target: "/v1/anchors/" + anchor + "/" + path, token: mine, body: body})
			return w.Code, w.Body.String()
		}
		code, got := post(theirs)
		_, want := post(newID(t).String())
		if code != http.StatusNotFound || got != want {
			t.Errorf("POST %s of another group's anchor = %d %s, of none %s", path, code, got, want)
		}
	}
}

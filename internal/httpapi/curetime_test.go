package httpapi_test

import (
	"net/http"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rockledger/api"
	"rockledger/internal/registry"
)

// curing is one anchor glued at 14:00 UTC on 2 May 2026 into dry rock of 7 degC
// that cools to 6 degC, with the adhesive of glue: 100 minutes. All invented.
type curing struct {
	ground
	body            object
	anchor, another string // URL of the anchor; id of who did not set it
	set             api.GluingAnswer
}

func newCuring(t *testing.T, adhesive func(ground) string) curing {
	t.Helper()
	c := curing{ground: newGround(t)}
	c.body = gluingIn(t, c.ground)
	c.body["adhesive_id"], c.body["rock_c"], c.body["night_c"], c.body["night_how"] = adhesive(c.ground), 7, 6, "measured"
	c.body["air_c"] = 9
	i := c.body["installations"].([]object)[0]
	i["moisture"], i["cleaning_cycles"], i["set_at"] = "dry", 4, object{"from": "2026-05-02T14:00:00Z"}
	i["old_hole_distance_mm"] = 300
	c.another = c.add(t, "persons", object{"name": "Invented Releaser"})
	c.answer(t, c.post("/v1/gluing-sessions", c.body), http.StatusCreated, &c.set)
	c.anchor = "/v1/anchors/" + c.set.Installations[0].AnchorId.String()
	return c
}

func (c curing) post(target string, body object) call {
	return call{method: http.MethodPost, target: target, token: c.tokens[registry.RoleRecorder], body: body}
}

// use asks for first use by a person at a time of 2 May; no sample is not said.
func (c curing) use(person, clock, sample string) call {
	body := object{"done_on": object{"from": "2026-05-02"}, "at": object{"from": "2026-05-02T" + clock + "Z"}, "person_id": person}
	if sample != "" {
		body["sample"] = sample
	}
	return c.post(c.anchor+"/first-uses", body)
}

func (c curing) assessed(t *testing.T) (a api.Assessment) {
	t.Helper()
	c.get(t, c.anchor+"/assessment", c.tokens[registry.RoleReader], &a)
	return a
}

func (c curing) refuses(t *testing.T, r call, want ...string) {
	t.Helper()
	w := c.answer(t, r, http.StatusUnprocessableEntity, nil)
	if d := cmp.Diff(want, fieldsOf(t, w.Body.Bytes())); d != "" {
		t.Errorf("%v: refused for (-want +got):\n%s", r.body, d)
	}
}

// From the sheet over the gluing session to first use, and what stays of loading
// it early. The rules are this project's, the sheet is invented.
func TestFromSheetToFirstUse(t *testing.T) {
	t.Parallel()
	c := newCuring(t, func(g ground) string { return g.stocked(t) })
	setter := c.set.Session.SetById.String()
	if len(c.set.CureTimes) != 1 {
		t.Fatalf("%d cure times, want one", len(c.set.CureTimes))
	}
	cure := c.set.CureTimes[0]
	if cure.Basis != api.CureBasisSheet || cure.CureMinutes == nil || *cure.CureMinutes != 100 || cure.LowestC == nil || *cure.LowestC != 6 ||
		cure.LowestBy != api.LowestByNight || !cure.Assumed || cure.Wet || cure.NotBefore.Format(time.RFC3339) != "2026-05-02T15:40:00Z" {
		t.Errorf("cure time = %+v, want 100 minutes at 6 degC, assumed of the night", cure)
	}
	var session api.GluingStory
	c.get(t, "/v1/gluing-sessions/"+c.set.Session.Id.String(), c.tokens[registry.RoleReader], &session)
	var story api.AnchorStory
	c.get(t, c.anchor, c.tokens[registry.RoleReader], &story)
	if cmp.Diff(session.CureTimes, c.set.CureTimes) != "" || cmp.Diff(story.CureTime, cure) != "" {
		t.Errorf("the session tells %+v and the anchor %+v, want %+v", session.CureTimes, story.CureTime, cure)
	}

	if got := c.assessed(t).Standing; got != api.StandingNotInUseYet {
		t.Errorf("standing before first use = %v", got)
	}
	c.refuses(t, c.use(c.another, "15:39:59", "hard"), "at cure-not-over")
	c.refuses(t, c.use(c.another, "15:40:00", "soft"), "sample not-allowed")
	c.refuses(t, c.use(c.another, "15:40:00", ""), "sample required")
	c.refuses(t, c.use(setter, "15:40:00", "hard"), "person_id same-person")
	if got := c.assessed(t).Standing; got != api.StandingNotInUseYet {
		t.Errorf("standing after first use was refused = %v", got)
	}
	c.answer(t, c.use(c.another, "15:40:00", "hard"), http.StatusCreated, nil)
	if a := c.assessed(t); a.Standing == api.StandingNotInUseYet || found(a, "loaded-before-cure") {
		t.Errorf("after first use: %v, %+v", a.Standing, a.Findings)
	}

	c.answer(t, c.post(c.anchor+"/cures", object{
		"done_on": object{"from": "2026-05-02"}, "loaded_at": object{"from": "2026-05-02T15:00:00Z"},
	}), http.StatusCreated, nil)
	if a := c.assessed(t); a.Standing != api.StandingSuspect || !found(a, "loaded-before-cure") {
		t.Errorf("loaded early: %v, %+v; want suspect", a.Standing, a.Findings)
	}
	c.answer(t, c.post(c.anchor+"/inspections", object{"done_on": object{"from": "2026-05-03"}, "level": "full", "verdict": "keep"}), http.StatusCreated, nil)
	if a := c.assessed(t); a.Standing != api.StandingSuspect || !found(a, "loaded-before-cure") {
		t.Errorf("loaded early, then inspected: %v, %+v; want that it stays", a.Standing, a.Findings)
	}
}

func found(a api.Assessment, rule string) bool {
	return slices.ContainsFunc(a.Findings, func(f api.Finding) bool { return f.Rule == rule })
}

// Without a sheet there is no time until somebody reads the label, and a
// correction of the session counts for the cure.
func TestFromLabelToFirstUse(t *testing.T) {
	t.Parallel()
	c := newCuring(t, func(g ground) string {
		return g.add(t, "products", object{"kind": "adhesive", "name": "Invented Unlabelled Resin"})
	})
	if cure := c.set.CureTimes[0]; cure.Basis != api.CureBasisNone || cure.Missing != "no-sheet" || cure.CureMinutes != nil || !cure.NotBefore.IsZero() {
		t.Errorf("cure time without a sheet = %+v, want none", cure)
	}
	c.refuses(t, c.use(c.another, "20:00:00", "hard"), "at cure-not-known")
	c.answer(t, c.post(c.anchor+"/cures", object{
		"done_on": object{"from": "2026-05-02"}, "label_cure_minutes": 90, "label_c": 5,
	}), http.StatusCreated, nil)
	var story api.AnchorStory
	c.get(t, c.anchor, c.tokens[registry.RoleReader], &story)
	if cure := story.CureTime; cure.Basis != api.CureBasisLabel || *cure.CureMinutes != 90 || cure.NotBefore.Format(time.RFC3339) != "2026-05-02T15:30:00Z" {
		t.Errorf("cure time by the label = %+v", cure)
	}
	c.refuses(t, c.use(c.another, "15:29:59", "hard"), "at cure-not-over")

	correction := object{"site_id": c.body["site_id"], "done_on": c.body["done_on"], "adhesive_id": c.body["adhesive_id"], "night_c": 2, "replaces": c.set.Session.Id}
	c.answer(t, c.post("/v1/gluing-sessions", correction), http.StatusCreated, nil)
	c.refuses(t, c.use(c.another, "15:30:00", "hard"), "at cure-not-known")
	c.answer(t, c.post(c.anchor+"/cures", object{
		"done_on": object{"from": "2026-05-02"}, "label_cure_minutes": 120, "label_c": 2,
	}), http.StatusCreated, nil)
	c.answer(t, c.use(c.another, "16:00:00", "hard"), http.StatusCreated, nil)
	if got := c.assessed(t).Standing; got == api.StandingNotInUseYet {
		t.Errorf("standing after first use = %v", got)
	}
}

package httpapi_test

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/api"
	"rockledger/internal/registry"
)

// patch changes what stands at a path, in its first version.
func patch(at, token, body string) call {
	return call{
		method: http.MethodPatch, target: at, token: token, body: strings.NewReader(body),
		header: []string{"Content-Type", "application/merge-patch+json", "If-Match", `"1"`},
	}
}

// TestEveryViolationAtOnce holds that shape, meaning and references are told in
// one answer, each field once, and that nothing is stored.
func TestEveryViolationAtOnce(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	steward, nobody := g.tokens[registry.RoleSteward], newID(t).String()
	anchor := "/v1/anchors/" + g.ids["anchors"]
	post := func(path string, body object) call {
		return call{method: http.MethodPost, target: path, token: steward, body: body}
	}
	t.Run("refused", func(t *testing.T) {
		for _, c := range []struct {
			name string
			call call
			want []string
		}{
			{
				"a change of an anchor", patch(anchor, steward,
					`{"colour":"red","form":"nail","metal":["nope"],"shank_diameter_mm":-3,"set_on":{"from":"2099-01-01"}}`),
				[]string{"colour not-allowed", "form unknown", "metal unknown", "set_on date-ahead", "shank_diameter_mm not-positive"},
			},
			{
				"an inspection", post(anchor+"/inspections", object{
					"done_on": object{"from": "2026-05-04", "by": "me"}, "level": "peek", "person_id": nobody, "replaces": nobody,
					"observations": []string{"dusty"}, "inspect_by": "2026-06-01", "measured": []object{{"left_mm": -1, "fitting_id": nobody}},
				}),
				[]string{
					"done_on date-ahead", "done_on.by not-allowed", "inspect_by mismatch", "level unknown", "measured.left_mm not-positive",
					"measured[0].fitting_id no-such-reference", "observations[0] unknown", "person_id no-such-reference", "replaces no-such-reference",
				},
			},
			{
				"an installation", post(anchor+"/installations", object{
					"done_on": object{"from": "2026-05-01"}, "hole_depth_mm": -1, "adhesive_id": nobody, "batch_id": nobody, "person_id": nobody,
				}),
				[]string{
					"adhesive_id no-such-reference", "batch_id no-such-reference", "hole_depth_mm not-positive", "person_id no-such-reference",
				},
			},
			{
				"a settlement", post(anchor+"/settlements", object{"person_id": nobody, "values": object{}, "reason": " "}),
				[]string{"done_on required", "person_id no-such-reference", "reason blank", "rule required"},
			},
			{
				"a position without its site", post("/v1/positions", object{
					"label": " ", "sector_id": g.ids["sectors"], "face": "ice", "parcel_id": nobody, "stops": []object{{"route_id": nobody, "rank": 0}},
				}),
				[]string{
					"face unknown", "label blank", "parcel_id no-such-reference", "site_id required", "stops.rank not-positive",
					"stops.route_id no-such-reference",
				},
			},
			{
				"a notice", post("/v1/notices", object{
					"title": "", "issued_on": "2026-05-04", "inspect_by": "2026-05-01", "anchor_ids": []string{nobody},
				}),
				[]string{"anchor_ids no-such-reference", "inspect_by order", "issued_on date-ahead", "title blank"},
			},
			{
				"a statement of no climate", post("/v1/environments", object{"place_kind": "moon", "place_id": nobody, "humidity_pct": 120}),
				[]string{"from required", "humidity_pct out-of-range", "place_kind unknown"},
			},
			{
				"another case is another name", post("/v1/sites", object{"name": "Gull Stack", "NAME": "", "kind": "crag"}),
				[]string{"NAME not-allowed"},
			},
			{"only too much", post("/v1/sites", object{"name": "Gull Stack", "kind": "crag", "colour": "red"}), []string{"colour not-allowed"}},
			{"a change of nothing", patch(anchor, steward, `{"colour":"red"}`), []string{"colour not-allowed"}},
			{
				"a filter",
				call{method: http.MethodGet, target: "/v1/anchors?metal=xyz&standing=safe&colour=red", token: steward},
				[]string{"colour not-allowed", "metal unknown-metal", "standing unknown"},
			},
		} {
			t.Run(c.name, func(t *testing.T) {
				t.Parallel()
				w := g.answer(t, c.call, http.StatusUnprocessableEntity, nil)
				if diff := cmp.Diff(c.want, fieldsOf(t, w.Body.Bytes()), sorted(func(a, b string) bool { return a < b })); diff != "" {
					t.Errorf("violations (-want +got):\n%s", diff)
				}
			})
		}
	})
	var sites api.SiteList
	if g.get(t, "/v1/sites", steward, &sites); len(sites.Items) != 1 {
		t.Errorf("sites = %+v, want the one there was", sites.Items)
	}
	w := g.get(t, anchor, steward, nil)
	if w.Header().Get("ETag") != `"1"` {
		t.Errorf("the anchor has version %s, want 1", w.Header().Get("ETag"))
	}
}

// TestNoBodyBreaks sends every operation a body of which nothing is known: it
// is refused, and by nothing that is ours.
func TestNoBodyBreaks(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	for path, item := range spec(t).Paths.Map() {
		for method, op := range item.Operations() {
			if op.RequestBody == nil || op.RequestBody.Value.Content["multipart/form-data"] != nil || strings.Contains(path, "house-rules") {
				continue
			}
			for media := range op.RequestBody.Value.Content {
				for _, body := range []string{`{"surplus":true}`, `{"surplus":[{"a":1}],"id":null}`, `[]`, `null`} {
					r := httptest.NewRequestWithContext(t.Context(), method, strings.ReplaceAll(path, "{id}", g.ids["anchors"]), strings.NewReader(body))
					r.Header.Set("Content-Type", media)
					r.Header.Set("If-Match", `"1"`)
					r.Header.Set("Authorization", "Bearer "+g.tokens[registry.RoleOwner])
					w := httptest.NewRecorder()
					if g.echo.ServeHTTP(w, r); w.Code != http.StatusUnprocessableEntity {
						t.Errorf("%s %s %s = %d %s, want 422", method, path, body, w.Code, w.Body)
					}
				}
			}
		}
	}
}

// TestContactIsOwners holds that a steward neither gives a contact nor takes it
// away.
func TestContactIsOwners(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	at := "/v1/landowners/" + g.ids["landowners"]
	for _, body := range []string{`{"contact":"here"}`, `{"contact":null}`, `{"contact":null,"colour":"red"}`} {
		g.answer(t, patch(at, g.tokens[registry.RoleSteward], body), http.StatusForbidden, nil)
	}
	g.answer(t, patch(at, g.tokens[registry.RoleSteward], `{"name":"Invented Croft"}`), http.StatusOK, nil)
}

// TestOccupied holds that a place where an anchor stands does not end, and that
// one comes out before the next is set.
func TestOccupied(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	steward := g.tokens[registry.RoleSteward]
	anchor := anchorAt(t, g.stack, steward, "glue-in")
	post := call{method: http.MethodPost, target: "/v1/anchors", token: steward, body: object{"position_id": anchor.PositionId.String()}}
	refused := func(c call, want, text string) {
		t.Helper()
		w := g.answer(t, c, http.StatusUnprocessableEntity, nil)
		if got := fieldsOf(t, w.Body.Bytes()); len(got) != 1 || got[0] != want || !strings.Contains(w.Body.String(), text) {
			t.Errorf("%s %s = %s, want %s: %s", c.method, c.target, w.Body, want, text)
		}
	}
	refused(post, "position_id in-use", "An anchor stands at this position already.")
	for path, text := range map[string]string{
		"sites/" + anchor.SiteId.String():         "3 anchors still stand here.",
		"positions/" + anchor.PositionId.String(): "One anchor still stands here.",
	} {
		refused(patch("/v1/"+path, steward, `{"ended_on":"2026-05-01"}`), "ended_on in-use", text)
	}
	out := object{"done_on": object{"from": "2026-05-01"}}
	g.answer(t, call{method: http.MethodPost, target: "/v1/anchors/" + anchor.Id.String() + "/removals", token: steward, body: out}, http.StatusCreated, nil)
	g.answer(t, post, http.StatusCreated, nil)
}

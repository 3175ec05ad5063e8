package httpapi_test

import (
	"encoding/json"
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/api"
	"rockledger/internal/registry"
)

// square is an outline near Gutter Edge, west of the meridian given; invented.
func square(west float64) object {
	east := west + 0.01
	return object{"type": "Polygon", "coordinates": [][][]float64{
		{{west, 54}, {east, 54}, {east, 54.01}, {west, 54.01}, {west, 54}},
	}}
}

// ground is a stack with one of everything that the inventory's nouns point
// to: ids by kind. All of it is invented.
type ground struct {
	*stack
	tokens map[registry.Role]string
	ids    map[string]string
}

func newGround(t *testing.T) ground {
	t.Helper()
	s, tokens := filled(t)
	g := ground{s, tokens, idsOf(t, s, tokens[registry.RoleReader])}
	var places struct{ Items []struct{ ID string } }
	g.get(t, "/v1/positions", tokens[registry.RoleReader], &places)
	g.ids["positions"], g.ids["other position"] = places.Items[0].ID, places.Items[1].ID
	g.ids["landowners"] = g.add(t, "landowners", object{"name": "Invented Farm"})
	return g
}

// add adds a noun and returns its id.
func (g ground) add(t *testing.T, kind string, body object) string {
	t.Helper()
	w := g.answer(t, call{
		method: http.MethodPost, target: "/v1/" + kind, token: g.tokens[registry.RoleOwner], body: body,
	}, http.StatusCreated, nil)
	return g.member(t, w.Body.Bytes(), "id")
}

// member reads a text of an answer's noun, which may stand beside a caution.
func (g ground) member(t *testing.T, body []byte, name string) string {
	t.Helper()
	text, _ := nounOf(t, body)[name].(string)
	return text
}

func nounOf(t *testing.T, body []byte) object {
	t.Helper()
	var o object
	if err := json.Unmarshal(body, &o); err != nil {
		t.Fatal(err)
	}
	if _, plain := o["id"]; !plain {
		for name, v := range o {
			if inner, ok := v.(map[string]any); ok && name != "caution" {
				return inner
			}
		}
	}
	return o
}

// noun is one kind of inventory: how one is added and changed.
type noun struct {
	path, list string // list is empty where it is the path
	body       object
	patch      string // a change
	changed    string // the member that it changes
}

// nouns are all of the inventory's, with what each needs at least and more.
func nouns(g ground) []noun {
	site, route, position := g.ids["sites"], g.ids["routes"], g.ids["positions"]
	return []noun{
		{path: "sites", body: object{"name": "Gull Stack", "kind": "sea-cliff", "lat": 54.2, "lon": -3.1, "first_round_ends": "2026-12-31"}, patch: `{"lat":null,"lon":null,"name":"Gull Stacks"}`, changed: "name"},
		{path: "sectors", body: object{"site_id": site, "name": "Far Wall"}, patch: `{"ended_on":"2026-05-01"}`, changed: "ended_on"},
		{path: "routes", body: object{"site_id": site, "name": "Long Way", "kind": "climb", "traffic": "seldom"}, patch: `{"traffic":null,"kind":"abseil"}`, changed: "kind"},
		{path: "positions", body: object{"site_id": site, "label": "B1", "role": "belay", "backed_up": false, "stops": []object{{"route_id": route, "rank": 7}}}, patch: `{"face":"slab","stops":[]}`, changed: "face"},
		{path: "assemblies", body: object{"site_id": site, "name": "Top belay", "kind": "equalised", "position_ids": []string{position, g.ids["other position"]}}, patch: `{"kind":"in-series"}`, changed: "kind"},
		{path: "persons", body: object{"name": "B. Tester"}, patch: `{"name":"Bo Tester"}`, changed: "name"},
		{path: "landowners", body: object{"name": "Invented Trust", "contact": "invented, by the gate"}, patch: `{"contact":"at the mill"}`, changed: "contact"},
		{path: "parcels", body: object{"landowner_id": g.ids["landowners"], "name": "Lower field", "outline": square(-3)}, patch: `{"name":"Upper field"}`, changed: "name"},
		{path: "agreements", body: object{"landowner_id": g.ids["landowners"], "kind": "permission", "issuer": "Invented Farm", "from": "2020-01-01"}, patch: `{"until":"2027-01-01"}`, changed: "until"},
		{path: "restrictions", body: object{"place_kind": "site", "place_id": site, "kind": "climbing", "why": "nesting", "weight": "agreement", "yearly": object{"from_month": 11, "from_day": 1, "to_month": 2, "to_day": 28}}, patch: `{"yearly":{"from_month":2,"from_day":1,"to_month":6,"to_day":30},"confirmed_on":"2026-05-01"}`, changed: "confirmed_on"},
		{path: "products", body: object{"kind": "hardware", "name": "Invented bolt", "form": "through-bolt", "metal": []string{"1.4404"}}, patch: `{"metal":["1.4462"],"maker":"invented"}`, changed: "maker"},
		{path: "batches", body: object{"text": "Q 1", "received_on": "2026-01-01", "expires_on": "2026-07-02", "count_received": 12, "count_on_hand": 7}, patch: `{"ended_on":"2026-05-01","count_on_hand":0}`, changed: "ended_on"},
		{path: "environments", body: object{"place_kind": "site", "place_id": site, "from": "2020-01-01", "sea_km": 0.4, "washed": false, "source": "map"}, patch: `{"sea_km":null,"road_km":3,"wetness":null,"source":"map and visit"}`, changed: "source"},
		{path: "events", body: object{"site_id": site, "kind": "rockfall", "happened_on": "2026-05-01"}, patch: `{"inspect_by":"2026-05-20","closed":true}`, changed: "inspect_by"},
		{path: "notices", body: object{"title": "Invented recall", "issued_on": "2026-05-01", "inspect_by": "2026-06-01", "anchor_ids": []string{g.ids["anchors"]}}, patch: `{"ended_on":"2026-05-02","ended_reason":"invented"}`, changed: "ended_on"},
		{path: "anchors/" + g.ids["anchors"] + "/fittings", list: "fittings", body: object{"kind": "ring", "presence": "present", "metal": []string{"1.4404"}, "new_section_mm": 10}, patch: `{"ended_on":"2026-05-01","set_on":{"from":"2020-01-01"}}`, changed: "ended_on"},
	}
}

// at is the path of one of the noun.
func (n noun) at(id string) string {
	if n.list != "" {
		return "/v1/" + n.list + "/" + id
	}
	return "/v1/" + n.path + "/" + id
}

// TestInventory adds, reads, lists and changes one of every noun.
func TestInventory(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	owner := g.tokens[registry.RoleOwner]
	for _, n := range nouns(g) {
		t.Run(n.at("id"), func(t *testing.T) {
			post := call{method: http.MethodPost, target: "/v1/" + n.path, token: owner, body: n.body}
			n.body["id"] = newID(t).String()
			at := n.at(n.body["id"].(string))

			first := g.answer(t, post, http.StatusCreated, nil)
			again := g.answer(t, post, http.StatusOK, nil)
			one := g.get(t, at, owner, nil)
			if first.Header().Get("ETag") != `"1"` || first.Body.String() != again.Body.String() || first.Body.String() != one.Body.String() {
				t.Fatalf("added %s %s\nagain %s\nread %s", first.Header().Get("ETag"), first.Body, again.Body, one.Body)
			}
			sent, got := asJSON(t, n.body), nounOf(t, first.Body.Bytes())
			for name, want := range sent {
				if diff := cmp.Diff(want, got[name]); diff != "" {
					t.Errorf("member %s as stored (-sent +stored):\n%s", name, diff)
				}
			}
			other := maps.Clone(n.body)
			for _, name := range []string{"name", "label", "why", "text", "source", "issuer", "title", "words"} {
				if _, has := other[name]; has {
					other[name] = "something else"
				}
			}
			switch n.list + n.path {
			case "events":
				other["words"] = "something else"
			case n.list + "anchors/" + g.ids["anchors"] + "/fittings":
				other["text"] = "something else"
			}
			post.body = other
			g.answer(t, post, http.StatusConflict, nil)

			if w := g.get(t, "/v1/"+n.path+"?limit=500", owner, nil); !strings.Contains(w.Body.String(), n.body["id"].(string)) {
				t.Errorf("list does not hold what was added: %s", w.Body)
			}
			for etag, want := range map[string]int{"": 428, `"7"`: 412, "one": 400} {
				if w := g.patch(t, at, owner, etag, n.patch); w.Code != want {
					t.Errorf("PATCH with If-Match %q = %d %s, want %d", etag, w.Code, w.Body, want)
				}
			}
			w := g.patch(t, at, owner, `"1"`, n.patch)
			if w.Code != http.StatusOK || w.Header().Get("ETag") != `"2"` {
				t.Fatalf("PATCH = %d %s %s, want 200 and ETag \"2\"", w.Code, w.Header().Get("ETag"), w.Body)
			}
			var asked object
			if err := json.Unmarshal([]byte(n.patch), &asked); err != nil {
				t.Fatal(err)
			}
			if got := g.member(t, w.Body.Bytes(), n.changed); got != asked[n.changed] {
				t.Errorf("%s after %s = %q", n.changed, n.patch, got)
			}
			if now := g.get(t, at, owner, nil); now.Body.String() != w.Body.String() {
				t.Errorf("read %s after a change to %s", now.Body, w.Body)
			}
		})
	}
}

// asJSON is a body as it is sent.
func asJSON(t *testing.T, body object) object {
	t.Helper()
	text, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	var out object
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// TestInventoryOfOthers holds that what is another group's is answered, byte
// for byte, like what never was, whether it is read or changed.
func TestInventoryOfOthers(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	mine := g.group(t, "other-end")[registry.RoleOwner]
	for _, n := range nouns(g) {
		id := g.add(t, n.path, n.body)
		never := newID(t).String()
		for name, ask := range map[string]func(id string) (int, string){
			"GET": func(id string) (int, string) {
				w := g.do(t, call{method: http.MethodGet, target: n.at(id), token: mine})
				return w.Code, w.Body.String()
			},
			"PATCH": func(id string) (int, string) {
				w := g.patch(t, n.at(id), mine, `"1"`, n.patch)
				return w.Code, w.Body.String()
			},
		} {
			code, body := ask(id)
			wantCode, want := ask(never)
			if code != http.StatusNotFound || code != wantCode || body != want {
				t.Errorf("%s %s of another group = %d %s, of a random id %d %s", name, n.at(id), code, body, wantCode, want)
			}
		}
	}
	for _, path := range []string{
		"/v1/positions/%/environment", "/v1/products/%/versions", "/v1/anchors/%/fittings", "/v1/anchors/%/history",
	} {
		kind := strings.Split(path, "/")[2]
		theirs := g.do(t, call{method: http.MethodGet, target: strings.Replace(path, "%", g.ids[kind], 1), token: mine})
		never := g.do(t, call{method: http.MethodGet, target: strings.Replace(path, "%", newID(t).String(), 1), token: mine})
		if theirs.Code != http.StatusNotFound || theirs.Body.String() != never.Body.String() {
			t.Errorf("GET %s of another group = %d %s, of a random id %d %s", path, theirs.Code, theirs.Body, never.Code, never.Body)
		}
	}
}

// TestInventoryByRole holds that readers and recorders change nothing of the
// inventory, but that recorders may name a person.
func TestInventoryByRole(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	for _, n := range nouns(g) {
		for _, role := range []registry.Role{registry.RoleReader, registry.RoleRecorder} {
			if role == registry.RoleRecorder && n.path == "persons" {
				g.answer(t, call{method: http.MethodPost, target: "/v1/persons", token: g.tokens[role], body: n.body}, http.StatusCreated, nil)
				continue
			}
			g.answer(t, call{method: http.MethodPost, target: "/v1/" + n.path, token: g.tokens[role], body: n.body}, http.StatusForbidden, nil)
			if w := g.patch(t, n.at(someID), g.tokens[role], `"1"`, n.patch); w.Code != http.StatusForbidden {
				t.Errorf("PATCH %s as %s = %d, want 403", n.path, role, w.Code)
			}
		}
	}
}

// TestContact holds that a landowner's contact is the owners' alone.
func TestContact(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	const contact = "invented-contact-by-the-gate"
	body := object{"name": "Invented Mill", "contact": contact}
	steward, owner := g.tokens[registry.RoleSteward], g.tokens[registry.RoleOwner]
	g.answer(t, call{method: http.MethodPost, target: "/v1/landowners", token: steward, body: body}, http.StatusForbidden, nil)
	at := "/v1/landowners/" + g.add(t, "landowners", body)

	for _, role := range []registry.Role{registry.RoleReader, registry.RoleRecorder, registry.RoleSteward} {
		for _, path := range []string{at, "/v1/landowners", "/v1/reports/land?detail=true"} {
			if w := g.get(t, path, g.tokens[role], nil); strings.Contains(w.Body.String(), contact) {
				t.Errorf("GET %s as %s shows the contact", path, role)
			}
		}
	}
	if w := g.patch(t, at, steward, `"1"`, `{"contact":"mine"}`); w.Code != http.StatusForbidden {
		t.Errorf("PATCH of a contact by a steward = %d %s, want 403", w.Code, w.Body)
	}
	if w := g.patch(t, at, steward, `"1"`, `{"name":"Invented Old Mill"}`); w.Code != http.StatusOK || strings.Contains(w.Body.String(), contact) {
		t.Errorf("PATCH of a name by a steward = %d %s, want 200 without the contact", w.Code, w.Body)
	}
	var kept api.Landowner
	if g.get(t, at, owner, &kept); kept.Contact != contact || kept.Name != "Invented Old Mill" {
		t.Errorf("landowner after a steward's change = %+v, want the contact kept", kept)
	}
	w := g.do(t, call{method: http.MethodGet, target: "/v1/reports/land", token: owner, header: []string{"Accept", "text/csv"}})
	if strings.Contains(w.Body.String(), contact) {
		t.Errorf("land report shows the contact: %s", w.Body)
	}
}

// TestInventoryRejects holds that what cannot be right is told by field.
func TestInventoryRejects(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	site, nobody := g.ids["sites"], newID(t).String()
	restriction := func(edit object) object {
		o := object{"place_kind": "site", "place_id": site, "kind": "drilling", "why": "roost", "weight": "law", "from": "2026-01-01"}
		maps.Copy(o, edit)
		return o
	}
	for _, c := range []struct {
		name, path string
		body       object
		want       []string
	}{
		{"a site without a name", "sites", object{"name": " ", "kind": "crag"}, []string{"name blank"}},
		{"a kind that is none", "sites", object{"name": "x", "kind": "hill"}, []string{"kind unknown"}},
		{"coordinates by half", "sites", object{"name": "x", "kind": "crag", "lat": 3}, []string{"lon required"}},
		{"a cave on the map", "sites", object{"name": "x", "kind": "cave", "lat": 3, "lon": 3}, []string{"lat mismatch"}},
		{"a sector of no site", "sectors", object{"site_id": nobody, "name": "x"}, []string{"site_id no-such-reference"}},
		{"a route twice at a position", "positions", object{"site_id": site, "label": "x", "stops": []object{{"route_id": g.ids["routes"], "rank": 1}, {"route_id": g.ids["routes"], "rank": 2}}}, []string{"stops.route_id duplicate"}},
		{"an assembly of one", "assemblies", object{"site_id": site, "name": "x", "position_ids": []string{g.ids["positions"]}}, []string{"position_ids too-short"}},
		{"a grade that does not exist", "products", object{"kind": "hardware", "name": "x", "metal": []string{"1.9999"}}, []string{"metal[0] unknown"}},
		{"permission of nobody", "agreements", object{"kind": "permission", "issuer": "x", "from": "2026-01-01"}, []string{"landowner_id required"}},
		{"an agreement that ends before it begins", "agreements", object{"kind": "consent", "issuer": "x", "from": "2026-01-02", "until": "2026-01-01"}, []string{"until order"}},
		{"a day that no year has", "restrictions", restriction(object{"yearly": object{"from_month": 2, "from_day": 30, "to_month": 4, "to_day": 31}}), []string{"yearly.from_day no-such-day", "yearly.to_day no-such-day"}},
		{"a month that no year has", "restrictions", restriction(object{"yearly": object{"from_month": 0, "from_day": 1, "to_month": 13, "to_day": 1}}), []string{"yearly.from_month out-of-range", "yearly.to_month out-of-range"}},
		{"a restriction with no day", "restrictions", object{"place_kind": "site", "place_id": site, "kind": "entry", "why": "x", "weight": "law"}, []string{"from required"}},
		{"a restriction of nowhere", "restrictions", object{"kind": "entry", "why": "x", "weight": "law", "from": "2026-01-01"}, []string{"place_id required"}},
		{"a place that is not there", "restrictions", restriction(object{"place_id": nobody}), []string{"place_id no-such-reference"}},
		{"a parcel that crosses itself", "parcels", object{"landowner_id": g.ids["landowners"], "name": "x", "outline": object{"type": "Polygon", "coordinates": [][][]float64{{{0, 0}, {1, 1}, {1, 0}, {0, 1}, {0, 0}}}}}, []string{"outline crosses-itself"}},
		{"a parcel without a name", "parcels", object{"landowner_id": g.ids["landowners"]}, []string{"name required"}},
		{"an outline that is none", "parcels", object{"landowner_id": g.ids["landowners"], "name": "x", "outline": object{"type": "Point", "coordinates": []float64{0, 0}}}, []string{"outline malformed"}},
		{"an environment that ends before it begins", "environments", object{"place_kind": "site", "place_id": site, "from": "2026-01-02", "until": "2026-01-01", "sea_km": 1}, []string{"until order"}},
		{"a humidity that is none", "environments", object{"place_kind": "site", "place_id": site, "from": "2026-01-02", "humidity_pct": 130}, []string{"humidity_pct out-of-range"}},
		{"an event ahead of today", "events", object{"site_id": site, "kind": "flood", "happened_on": "2026-05-04"}, []string{"happened_on date-ahead"}},
		{"a notice about nothing", "notices", object{"title": "x", "issued_on": "2026-05-01", "inspect_by": "2026-06-01", "anchor_ids": []string{}}, []string{"anchor_ids required"}},
		{"a version of no sheet", "products/" + g.ids["products"] + "/versions", object{"from": "2026-01-01", "source": "", "cartridge_ml": -1}, []string{"source blank", "cartridge_ml not-positive"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := g.answer(t, call{method: http.MethodPost, target: "/v1/" + c.path, token: g.tokens[registry.RoleOwner], body: c.body}, 422, nil)
			got := fieldsOf(t, w.Body.Bytes())
			slices.Sort(got)
			slices.Sort(c.want)
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("violations (-want +got):\n%s", diff)
			}
		})
	}
}

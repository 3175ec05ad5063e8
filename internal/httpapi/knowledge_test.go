package httpapi_test

import (
	"encoding/json"
	"maps"
	"math"
	"net/http"
	"slices"
	"strings"
	"testing"

	"rockledger/api"
	"rockledger/internal/registry"
)

// TestCorrosion estimates one climate. The first-year rate of carbon steel is
// equation (1) of ISO 9223:2012 by hand, for 10 degrees, 75 % and 5 and 3
// mg/(m2 day); the loss is equation (1) of ISO 9224:2012 with its exponents
// 0.523 and 0.575 for carbon steel (Table 2).
func TestCorrosion(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	reader := s.group(t, "fell-end")[registry.RoleReader]
	body := object{"temperature_c": 10, "humidity_pct": 75, "sulphur_dioxide_mg_per_m2_day": 5, "chloride_mg_per_m2_day": 3}
	post := call{method: http.MethodPost, target: "/v1/corrosion/estimate", token: reader, body: body}
	var got api.CorrosionEstimate
	cautioned(t, s.answer(t, post, http.StatusOK, &got))
	steel := got.Metals.CarbonSteel
	if math.Abs(steel.RateUmPerYear-21.8909) > 5e-4 || steel.Category != "C2" || steel.LossUm != nil {
		t.Errorf("carbon steel = %+v, want 21.8909 um in the first year, C2, no loss", steel)
	}
	if len(got.Warnings) != 0 || len(got.Sources) == 0 {
		t.Errorf("warnings %v, sources %v, want none and some", got.Warnings, got.Sources)
	}

	body["years"], body["humidity_pct"] = 10, 97
	got = api.CorrosionEstimate{}
	s.answer(t, post, http.StatusOK, &got)
	steel = got.Metals.CarbonSteel
	if steel.LossUm == nil || math.Abs(steel.LossUm.B1-steel.RateUmPerYear*math.Pow(10, 0.523)) > 1e-6 ||
		math.Abs(steel.LossUm.B2-steel.RateUmPerYear*math.Pow(10, 0.575)) > 1e-6 {
		t.Errorf("loss in ten years = %+v at %v um a year", steel.LossUm, steel.RateUmPerYear)
	}
	if len(got.Warnings) != 1 || got.Warnings[0].Text == "" || got.Used.HumidityPct != 93 {
		t.Errorf("warnings at 97 %% = %+v, used %+v, want one and 93 %%", got.Warnings, got.Used)
	}

	post.body = object{"temperature_c": 100, "humidity_pct": 101, "sulphur_dioxide_mg_per_m2_day": -1, "chloride_mg_per_m2_day": 20000, "years": -1}
	w := s.answer(t, post, 422, nil)
	want := []string{
		"chloride_mg_per_m2_day out-of-range", "humidity_pct out-of-range", "sulphur_dioxide_mg_per_m2_day negative",
		"temperature_c out-of-range", "years negative",
	}
	if got := fieldsOf(t, w.Body.Bytes()); !slices.Equal(slices.Sorted(slices.Values(got)), want) {
		t.Errorf("violations of an impossible climate = %v, want %v", got, want)
	}
}

// TestHouseRules reads, tries and adopts house rules.
func TestHouseRules(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	steward, reader := tokens[registry.RoleSteward], tokens[registry.RoleReader]
	const at = "/v1/house-rules"
	var rules map[string]any
	if w := s.get(t, at, reader, &rules); w.Header().Get("ETag") != `"1"` || len(rules) == 0 {
		t.Fatalf("house rules = %s %s, want some and ETag \"1\"", w.Header().Get("ETag"), w.Body)
	}
	put := func(etag string, body any) call {
		return call{method: http.MethodPut, target: at, token: steward, body: body, header: []string{"If-Match", etag}}
	}
	s.answer(t, call{method: http.MethodPut, target: at, token: steward, body: rules}, 428, nil)
	s.answer(t, put(`"9"`, rules), 412, nil)
	s.answer(t, call{method: http.MethodPut, target: at, token: reader, body: rules}, 403, nil)

	first := halved(t, rules, "first_inspection")
	try := call{method: http.MethodPost, target: at + "/preview", token: steward, body: first}
	var p api.RulesPreview
	cautioned(t, s.answer(t, try, http.StatusOK, &p))
	if p.Anchors != 3 || p.DueEarlier+p.DueLater+p.Unchanged != p.Anchors {
		t.Errorf("preview = %+v, want the 3 anchors in the rock", p)
	}
	if w := s.get(t, at, reader, nil); w.Header().Get("ETag") != `"1"` {
		t.Errorf("a preview made version %s", w.Header().Get("ETag"))
	}
	if w := s.answer(t, put(`"1"`, first), http.StatusOK, nil); w.Header().Get("ETag") != `"2"` {
		t.Errorf("house rules adopted = %s %s, want ETag \"2\"", w.Header().Get("ETag"), w.Body)
	}
	s.answer(t, put(`"1"`, first), 412, nil)

	const interval = "first_inspection_months"
	for name, broken := range map[string]map[string]any{
		"no_such_table": with(rules, "no_such_table", 1),
		interval:        with(rules, interval, object{"value": -1, "source": "invented"}),
	} {
		try.body = broken
		got := fieldsOf(t, s.answer(t, try, 422, nil).Body.Bytes())
		if len(got) != 1 || !strings.HasPrefix(got[0], name) {
			t.Errorf("violations of rules with a broken %s = %v, want it alone", name, got)
		}
		s.answer(t, put(`"2"`, broken), 422, nil)
	}
}

// halved returns house rules with every number of the tables whose name holds
// part halved.
func halved(t *testing.T, rules map[string]any, part string) map[string]any {
	t.Helper()
	out := asJSON(t, rules)
	for name, table := range out {
		if strings.Contains(name, part) {
			out[name] = half(table)
		}
	}
	return out
}

func half(v any) any {
	switch v := v.(type) {
	case float64:
		return math.Max(1, math.Floor(v/2))
	case map[string]any:
		for name, inner := range v {
			v[name] = half(inner)
		}
	}
	return v
}

func with(rules map[string]any, name string, v any) map[string]any {
	out := maps.Clone(rules)
	out[name] = v
	return out
}

// TestPositionEnvironment holds that each field names the place it comes from.
func TestPositionEnvironment(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	reader := g.tokens[registry.RoleReader]
	g.add(t, "environments", object{"place_kind": "site", "place_id": g.ids["sites"], "from": "2020-01-01", "sea_km": 0.4, "washed": true})
	near := g.add(t, "environments", object{"place_kind": "position", "place_id": g.ids["positions"], "from": "2021-01-01", "washed": false})

	at := "/v1/positions/" + g.ids["positions"] + "/environment"
	var now, before api.PositionEnvironment
	g.get(t, at, reader, &now)
	g.get(t, at+"?as_of=2020-06-01", reader, &before)
	if f := field(now, "washed"); f.Value != "false" || f.PlaceKind != api.PlaceKindPosition || f.EnvironmentId.String() != near {
		t.Errorf("washed = %+v, want what the position says", f)
	}
	if f := field(now, "sea_km"); f.Value != "0.4" || f.PlaceKind != api.PlaceKindSite {
		t.Errorf("sea_km = %+v, want what the site says", f)
	}
	if f := field(before, "washed"); f.Value != "true" || before.AsOf.String() != "2020-06-01" {
		t.Errorf("washed as of %v = %+v, want what the site says", before.AsOf, f)
	}
	if f := field(now, "coast"); f.Field != "" {
		t.Errorf("coast = %+v, want nothing", f)
	}
}

func field(e api.PositionEnvironment, name string) api.EnvironmentField {
	for _, f := range e.Fields {
		if f.Field == name {
			return f
		}
	}
	return api.EnvironmentField{}
}

// TestProductVersions adds sheets to a product.
func TestProductVersions(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	at := "/v1/products/" + g.add(t, "products", object{"kind": "hardware", "name": "Invented Bolt"}) + "/versions"
	post := call{method: http.MethodPost, target: at, token: g.tokens[registry.RoleSteward], body: object{
		"id": newID(t).String(), "from": "2024-01-01", "source": "sheet of January 2024", "hole_diameter_mm": 14, "rated_axial_kn": 20,
	}}
	var first, again api.ProductVersionAnswer
	cautioned(t, g.answer(t, post, http.StatusCreated, &first))
	g.answer(t, post, http.StatusOK, &again)
	if v := again.ProductVersion; v.RatedAxialKn == nil || *v.RatedAxialKn != 20 || v.HoleDiameterMm == nil || v.ShankDiameterMm != nil {
		t.Errorf("sheet = %+v", v)
	}
	var list api.ProductVersionList
	if cautioned(t, g.get(t, at, g.tokens[registry.RoleReader], &list)); len(list.Items) != 1 {
		t.Errorf("sheets = %+v, want one", list.Items)
	}
	eye := "/v1/products/" + g.add(t, "products", object{"kind": "hardware", "name": "Invented Eye"}) + "/versions"
	short := post
	short.target, short.body = eye, object{"from": "2025-01-01", "source": "sheet of January 2025", "rated_axial_kn": 14.9, "rated_radial_kn": 25}
	var noted api.ProductVersionAnswer
	g.answer(t, short, http.StatusCreated, &noted)
	g.get(t, eye, g.tokens[registry.RoleReader], &list)
	if n := noted.ProductVersion.Notes; len(n) != 1 || !strings.Contains(n[0], "14.9 kN") || len(list.Items) != 1 || len(list.Items[0].Notes) != 1 {
		t.Errorf("notes = %q, listed %+v; want one about 14.9 kN", n, list.Items)
	}
	post.target = "/v1/products/" + newID(t).String() + "/versions"
	g.answer(t, post, http.StatusNotFound, nil)
}

// TestWorkAndLand asks for the work list and the land report in both forms.
func TestWorkAndLand(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	reader := tokens[registry.RoleReader]
	var work api.WorkReport
	cautioned(t, s.get(t, "/v1/reports/work", reader, &work))
	if len(work.Items) == 0 || work.Replace+work.Repair+work.Inspect != len(work.Items) {
		t.Errorf("work list = %+v, want the anchor that spins", work)
	}
	var land api.LandReport
	cautioned(t, s.get(t, "/v1/reports/land?from=2026-01-01&to=2026-12-31&detail=true", reader, &land))
	if len(land.Landowners) == 0 || land.Landowners[0].Name != "Invented Estate" || land.Landowners[0].Anchors != 3 {
		t.Fatalf("land report = %+v, want Invented Estate with 3 anchors", land)
	}
	owner := land.Landowners[0].LandownerId.String()
	var one api.LandReport
	s.get(t, "/v1/reports/land?landowner_id="+owner, reader, &one)
	if len(one.Landowners) != 1 || len(one.Landowners[0].Lines) != 0 {
		t.Errorf("land report of one = %+v, want one landowner, not anchor by anchor", one.Landowners)
	}
	for _, path := range []string{"/v1/reports/work", "/v1/reports/land"} {
		w := s.answer(t, call{method: http.MethodGet, target: path, token: reader, header: []string{"Accept", "text/csv"}}, http.StatusOK, nil)
		cautioned(t, w)
		if got := w.Header().Get("Content-Type"); !strings.HasPrefix(got, "text/csv") {
			t.Errorf("%s as CSV is %s", path, got)
		}
	}
	w := s.answer(t, call{method: http.MethodGet, target: "/v1/reports/land?from=2026-02-01&to=2026-01-01", token: reader}, 422, nil)
	if got := fieldsOf(t, w.Body.Bytes()); !slices.Equal(got, []string{"to order"}) {
		t.Errorf("a period that ends before it begins = %v, want to order", got)
	}
	never := s.answer(t, call{method: http.MethodGet, target: "/v1/reports/land?landowner_id=" + newID(t).String(), token: reader}, 422, nil)
	if got := fieldsOf(t, never.Body.Bytes()); !slices.Equal(got, []string{"landowner_id no-such-reference"}) {
		t.Errorf("land report of nobody = %v", got)
	}
}

// TestRestrictionBesideDueDate holds that a report names what bars a due date,
// with the last open day before it.
func TestRestrictionBesideDueDate(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	reader := g.tokens[registry.RoleReader]
	g.add(t, "events", object{"site_id": g.ids["sites"], "kind": "rockfall", "happened_on": "2026-03-01", "inspect_by": "2026-05-01"})
	g.add(t, "restrictions", object{
		"place_kind": "site", "place_id": g.ids["sites"], "kind": "climbing", "why": "nesting", "weight": "agreement",
		"yearly": object{"from_month": 3, "from_day": 15, "to_month": 6, "to_day": 30},
	})
	var got api.OverdueReport
	g.get(t, "/v1/reports/overdue", reader, &got)
	if got.Overdue == 0 {
		t.Fatalf("nothing is overdue after an event: %+v", got)
	}
	line := got.Lines[0]
	if line.DueOn.String() != "2026-05-01" || len(line.Restrictions) != 1 || line.LastOpenOn.String() != "2026-03-14" {
		t.Errorf("line = due %v, barred by %+v, last open day %v; want 1 May, one, 14 March", line.DueOn, line.Restrictions, line.LastOpenOn)
	}
	var story api.AnchorStory
	g.get(t, "/v1/anchors/"+line.AnchorId.String(), reader, &story)
	if a := story.Assessment; len(a.Restrictions) != 1 || a.LastOpenOn != line.LastOpenOn {
		t.Errorf("the anchor's story = barred by %+v, last open day %v; want as in the report", a.Restrictions, a.LastOpenOn)
	}
	var now api.Assessment
	g.get(t, "/v1/anchors/"+line.AnchorId.String()+"/assessment", reader, &now)
	if len(now.Restrictions) != 1 || now.LastOpenOn != line.LastOpenOn {
		t.Errorf("its assessment = barred by %+v, last open day %v; want as in the report", now.Restrictions, now.LastOpenOn)
	}
}

// TestBox holds that anchors are found by where their positions are.
func TestBox(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	reader := g.tokens[registry.RoleReader]
	at := "/v1/positions/" + g.ids["positions"]
	if w := g.patch(t, at, g.tokens[registry.RoleSteward], g.get(t, at, reader, nil).Header().Get("ETag"), `{"lat":54.5,"lon":-3.25}`); w.Code != http.StatusOK {
		t.Fatalf("place a position = %d %s", w.Code, w.Body)
	}
	for query, want := range map[string]int{
		"box=-3.5,54,-3,55": 1, "box=-3.25,54.5,-3.25,54.5": 1, "box=3,54,3.5,55": 0,
		"due_state=not-due&box=3,54,3.5,55": 0, "sector_id=" + newID(t).String(): 0,
	} {
		var list api.AnchorList
		if g.get(t, "/v1/anchors?"+query, reader, &list); len(list.Items) != want {
			t.Errorf("anchors?%s = %d, want %d", query, len(list.Items), want)
		}
	}
	for query, want := range map[string]string{
		"box=3,54,2,55": "box order", "box=1,2,3": "box too-short", "box=1,95,2,96": "box out-of-range", "due_state=late": "due_state unknown",
	} {
		w := g.answer(t, call{method: http.MethodGet, target: "/v1/anchors?" + query, token: reader}, 422, nil)
		if got := fieldsOf(t, w.Body.Bytes()); !slices.Contains(got, want) {
			t.Errorf("anchors?%s = %v, want %s", query, got, want)
		}
	}
}

// TestOutlineFindsParcel holds that a position's parcel follows from outlines,
// unless a person named it.
func TestOutlineFindsParcel(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	steward := g.tokens[registry.RoleSteward]
	at := "/v1/positions/" + g.add(t, "positions", object{"site_id": g.ids["sites"], "label": "P", "lat": 54.005, "lon": -2.995})
	parcel := g.add(t, "parcels", object{"landowner_id": g.ids["landowners"], "name": "drawn", "outline": square(-3)})
	other := g.add(t, "parcels", object{"landowner_id": g.ids["landowners"], "name": "over there"})

	var p api.Position
	if w := g.get(t, at, steward, &p); p.ParcelId.String() != parcel || p.ParcelByHand {
		t.Fatalf("position in an outline = %s, want parcel %s, not by hand", w.Body, parcel)
	}
	etag := g.get(t, at, steward, nil).Header().Get("ETag")
	w := g.patch(t, at, steward, etag, `{"parcel_id":"`+other+`"}`)
	if err := json.Unmarshal(w.Body.Bytes(), &p); err != nil || p.ParcelId.String() != other || !p.ParcelByHand {
		t.Errorf("position of a parcel named by hand = %s", w.Body)
	}
	w = g.patch(t, at, steward, w.Header().Get("ETag"), `{"parcel_id":null}`)
	if err := json.Unmarshal(w.Body.Bytes(), &p); err != nil || p.ParcelId.String() != parcel || p.ParcelByHand {
		t.Errorf("position left to the outlines again = %s", w.Body)
	}
	overlapping := g.answer(t, call{
		method: http.MethodPost, target: "/v1/parcels", token: steward,
		body: object{"landowner_id": g.ids["landowners"], "name": "half of it", "outline": square(-2.995)},
	}, 422, nil)
	if got := fieldsOf(t, overlapping.Body.Bytes()); !slices.Equal(got, []string{"outline overlaps"}) {
		t.Errorf("an outline over another = %v, want outline overlaps", got)
	}
}

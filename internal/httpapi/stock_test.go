package httpapi_test

import (
	"math"
	"net/http"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/api"
	"rockledger/internal/registry"
)

// glue is an invented sheet of an adhesive, rows as no label has them.
func glue() object {
	return object{
		"from": "2024-01-01", "source": "invented sheet", "wet_factor": 2, "moistures": []string{"dry", "damp"},
		"cure_rows": []object{
			{"from_c": -4, "to_c": 4, "work_minutes": 40, "cure_minutes": 400},
			{"from_c": 5, "to_c": 9, "work_minutes": 20, "cure_minutes": 100, "cure_wet_minutes": 200},
		},
		"rock_low_c": -4, "rock_high_c": 35, "cartridge_low_c": 5, "cartridge_high_c": 30,
		"cleaning_cycles": 4, "shelf_months": 18, "cartridge_ml": 160,
	}
}

// stocked adds an adhesive with a sheet and returns its id.
func (g ground) stocked(t *testing.T) string {
	t.Helper()
	id := g.add(t, "products", object{"kind": "adhesive", "name": "Invented Other Resin", "chemistry": "vinylester"})
	g.answer(t, call{method: http.MethodPost, target: "/v1/products/" + id + "/versions", token: g.tokens[registry.RoleSteward], body: glue()}, http.StatusCreated, nil)
	return id
}

// A sheet of an adhesive is answered as it was sent; hardware has no cure table
// and an adhesive no hole.
func TestAdhesiveSheet(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	bolt := g.add(t, "products", object{"kind": "hardware", "name": "Invented Bolt"})
	at := "/v1/products/" + g.stocked(t) + "/versions"
	var list struct{ Items []object }
	g.get(t, at, g.tokens[registry.RoleReader], &list)
	for name, want := range asJSON(t, glue()) {
		if d := cmp.Diff(want, list.Items[0][name]); d != "" {
			t.Errorf("%s (-sent +stored):\n%s", name, d)
		}
	}
	for name, c := range map[string]struct {
		target string
		body   object
		want   string
	}{
		"cure table of a bolt": {"/v1/products/" + bolt + "/versions", glue(), "cure_rows mismatch"},
		"hole of an adhesive":  {at, object{"from": "2025-01-01", "source": "x", "hole_diameter_mm": 12}, "hole_diameter_mm mismatch"},
		"rows from warm to cold": {at, object{"from": "2025-01-01", "source": "x", "cure_rows": []object{
			{"from_c": 5, "to_c": 9, "work_minutes": 20, "cure_minutes": 100}, {"from_c": 0, "to_c": 4, "work_minutes": 20, "cure_minutes": 100},
		}}, "cure_rows[1].from_c order"},
	} {
		w := g.answer(t, call{method: http.MethodPost, target: c.target, token: g.tokens[registry.RoleSteward], body: c.body}, 422, nil)
		if got := fieldsOf(t, w.Body.Bytes()); !strings.Contains(strings.Join(got, ";"), c.want) {
			t.Errorf("%s: %v, want %s", name, got, c.want)
		}
	}
}

// "l 1709 a" is the batch "L1709-A" of the same product, which the answer names,
// and another one of another product or of none.
func TestBatchIdentity(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	product, id := g.stocked(t), newID(t).String()
	post := call{method: http.MethodPost, target: "/v1/batches", token: g.tokens[registry.RoleSteward]}
	post.body = object{"id": id, "product_id": product, "text": "L1709-A", "count_received": 12}
	var first api.Batch
	if g.answer(t, post, http.StatusCreated, &first); first.CountOnHand == nil || *first.CountOnHand != 12 || first.UsedByCount == nil || *first.UsedByCount != 0 {
		t.Errorf("batch = %+v, want all twelve on hand, used by none", first)
	}
	post.body = object{"product_id": product, "text": " l 1709 a"}
	if w := g.answer(t, post, 422, nil); !strings.Contains(w.Body.String(), "L1709-A") || !strings.Contains(w.Body.String(), id) {
		t.Errorf("the same batch again: %s, want it to name the one there is", w.Body)
	}
	post.body = object{"text": "l 1709 a"}
	g.answer(t, post, http.StatusCreated, nil)
	post.body = object{"text": "L-1709-A"}
	g.answer(t, post, 422, nil)
	if w := g.patch(t, "/v1/batches/"+id, g.tokens[registry.RoleSteward], `"1"`, `{"product_id":null}`); w.Code != 422 {
		t.Errorf("a change that makes it another batch: %d %s, want 422", w.Code, w.Body)
	}
}

// Volumes by hand: π/4 (12² · 85 - 10² · 80) / 1000 = 3.3301 mL; the cartridge
// is the sheet's 160 mL, less 10 mL for the nozzle: 34 holes. Today is 3 May 2026.
func TestMortar(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	product := g.stocked(t)
	for text, body := range map[string]object{
		"NEXT": {"expires_on": "2026-06-01", "count_received": 1}, "LATER": {"expires_on": "2027-01-01", "count_received": 5},
		"GONE": {"expires_on": "2026-05-02", "count_received": 9}, "UNDATED": {"count_received": 9},
	} {
		body["text"], body["product_id"] = text, product
		g.add(t, "batches", body)
	}
	hole := object{"hole_diameter_mm": 12, "hole_depth_mm": 85, "embedded_mm": 80, "shank_diameter_mm": 10}
	ask := call{method: http.MethodPost, target: "/v1/mortar/estimate", token: g.tokens[registry.RoleReader]}
	staples := object{"count": 50, "holes_each": 2}
	for name, v := range hole {
		staples[name] = v
	}
	ask.body = object{"holes": []object{staples}, "waste": 1.3, "product_id": product}
	var m api.MortarEstimate
	cautioned(t, g.answer(t, ask, http.StatusOK, &m))
	net := math.Pi / 4 * (12*12*85 - 10*10*80) / 1000
	if math.Abs(m.VolumeMl-100*1.3*net) > 1e-9 || m.Cartridges != 3 || m.CartridgeMl != 160 || m.Holes[0].HolesPerCartridge != 34 {
		t.Errorf("100 holes: %+v, want 3 cartridges", m)
	}
	var order []string
	for _, b := range m.Batches {
		order = append(order, b.Text)
	}
	if d := cmp.Diff([]string{"NEXT", "LATER", "UNDATED"}, order); d != "" || m.Batches[0].Take != 1 || m.Batches[1].Take != 2 || *m.Short != 0 {
		t.Errorf("batches %+v, short %d; want one of NEXT and two of LATER (-want +got):\n%s", m.Batches, *m.Short, d)
	}
	if len(m.Expired) != 1 || m.Expired[0].Text != "GONE" || m.Batches[0].Expiry != "expires-soon" {
		t.Errorf("expired %+v", m.Expired)
	}
	ask.body = object{"holes": []object{hole}}
	var alone api.MortarEstimate
	if g.answer(t, ask, http.StatusOK, &alone); alone.Short != nil || alone.Batches != nil || alone.CartridgeMl != 300 || alone.Waste != 1.3 {
		t.Errorf("without a product: %+v", alone)
	}
}

func TestMortarRejects(t *testing.T) {
	t.Parallel()
	g := newGround(t)
	bolt := g.add(t, "products", object{"kind": "hardware", "name": "Invented Bolt"})
	for name, c := range map[string]struct {
		body object
		want string
	}{
		"steel longer than the hole": {object{"holes": []object{{"hole_diameter_mm": 12, "hole_depth_mm": 70, "embedded_mm": 80, "shank_diameter_mm": 10}}}, "holes[0].embedded_mm mismatch"},
		"no anchors":                 {object{"holes": []object{{"hole_diameter_mm": 12, "hole_depth_mm": 85, "embedded_mm": 80, "shank_diameter_mm": 10, "count": 0}}}, "holes[0].count out-of-range"},
		"a bolt for an adhesive":     {object{"product_id": bolt, "holes": []object{{"hole_diameter_mm": 12, "hole_depth_mm": 85, "embedded_mm": 80, "shank_diameter_mm": 10}}}, "product_id mismatch"},
		"a product of nobody":        {object{"product_id": newID(t).String(), "holes": []object{{"hole_diameter_mm": 12, "hole_depth_mm": 85, "embedded_mm": 80, "shank_diameter_mm": 10}}}, "product_id no-such-reference"},
	} {
		w := g.answer(t, call{method: http.MethodPost, target: "/v1/mortar/estimate", token: g.tokens[registry.RoleReader], body: c.body}, 422, nil)
		if got := fieldsOf(t, w.Body.Bytes()); len(got) != 1 || got[0] != c.want {
			t.Errorf("%s: %v, want %s", name, got, c.want)
		}
	}
}

// A generic entry says on its face that it is no maker's product, takes no
// sheet, and stands for what it stood for.
func TestShippedProducts(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	group, tokens := s.groupWithID(t, "generic")
	if _, err := s.admin.Ship(t.Context(), group, registry.ShippedProducts()); err != nil {
		t.Fatal(err)
	}
	var list api.ProductList
	s.get(t, "/v1/products?kind=adhesive", tokens[registry.RoleReader], &list)
	if len(list.Items) == 0 || !list.Items[0].Shipped || !strings.Contains(list.Items[0].ShippedWords, "not a maker's product") {
		t.Fatalf("products %+v, want generic ones, marked", list.Items)
	}
	at := "/v1/products/" + list.Items[0].Id.String()
	w := s.answer(t, call{method: http.MethodPost, target: at + "/versions", token: tokens[registry.RoleOwner], body: glue()}, 422, nil)
	if got := fieldsOf(t, w.Body.Bytes()); len(got) != 1 || got[0] != "product_id not-allowed" {
		t.Errorf("sheet of a generic entry: %v", got)
	}
	if w := s.patch(t, at, tokens[registry.RoleOwner], `"1"`, `{"name":"Another"}`); w.Code != 422 {
		t.Errorf("renamed: %d %s, want 422", w.Code, w.Body)
	}
	if w := s.patch(t, at, tokens[registry.RoleOwner], `"1"`, `{"ended_on":"2026-05-01"}`); w.Code != 200 {
		t.Errorf("ended: %d %s, want 200", w.Code, w.Body)
	}
}

package httpapi_test

import (
	"net/http"
	"testing"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
)

// filled is a stack with the list of Gutter Edge in one group.
func filled(t *testing.T) (*stack, map[registry.Role]string) {
	t.Helper()
	s := newStack(t)
	tokens := s.group(t, "fell-end")
	if w := s.enter(t, tokens[registry.RoleSteward], gutter); w.Code != http.StatusCreated {
		t.Fatalf("import = %d %s, want 201", w.Code, w.Body)
	}
	return s, tokens
}

// TestPlaces reads every kind of place and of stock, listed and one by one.
func TestPlaces(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	reader := tokens[registry.RoleReader]

	var sites api.SiteList
	s.get(t, "/v1/sites", reader, &sites)
	if len(sites.Items) != 1 || sites.Items[0].Name != "Gutter Edge" || sites.Items[0].Kind != api.SiteKindCrag {
		t.Fatalf("sites = %+v, want the crag Gutter Edge", sites.Items)
	}
	site := sites.Items[0].Id.String()
	s.get(t, "/v1/sites/"+site, reader, nil)

	var sectors api.SectorList
	if s.get(t, "/v1/sectors?site_id="+site, reader, &sectors); len(sectors.Items) != 2 {
		t.Errorf("sectors = %+v, want 2", sectors.Items)
	}
	s.get(t, "/v1/sectors/"+sectors.Items[0].Id.String(), reader, nil)

	var routes api.RouteList
	if s.get(t, "/v1/routes?site_id="+site, reader, &routes); len(routes.Items) != 2 {
		t.Errorf("routes = %+v, want 2", routes.Items)
	}
	route := routes.Items[0].Id.String()
	s.get(t, "/v1/routes/"+route, reader, nil)

	var positions api.PositionList
	if s.get(t, "/v1/positions?route_id="+route, reader, &positions); len(positions.Items) != 2 {
		t.Errorf("positions = %+v, want 2", positions.Items)
	}
	s.get(t, "/v1/positions/"+positions.Items[0].Id.String(), reader, nil)

	var products api.ProductList
	if s.get(t, "/v1/products?kind=adhesive", reader, &products); len(products.Items) != 1 {
		t.Fatalf("adhesives = %+v, want 1", products.Items)
	}
	product := products.Items[0].Id.String()
	s.get(t, "/v1/products/"+product, reader, nil)

	var batches api.BatchList
	if s.get(t, "/v1/batches?product_id="+product, reader, &batches); len(batches.Items) != 1 {
		t.Fatalf("batches = %+v, want 1", batches.Items)
	}
	s.get(t, "/v1/batches/"+batches.Items[0].Id.String(), reader, nil)
}

// TestPages walks the anchors one at a time: each once, and an end.
func TestPages(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	seen := make(map[uuid.UUID]bool)
	target := "/v1/anchors?limit=1"
	for range 10 {
		var page api.AnchorList
		s.get(t, target, tokens[registry.RoleReader], &page)
		for _, a := range page.Items {
			if seen[a.Id] {
				t.Errorf("anchor %v is on two pages", a.Id)
			}
			seen[a.Id] = true
		}
		if page.NextCursor == "" {
			break
		}
		target = "/v1/anchors?limit=1&cursor=" + page.NextCursor
	}
	if len(seen) != 4 {
		t.Errorf("pages hold %d anchors, want 4", len(seen))
	}
	w := s.answer(t, call{method: http.MethodGet, target: "/v1/anchors?cursor=x", token: tokens[registry.RoleReader]}, 422, nil)
	if got := fieldsOf(t, w.Body.Bytes()); len(got) != 1 || got[0] != "cursor malformed" {
		t.Errorf("a broken cursor = %v, want cursor malformed", got)
	}
}

// TestNothingOfOthers holds that what is another group's is answered, byte for
// byte, like what never was.
func TestNothingOfOthers(t *testing.T) {
	t.Parallel()
	s, _ := filled(t)
	theirs := s.group(t, "other-end")
	if w := s.enter(t, theirs[registry.RoleSteward], gutter); w.Code != http.StatusCreated {
		t.Fatalf("import = %d %s, want 201", w.Code, w.Body)
	}
	mine := s.group(t, "third-end")
	for kind, id := range idsOf(t, s, theirs[registry.RoleReader]) {
		path := "/v1/" + kind + "/"
		other := s.do(t, call{method: http.MethodGet, target: path + id, token: mine[registry.RoleOwner]})
		never := s.do(t, call{method: http.MethodGet, target: path + newID(t).String(), token: mine[registry.RoleOwner]})
		if other.Code != http.StatusNotFound || other.Body.String() != never.Body.String() {
			t.Errorf("GET %s of another group = %d %s, of a random id %d %s",
				path, other.Code, other.Body, never.Code, never.Body)
		}
	}
	var anchors api.AnchorList
	if s.get(t, "/v1/anchors", mine[registry.RoleOwner], &anchors); len(anchors.Items) != 0 {
		t.Errorf("anchors of an empty group = %+v, want none", anchors.Items)
	}
}

// idsOf returns one id of each kind of thing.
func idsOf(t *testing.T, s *stack, token string) map[string]string {
	t.Helper()
	ids := make(map[string]string)
	for _, kind := range []string{"sites", "sectors", "routes", "positions", "products", "batches", "anchors"} {
		var list struct{ Items []struct{ ID string } }
		if s.get(t, "/v1/"+kind, token, &list); len(list.Items) == 0 {
			t.Fatalf("no %s", kind)
		}
		ids[kind] = list.Items[0].ID
	}
	return ids
}

// TestNoSuchPath holds that what is no operation is answered with a problem.
func TestNoSuchPath(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	owner := s.group(t, "fell-end")[registry.RoleOwner]
	s.answer(t, call{method: http.MethodGet, target: "/v1/nowhere", token: owner}, http.StatusNotFound, nil)
	w := s.answer(t, call{method: http.MethodDelete, target: "/v1/sites", token: owner}, http.StatusMethodNotAllowed, nil)
	if w.Header().Get("Allow") == "" {
		t.Error("405 without Allow")
	}
	if got := fieldsOf(t, w.Body.Bytes()); len(got) != 1 || got[0] != "method unknown" {
		t.Errorf("405 = %v, want method unknown", got)
	}
}

package web_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// The positions of a route are put into an order by one form: a number between
// two others comes between them.
func TestPositionsArePutIntoOrder(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 4)
	b := s.member(t, registry.RoleSteward)
	route := "/g/fell-end/routes/" + w.route.String()
	at := b.get(route).link(t, "Order of the positions")
	rank := func(n int) string { return "rank." + w.positions[n].String() }
	form := b.filled(at, rank(3), "1,5", rank(0), "9")
	p := b.led(t, b.post(at, form))
	want := []string{"T4", "T2", "T3", "T1"}
	if got := stopsOn(p); !slices.Equal(got, want) || !strings.Contains(p.text(), wording.OrderChanged) {
		t.Fatalf("positions %v, want %v: %s", got, want, p.text())
	}
	if next := b.get(at).form(t, at); next.Get(rank(3)) != "1" || next.Get(rank(0)) != "4" {
		t.Errorf("the form now numbers them %v", next)
	}
	for _, c := range []struct{ text, want string }{
		{"2", "stands here twice"}, {"", "Nothing is written here"}, {"last", "No number"},
	} {
		p := b.post(at, b.filled(at, rank(0), c.text, rank(1), "2", rank(3), "8"))
		field := web.All(p.doc, web.Has("aria-invalid", "true"))
		if p.status != http.StatusUnprocessableEntity || len(field) != 1 || !strings.Contains(p.text(), c.want) {
			t.Errorf("a number %q = %d, %d wrong: %s", c.text, p.status, len(field), p.text())
		}
		if p.form(t, at).Get(rank(3)) != "8" {
			t.Errorf("a number %q: what was typed elsewhere is lost", c.text)
		}
	}
	if got := stopsOn(b.get(route)); !slices.Equal(got, want) {
		t.Errorf("positions %v after refusals, want %v", got, want)
	}
}

// An order that was made of another is shown beside what is stored now, with
// what has come onto the route since.
func TestAStaleOrderShowsBoth(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 3)
	b := s.member(t, registry.RoleSteward)
	route := "/g/fell-end/routes/" + w.route.String()
	at := route + "/order"
	rank := func(n int) string { return "rank." + w.positions[n].String() }
	slow := b.filled(at, rank(2), "0")
	quick := b.filled(at, rank(0), "9")
	b.led(t, b.post(at, quick))
	added := route + "/positions/new"
	b.led(t, b.post(added, b.filled(added, "label", "T4")))
	p := b.post(at, slow)
	if p.status != http.StatusPreconditionFailed || !strings.Contains(p.text(), wording.FormStale) {
		t.Fatalf("a stale order = %d: %s", p.status, p.text())
	}
	if got := web.Text(web.One(t, p.doc, "T1", web.Has("id", rank(0)+"-stored"))); got != wording.StoredNow("3") {
		t.Errorf("beside T1 stands %q", got)
	}
	again := p.form(t, at)
	if again.Get(rank(2)) != "0" || again.Get(rank(0)) != "1" {
		t.Errorf("the form came back as %v, want what was typed", again)
	}
	for name, v := range again {
		if strings.HasPrefix(name, "rank.") && v[0] == "" {
			again.Set(name, "7") // what was added since
		}
	}
	p = b.led(t, b.post(at, again))
	if got, want := stopsOn(p), []string{"T3", "T1", "T2", "T4"}; !slices.Equal(got, want) {
		t.Errorf("sent again: positions %v, want %v", got, want)
	}
	if p := b.post(at, again); p.status != http.StatusSeeOther && p.status != http.StatusPreconditionFailed {
		t.Errorf("sent twice = %d", p.status)
	}
}

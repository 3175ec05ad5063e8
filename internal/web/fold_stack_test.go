package web_test

import (
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// A long site stands folded up with every anchor in it; the link unfolds it all,
// and a search leaves nothing folded up.
func TestALongSiteFoldsUp(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(sample(t))
	ctx, who := t.Context(), s.actor(registry.RoleSteward)
	sites, err := s.service.Sites(ctx, who, registry.Page{Limit: 1})
	check(t, err)
	site := b.get("/g/fell-end/places/" + sites[0].ID.String())
	folds, open := foldsOf(site)
	if folds == 0 || open != 0 {
		t.Fatalf("%d folds, %d of them open, want some, none open", folds, open)
	}
	whole := b.get(site.link(t, wording.Unfold))
	again, open := foldsOf(whole)
	if again != folds || open != folds {
		t.Errorf("unfolded: %d folds, %d open, want %d and all open", again, open, folds)
	}
	if a, z := len(web.All(site.doc, web.Class("anchor-row"))), len(web.All(whole.doc, web.Class("anchor-row"))); a != z {
		t.Errorf("%d anchors folded up, %d unfolded", a, z)
	}
	found := b.get("/g/fell-end/places/" + sites[0].ID.String() + "?standing=" + string(registry.StandingWatch))
	if folds, open := foldsOf(found); open != folds {
		t.Errorf("of a search %d of %d folds are open, want all", open, folds)
	}
}

// foldsOf counts the folds of a page and those that are open.
func foldsOf(p page) (folds, open int) {
	for _, d := range web.All(p.doc, web.Class("fold")) {
		folds++
		if _, ok := web.Attr(d, "open"); ok {
			open++
		}
	}
	return folds, open
}

// What was handed in is on the page of imports, with the way to what became of
// it.
func TestImportsListWhatWasHandedIn(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	if p := b.get("/g/fell-end/import"); len(web.All(p.doc, web.Has("id", "earlier"))) != 0 {
		t.Error("lists are named before any was handed in")
	}
	b.enter(gutter)
	part := web.One(t, b.get("/g/fell-end/import").doc, "lists", web.Has("aria-labelledby", "earlier"))
	if got := web.Text(part); !strings.Contains(got, ": entered, ") {
		t.Errorf("lists handed in read %q", got)
	}
	href, _ := web.Attr(web.One(t, part, "list", web.Tag("a")), "href")
	if state := b.get(href); len(web.All(state.doc, web.Has("id", "import-state"))) != 1 {
		t.Errorf("%s = %d: %s", href, state.status, state.text())
	}
}

// Nobody copies an id: the link beside a person fills in the form.
func TestAHoldIsPlacedFromPeople(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 1)
	b := s.member(t, registry.RoleOwner)
	people := b.get("/g/fell-end/people")
	var href string
	for _, a := range web.All(people.doc, web.Tag("a")) {
		if h, _ := web.Attr(a, "href"); strings.Contains(h, "/holds?") && strings.Contains(h, w.person.String()) {
			href, _, _ = strings.Cut(h, "#")
		}
	}
	form := b.get(href).form(t, "/g/fell-end/holds")
	if want := string(registry.HoldPerson) + ":" + w.person.String(); form.Get("over") != want {
		t.Fatalf("the form is over %q, want %q", form.Get("over"), want)
	}
	form.Set("reason", "A question is open (invented).")
	if p := b.led(t, b.post("/g/fell-end/holds", form)); !strings.Contains(p.text(), w.person.String()) && !strings.Contains(p.text(), "A question is open") {
		t.Errorf("the hold was not placed: %s", p.text())
	}
}

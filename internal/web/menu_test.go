package web

import (
	"testing"

	"golang.org/x/net/html"
)

// A page deep in the register names the part it belongs to, so that the closed
// menu of a narrow screen says where one is.
func TestMainPageCurrent(t *testing.T) {
	t.Parallel()
	for path, want := range map[string][2]string{
		"/":                    {"Today", "page"},
		"/places":              {"Places", "page"},
		"/places/1":            {"Places", "true"},
		"/anchors/1/setting":   {"Places", "true"},
		"/batches/1":           {"Stock", "true"},
		"/people/1/erase":      {"Ledger", "true"},
		"/proposals":           {"Import", "true"},
		"/landowners/1/erase":  {"Land", "true"},
		"/reports/overdue":     {"Overdue", "page"},
		"/reports/overdue.csv": {"", ""},
	} {
		f := frame{}
		for _, m := range mainPages {
			f.Nav = append(f.Nav, navItem{Text: m.text, Current: m.current(path)})
		}
		got := [2]string{f.here(), ""}
		for _, n := range f.Nav {
			if n.Current != "" {
				got[1] += n.Current // of two entries, both would stand here
			}
		}
		if got != want {
			t.Errorf("at %s the menu says %q, want %q", path, got, want)
		}
	}
}

// The button opens the list without a script: it names the list, which is a
// popover.
func TestMenuButton(t *testing.T) {
	t.Parallel()
	doc := draw(t, placesView(placesPage{Frame: frame{Title: "Places", Nav: []navItem{{Href: "/p", Text: "Places", Current: "page"}, {Href: "/w", Text: "Work"}}}}))
	nav := one(t, doc, "of the navigation", class("main-nav"))
	button := one(t, nav, "to open it", tag("button"))
	if got := text(button); got != "Menu Places" {
		t.Errorf("the button says %q, want %q", got, "Menu Places")
	}
	target, _ := attr(button, "popovertarget")
	list := one(t, nav, "that the button opens", tag("ul"), has("id", target), func(n *html.Node) bool { _, ok := attr(n, "popover"); return ok })
	if n := len(all(list, tag("a"))); n != 2 {
		t.Errorf("the menu has %d links, want 2", n)
	}
	if here := one(t, list, "that is this page", has("aria-current", "page")); text(here) != "Places" {
		t.Errorf("this page is %q", text(here))
	}
}

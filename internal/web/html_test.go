package web

import (
	"strings"
	"testing"

	"github.com/a-h/templ"
	"golang.org/x/net/html"
)

// draw renders a page and parses it.
func draw(t *testing.T, page templ.Component) *html.Node {
	t.Helper()
	var b strings.Builder
	if err := page.Render(t.Context(), &b); err != nil {
		t.Fatal(err)
	}
	return parse(t, b.String())
}

func parse(t *testing.T, text string) *html.Node {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// match tells which elements are meant.
type match func(*html.Node) bool

// tag matches elements by name.
func tag(name string) match { return func(n *html.Node) bool { return n.Data == name } }

// has matches elements by the value of an attribute.
func has(name, value string) match {
	return func(n *html.Node) bool { v, ok := attr(n, name); return ok && v == value }
}

// class matches elements that have a class among others.
func class(name string) match {
	return func(n *html.Node) bool {
		v, _ := attr(n, "class")
		return strings.Contains(" "+v+" ", " "+name+" ")
	}
}

// all returns the elements below n that every one of ms matches, in order.
func all(n *html.Node, ms ...match) []*html.Node {
	var found []*html.Node
	for d := range n.Descendants() {
		if d.Type == html.ElementNode && every(d, ms) {
			found = append(found, d)
		}
	}
	return found
}

func every(n *html.Node, ms []match) bool {
	for _, m := range ms {
		if !m(n) {
			return false
		}
	}
	return true
}

// one returns the only such element.
func one(t *testing.T, n *html.Node, what string, ms ...match) *html.Node {
	t.Helper()
	found := all(n, ms...)
	if len(found) != 1 {
		t.Fatalf("%d elements %s, want 1", len(found), what)
	}
	return found[0]
}

// attr returns an attribute's value.
func attr(n *html.Node, name string) (string, bool) {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val, true
		}
	}
	return "", false
}

// text returns what a reader sees of n, with single spaces.
func text(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// texts returns the text of each element.
func texts(nodes []*html.Node) []string {
	out := make([]string, len(nodes))
	for i, n := range nodes {
		out[i] = text(n)
	}
	return out
}

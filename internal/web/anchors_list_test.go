package web_test

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/web"
)

// The list that a count of Today leads to has as many anchors as it counts, and
// is narrowed by what is asked.
func TestListOfAnchorsIsWhatTodayCounts(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(gutter)
	counted := 0
	for _, a := range web.All(b.get("/g/fell-end/").doc, web.Tag("a")) {
		href, _ := web.Attr(a, "href")
		if !strings.HasPrefix(href, "/g/fell-end/anchors?") {
			continue
		}
		counted++
		var n int
		if _, err := fmt.Sscan(web.Text(a), &n); err != nil {
			t.Fatal(err)
		}
		if rows := web.All(b.get(href).doc, web.Class("anchor-row")); len(rows) != n {
			t.Errorf("%q leads to a list of %d", web.Text(a), len(rows))
		}
	}
	if counted == 0 {
		t.Fatal("Today has no count that leads to a list")
	}
	p := b.get("/g/fell-end/anchors?" + url.Values{"text": {"no such anchor anywhere"}}.Encode())
	if n := len(web.All(p.doc, web.Class("anchor-row"))); n != 0 {
		t.Errorf("a word that no anchor has finds %d", n)
	}
}

// A filter that cannot be right is told by what is wrong with it.
func TestListOfAnchorsSaysWhatIsWrongWithItsFilter(t *testing.T) {
	t.Parallel()
	b := newStack(t).member(t, registry.RoleReader)
	if p := b.get("/g/fell-end/anchors?text=%00"); p.status != http.StatusUnprocessableEntity || !strings.Contains(p.text(), "U+0000") {
		t.Errorf("a text with a control character = %d: %s", p.status, p.text())
	}
}

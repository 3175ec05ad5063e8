package web_test

import (
	"net/http"
	"regexp"
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/web"
)

// requestName is all that may differ between two pages that say the same.
var requestName = regexp.MustCompile(`[0-9a-f]{8}-[0-9a-f-]{27}`)

// A group that somebody does not belong to looks like one that never was.
func TestStrangerLearnsNothingOfAGroup(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleOwner)
	for _, path := range []string{"/", "/places", "/reports/overdue", "/import", "/nowhere", "/anchors/" + newID(t).String()} {
		there, never := b.get("/g/other"+path), b.get("/g/never"+path)
		if there.status != http.StatusNotFound || never.status != http.StatusNotFound {
			t.Errorf("%s: %d in a group of others, %d in none, want 404", path, there.status, never.status)
		}
		if requestName.ReplaceAllString(there.body, "") != requestName.ReplaceAllString(never.body, "") {
			t.Errorf("%s: a group of others differs from none", path)
		}
	}
	if p := b.upload("/g/other/import", map[string]string{"file": gutter}); p.status != http.StatusNotFound {
		t.Errorf("import into a group of others = %d, want 404", p.status)
	}
}

// What another group holds looks like what never was.
func TestPagesShowTheirOwnGroupOnly(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	steward := s.member(t, registry.RoleSteward)
	steward.enter(gutter)
	anchor := steward.get("/g/fell-end/reports/suspect").link(t, "Slate Rib, 2")
	site := steward.get("/g/fell-end/places").link(t, "Gutter Edge")

	stranger := s.browser(t)
	stranger.post("/sign-in", credentials("stranger@example.org", password))
	for _, path := range []string{anchor, site} {
		theirs := strings.Replace(path, "/g/fell-end/", "/g/other/", 1)
		parts := strings.Split(theirs, "/")
		parts[len(parts)-1] = newID(t).String()
		other, never := stranger.get(theirs), stranger.get(strings.Join(parts, "/"))
		if other.status != http.StatusNotFound || requestName.ReplaceAllString(other.body, "") != requestName.ReplaceAllString(never.body, "") {
			t.Errorf("%s = %d, want 404 like an id that never was", theirs, other.status)
		}
	}
	if p := stranger.get("/g/other/places"); strings.Contains(p.text(), "Gutter Edge") {
		t.Error("the places of one group are shown to another")
	}
	if p := steward.get("/g/fell-end/anchors/rock"); p.status != http.StatusNotFound {
		t.Errorf("an id that is none = %d, want 404", p.status)
	}
}

func TestMemberWhoWasMovedSeesItAtOnce(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	a := s.addAccount(t, "mover@example.org", "fell-end", registry.RoleSteward)
	b := s.browser(t)
	b.post("/sign-in", credentials("mover@example.org", password))
	if p := b.get("/g/fell-end/import"); p.status != http.StatusOK {
		t.Fatalf("import as steward = %d, want 200", p.status)
	}
	s.join(t, a, "fell-end", registry.RoleReader)
	if p := b.get("/g/fell-end/import"); p.status != http.StatusForbidden {
		t.Errorf("import after becoming a reader = %d, want 403", p.status)
	}
	s.join(t, a, "other", registry.RoleReader)
	p := b.get("/")
	if got := web.Texts(web.All(p.doc, web.Tag("main")))[0]; !strings.Contains(got, "fell-end") || !strings.Contains(got, "other") {
		t.Errorf("first page of a member of two groups reads %q, want both", got)
	}
}

func TestOnlyStewardsImport(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	for role, want := range map[registry.Role]int{
		registry.RoleReader: http.StatusForbidden, registry.RoleRecorder: http.StatusForbidden,
		registry.RoleSteward: http.StatusOK, registry.RoleOwner: http.StatusOK,
	} {
		b := s.member(t, role)
		if p := b.get("/g/fell-end/import"); p.status != want {
			t.Errorf("%s: import page = %d, want %d", role, p.status, want)
		}
		if p := b.upload("/g/fell-end/import", map[string]string{"file": gutter}); p.status != want {
			t.Errorf("%s: sent a list = %d, want %d", role, p.status, want)
		}
		offered := len(web.All(b.get("/g/fell-end/").doc, web.Tag("a"), web.Has("href", "/g/fell-end/import"))) > 0
		if offered != (want == http.StatusOK) {
			t.Errorf("%s: import offered %v, want %v", role, offered, want == http.StatusOK)
		}
	}
}

func TestPagesAreKeptByNobodyElse(t *testing.T) {
	t.Parallel()
	b := newStack(t).member(t, registry.RoleReader)
	p := b.get("/g/fell-end/")
	if got := p.header.Get("Cache-Control"); !strings.Contains(got, "private") || !strings.Contains(got, "no-cache") {
		t.Errorf("Cache-Control = %q, want private and no-cache", got)
	}
	if got := p.header.Get("Content-Security-Policy"); !strings.Contains(got, "default-src 'self'") || strings.Contains(got, "unsafe") {
		t.Errorf("Content-Security-Policy = %q, want 'self' alone", got)
	}
}

func TestStaticFilesNeverChangeUnderTheirAddress(t *testing.T) {
	t.Parallel()
	b := newStack(t).browser(t)
	style := b.get(web.StyleHref())
	if style.status != http.StatusOK || !strings.HasPrefix(style.header.Get("Content-Type"), "text/css") {
		t.Errorf("style sheet = %d %s, want 200 text/css", style.status, style.header.Get("Content-Type"))
	}
	if got := style.header.Get("Cache-Control"); !strings.Contains(got, "immutable") {
		t.Errorf("Cache-Control of the style sheet = %q, want immutable", got)
	}
	for _, path := range []string{"/static/0123456789abcdef/rockledger.css", "/static/0123456789abcdef/secrets.txt"} {
		if p := b.get(path); p.status != http.StatusNotFound {
			t.Errorf("%s = %d, want 404", path, p.status)
		}
	}
	if p := b.get("/favicon.ico"); p.status != http.StatusOK {
		t.Errorf("/favicon.ico = %d, want 200", p.status)
	}
}

// A page that is not for one's role says whose it is, whom to ask and the way
// back, and carries the caution like every page of the group.
func TestRefusedPageSaysWhoMay(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	for _, c := range []struct {
		role             registry.Role
		path, least, ask string
	}{
		{registry.RoleReader, "/people", "owner", "Ask an owner of the group."},
		{registry.RoleSteward, "/people", "owner", "Ask an owner of the group."},
		{registry.RoleReader, "/import", "steward", "Ask a steward or an owner of the group."},
		{registry.RoleReader, "/gluing/new", "recorder", "Ask a steward or an owner of the group."},
	} {
		p := s.member(t, c.role).get("/g/fell-end" + c.path)
		main := web.Texts(web.All(p.doc, web.Tag("main")))[0]
		for _, want := range []string{"Your role, " + string(c.role) + ",", "at least the role of " + c.least, c.ask} {
			if p.status != http.StatusForbidden || !strings.Contains(main, want) {
				t.Errorf("%s for a %s = %d, reads %q, want %q in it", c.path, c.role, p.status, main, want)
			}
		}
		if n := len(web.All(p.doc, web.Class("caution"))); n != 1 {
			t.Errorf("%s refused carries the caution %d times, want once", c.path, n)
		}
		if p.link(t, "To Today") != "/g/fell-end/" {
			t.Errorf("%s refused leads nowhere", c.path)
		}
	}
}

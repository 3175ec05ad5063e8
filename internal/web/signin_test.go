package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

func credentials(email, password string) url.Values {
	return url.Values{"email": {email}, "password": {password}, "next": {"/g/fell-end/places"}}
}

func TestSignInLeadsBackToThePageAskedFor(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.browser(t)
	p := b.get("/g/fell-end/places?after=x")
	if p.status != http.StatusSeeOther || p.header.Get("Location") != "/sign-in?next=%2Fg%2Ffell-end%2Fplaces%3Fafter%3Dx" {
		t.Fatalf("page without session = %d to %q, want 303 to sign-in", p.status, p.header.Get("Location"))
	}
	form := b.get(p.header.Get("Location"))
	next, _ := web.Attr(web.One(t, form.doc, "next", web.Tag("input"), web.Has("name", "next")), "value")
	p = b.post("/sign-in", url.Values{"email": {" Reader@Example.org "}, "password": {password}, "next": {next}})
	if p.status != http.StatusSeeOther || p.header.Get("Location") != "/g/fell-end/places?after=x" {
		t.Fatalf("sign-in = %d to %q, want 303 to the page asked for", p.status, p.header.Get("Location"))
	}
	if p = b.get(p.header.Get("Location")); p.status != http.StatusOK {
		t.Errorf("page with session = %d, want 200", p.status)
	}
	if p = b.get("/"); p.header.Get("Location") != "/g/fell-end/" {
		t.Errorf("first page of a member of one group leads to %q, want its Today", p.header.Get("Location"))
	}
}

func TestSignInLeadsToNoOtherSite(t *testing.T) {
	t.Parallel()
	b := newStack(t).browser(t)
	for _, next := range []string{"https://example.org/g/", "//example.org/g/x", `/\example.org`} {
		p := b.post("/sign-in", url.Values{"email": {"reader@example.org"}, "password": {password}, "next": {next}})
		if got := p.header.Get("Location"); got != "/" {
			t.Errorf("sign-in with next %q leads to %q, want /", next, got)
		}
	}
}

func TestSignInSaysTheSameOfAddressAndPassword(t *testing.T) {
	t.Parallel()
	b := newStack(t).browser(t)
	address := b.post("/sign-in", credentials("nobody@example.org", password))
	secret := b.post("/sign-in", credentials("reader@example.org", "a rope of silt"))
	for _, p := range []page{address, secret} {
		if p.status != http.StatusUnprocessableEntity || !strings.Contains(p.text(), wording.SignInWrong) {
			t.Errorf("wrong sign-in = %d %q, want 422 and %q", p.status, p.text(), wording.SignInWrong)
		}
		if p.header.Get("Set-Cookie") != "" {
			t.Errorf("wrong sign-in sets %q", p.header.Get("Set-Cookie"))
		}
	}
	same := strings.Replace(address.body, "nobody@example.org", "reader@example.org", 1)
	if same != secret.body {
		t.Error("the page tells a wrong address from a wrong password")
	}
	if strings.Contains(secret.body, "a rope of silt") {
		t.Error("the page gives the password back")
	}
}

func TestSignInIsSlowedDown(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.browser(t)
	var p page
	for range 20 {
		if p = b.post("/sign-in", credentials("reader@example.org", "wrong")); p.status == http.StatusTooManyRequests {
			break
		}
	}
	if p.status != http.StatusTooManyRequests || !strings.Contains(p.text(), wording.SignInTooMany) {
		t.Fatalf("after 20 failures: %d %q, want 429 and %q", p.status, p.text(), wording.SignInTooMany)
	}
	if p = b.post("/sign-in", credentials("reader@example.org", password)); p.status != http.StatusTooManyRequests {
		t.Errorf("right password after too many failures = %d, want 429", p.status)
	}
	if p = b.post("/sign-in", credentials("steward@example.org", password)); p.status != http.StatusSeeOther {
		t.Errorf("another account from the same address = %d, want 303", p.status)
	}
}

func TestSessionCookie(t *testing.T) {
	t.Parallel()
	b := newStack(t).browser(t)
	form := []byte(credentials("reader@example.org", password).Encode())
	const media = "application/x-www-form-urlencoded"
	for _, c := range []struct {
		name   string
		header []string
		secure bool
	}{
		{"plain HTTP to this machine", nil, false},
		{"behind a proxy that ends TLS", []string{"X-Forwarded-Proto", "https"}, true},
	} {
		got := b.do(http.MethodPost, "/sign-in", media, form, c.header...).header.Get("Set-Cookie")
		for _, want := range []string{"HttpOnly", "SameSite=Lax", "Path=/"} {
			if !strings.Contains(got, want) {
				t.Errorf("%s: cookie %q, want %s", c.name, got, want)
			}
		}
		if strings.Contains(got, "Secure") != c.secure {
			t.Errorf("%s: cookie %q, want Secure %v", c.name, got, c.secure)
		}
	}
}

func TestSignOutEndsTheSession(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleReader)
	base, err := url.Parse(s.url)
	if err != nil {
		t.Fatal(err)
	}
	kept := b.client.Jar.Cookies(base)
	if p := b.post("/sign-out", nil); p.status != http.StatusSeeOther || p.header.Get("Location") != "/sign-in" {
		t.Fatalf("sign-out = %d to %q, want 303 to /sign-in", p.status, p.header.Get("Location"))
	}
	b.client.Jar.SetCookies(base, kept)
	if p := b.get("/g/fell-end/"); p.status != http.StatusSeeOther {
		t.Errorf("page with the cookie of a session that was ended = %d, want 303 to sign-in", p.status)
	}
}

// A token known from before sign-in is worth nothing after it.
func TestSignInBeginsANewSession(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleReader)
	base, err := url.Parse(s.url)
	if err != nil {
		t.Fatal(err)
	}
	before := b.client.Jar.Cookies(base)
	b.post("/sign-in", credentials("steward@example.org", password))
	after := b.client.Jar.Cookies(base)
	if before[0].Value == after[0].Value {
		t.Fatal("the session kept its token at sign-in")
	}
	b.client.Jar.SetCookies(base, before)
	if p := b.get("/g/fell-end/"); p.status != http.StatusSeeOther {
		t.Errorf("page with the token from before = %d, want 303 to sign-in", p.status)
	}
}

func TestFormFromAnotherSiteIsRefused(t *testing.T) {
	t.Parallel()
	b := newStack(t).member(t, registry.RoleSteward)
	for _, path := range []string{"/sign-out", "/sign-in", "/g/fell-end/import"} {
		p := b.do(http.MethodPost, path, "application/x-www-form-urlencoded", nil, "Sec-Fetch-Site", "cross-site")
		if p.status != http.StatusForbidden {
			t.Errorf("POST %s from another site = %d, want 403", path, p.status)
		}
	}
	if p := b.get("/g/fell-end/"); p.status != http.StatusOK {
		t.Errorf("page afterwards = %d, want 200: still signed in", p.status)
	}
}

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

// signedOut is an inspection as typed by somebody whose session has ended, and
// what the register answers to it.
func signedOut(t *testing.T, s *stack, b *browser, anchor string) (form url.Values, asked page) {
	t.Helper()
	form = b.get(anchor).form(t, anchor+"/inspections")
	form.Set("person_name", "C. Example")
	form.Set("level", "hands-on")
	form["observations"] = []string{"loose-nut", "surface-rust"}
	form.Set("words", "Half an hour's typing.\nIn two lines.")
	b.post("/sign-out", nil)
	asked = b.post(anchor+"/inspections", form)
	if asked.status != http.StatusUnauthorized || !strings.Contains(asked.text(), wording.AgainSignIn) {
		t.Fatalf("a form without a session = %d %q, want 401 and to sign in", asked.status, asked.text())
	}
	if n := len(s.story(t, anchor).Facts.Inspections); n != 1 {
		t.Fatalf("%d inspections on record, want the list's own", n)
	}
	return form, asked
}

// signIn fills in the form that signs in and sends it with all it carries.
func (p page) signIn(t *testing.T, b *browser, email, word string) page {
	t.Helper()
	form := p.form(t, "/sign-in")
	form.Set("email", email)
	form.Set("password", word)
	return b.post("/sign-in", form)
}

// What was typed when the session had ended stands again after the sign-in, and
// is recorded only when it is sent once more.
func TestFormSentWithoutSessionComesBack(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleRecorder)
	anchor := suspectAnchor(t, b)
	form, asked := signedOut(t, s, b, anchor)

	wrong := asked.signIn(t, b, "recorder@example.org", "a rope of silt")
	if wrong.status != http.StatusUnprocessableEntity {
		t.Errorf("a wrong password = %d, want 422", wrong.status)
	}
	back := wrong.signIn(t, b, "recorder@example.org", password)
	if back.status != http.StatusOK || !strings.Contains(back.text(), wording.NotSentYet) {
		t.Fatalf("signed in = %d %q, want the form again", back.status, back.text())
	}
	if n := len(s.story(t, anchor).Facts.Inspections); n != 1 {
		t.Fatalf("%d inspections on record after the sign-in, want the list's own", n)
	}
	again := back.form(t, anchor+"/inspections")
	for _, name := range []string{"id", "person_name", "level", "done_on"} {
		if got, want := again.Get(name), form.Get(name); got != want {
			t.Errorf("%s stands at %q, want %q", name, got, want)
		}
	}
	if got := again["observations"]; len(got) != 2 {
		t.Errorf("ticked %q, want both", got)
	}
	if !strings.Contains(back.body, "Half an hour&#39;s typing.\nIn two lines.") {
		t.Error("the words are not as they were typed")
	}
	if p := b.post(anchor+"/inspections", again); p.status != http.StatusSeeOther {
		t.Fatalf("sent once more = %d %q, want 303", p.status, p.text())
	}
	if n := len(s.story(t, anchor).Facts.Inspections); n != 2 {
		t.Errorf("%d inspections on record, want 2", n)
	}
}

// Whoever signs in after it, nothing is recorded by that.
func TestFormOfAnotherSignsInAsNobody(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	anchor := suspectAnchor(t, s.member(t, registry.RoleReader))
	for email, want := range map[string]int{
		"reader@example.org": http.StatusForbidden, "stranger@example.org": http.StatusNotFound,
	} {
		b := s.member(t, registry.RoleRecorder)
		_, asked := signedOut(t, s, b, anchor)
		p := asked.signIn(t, b, email, password)
		if p.status != want || strings.Contains(p.body, "typing") {
			t.Errorf("%s signs in = %d, want %d and no word of the other", email, p.status, want)
		}
		if n := len(s.story(t, anchor).Facts.Inspections); n != 1 {
			t.Errorf("%s signs in: %d inspections on record, want 1", email, n)
		}
	}
}

// A file is not carried along, the words beside it are.
func TestPictureSentWithoutSessionIsChosenAgain(t *testing.T) {
	t.Parallel()
	s, anchor := withAnchor(t)
	b := s.browser(t)
	asked := b.picture(anchor+"/pictures", shaded(t, 7), "picture_words", "The left hanger.")
	if asked.status != http.StatusUnauthorized {
		t.Fatalf("a picture without a session = %d, want 401", asked.status)
	}
	back := asked.signIn(t, b, "recorder@example.org", password)
	for _, want := range []string{wording.NotSentYet, wording.AgainFile, "The left hanger."} {
		if !strings.Contains(back.text(), want) {
			t.Errorf("the form again lacks %q: %d", want, back.status)
		}
	}
}

func TestWhatASignInCarriesIsBounded(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.browser(t)
	path := "/g/fell-end/holds"
	long := b.post(path, url.Values{"reason": {strings.Repeat("a", 300<<10)}})
	if long.status != http.StatusUnauthorized || !strings.Contains(long.text(), wording.AgainTooLong) || len(long.body) > 20<<10 {
		t.Errorf("300 KiB without a session = %d, %d bytes, want 401 and that they are too long", long.status, len(long.body))
	}
	for name, c := range map[string]struct {
		asked page
		want  string
	}{
		"a button alone": {b.post(path+"/"+newID(t).String()+"/lift", nil), wording.AgainNothing},
		"a file alone":   {b.upload("/g/fell-end/import", map[string]string{"file": gutter}), wording.AgainOnlyFile},
	} {
		if c.asked.status != http.StatusUnauthorized || !strings.Contains(c.asked.text(), c.want) {
			t.Errorf("%s without a session = %d %q, want %q", name, c.asked.status, c.asked.text(), c.want)
		}
	}
	if p := long.signIn(t, b, "steward@example.org", password); p.status != http.StatusSeeOther {
		t.Errorf("signed in without anything kept = %d, want 303", p.status)
	}
	b.post("/sign-out", nil)
	most := b.post(path, url.Values{"reason": {strings.Repeat("é", 8<<10)}, "new_password": {"a rope of silt"}})
	if strings.Contains(most.body, "a rope of silt") {
		t.Error("a password travels through the page")
	}
	if p := most.signIn(t, b, "steward@example.org", password); p.status >= http.StatusInternalServerError || !strings.Contains(p.text(), wording.NotSentYet) {
		t.Errorf("8 Ki of é = %d %.80q, want the form again", p.status, p.text())
	}
	s.refuseForeign(t, path)
}

// refuseForeign checks that a form of another site is refused before anything is kept of
// it.
func (s *stack) refuseForeign(t *testing.T, path string) {
	t.Helper()
	const media = "application/x-www-form-urlencoded"
	p := s.browser(t).do(http.MethodPost, path, media, []byte("reason=theirs"), "Sec-Fetch-Site", "cross-site")
	if p.status != http.StatusForbidden || len(web.All(p.doc, web.Has("name", "typed.reason"))) > 0 {
		t.Errorf("a form of another site = %d, want 403 and nothing of it", p.status)
	}
}

// Every form that somebody types into comes back after a sign-in, with what was
// in it, and records nothing.
func TestEveryFormComesBack(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	owner := s.member(t, registry.RoleOwner)
	owner.enter(glued)
	anchor := owner.get("/g/fell-end/anchors").anchorPath(t)
	site := owner.get("/g/fell-end/places").link(t, "Gutter Edge")
	batch := owner.get("/g/fell-end/stock").link(t, "L17-A")
	siteOf := site[strings.LastIndex(site, "/")+1:]
	forms := 0
	for _, path := range []string{
		anchor, anchor + "/first-use", anchor + "/cure", anchor + "/maintain", anchor + "/mark", anchor + "/remove", anchor + "/setting",
		site + "/environment", "/g/fell-end/gluing/new?site=" + siteOf, batch, "/g/fell-end/stock/products", "/g/fell-end/stock/batches",
		"/g/fell-end/notices/new", "/g/fell-end/holds",
	} {
		p := owner.get(path)
		if p.status != http.StatusOK {
			t.Errorf("%s = %d", path, p.status)
			continue
		}
		for _, f := range web.All(p.doc, web.Tag("form"), web.Has("method", "post")) {
			if action, _ := web.Attr(f, "action"); action != "/sign-out" {
				forms++
				s.comesBack(t, action, p.form(t, action))
			}
		}
	}
	if forms < 14 {
		t.Errorf("%d forms, want one at least of each page", forms)
	}
}

func (s *stack) comesBack(t *testing.T, action string, form url.Values) {
	t.Helper()
	b := s.browser(t)
	back := b.post(action, form).signIn(t, b, "owner@example.org", password)
	if back.status >= http.StatusInternalServerError || !strings.Contains(back.text(), wording.NotSentYet) {
		t.Errorf("%s again = %d %.300q, want the form and that nothing was recorded", action, back.status, back.text())
		return
	}
	again := back.form(t, action)
	for name, values := range form {
		if values[0] != "" && again.Get(name) != values[0] {
			t.Errorf("%s: %s comes back as %q, want %q", action, name, again.Get(name), values[0])
		}
	}
}

package web_test

import (
	"bytes"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"os"
	"testing"
	"time"

	"github.com/google/uuid"
	"golang.org/x/net/html"

	"rockledger/internal/app"
	"rockledger/internal/auth"
	"rockledger/internal/houserules"
	"rockledger/internal/pgtest"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
	"rockledger/internal/server"
	"rockledger/internal/web"
)

// today is the day of these tests.
var today = time.Date(2026, time.May, 3, 18, 0, 0, 0, time.UTC)

// password is everybody's, all of them invented.
const password = "a rope of sand"

// gutter is a list of an invented crag: a suspect anchor, one without a
// problem, one that is doubtful and one removed, and a row said twice.
const gutter = `Site,Sector,Route,Anchor,Type,Material,Diameter,Date set,Last checked,Condition,Landowner,Notes
Gutter Edge,Left Wall,Slate Rib,1,glue-in,316L,12 mm,12/05/2016,02/05/2025,ok,Invented Estate,
Gutter Edge,Left Wall,Slate Rib,2,through bolt,A4,10 mm,2014,02/05/2025,spins,Invented Estate,<b>by the bush</b>
Gutter Edge,Right Wall,Wet Corner,1,piton,?,,31/02/2012,,,Invented Estate,
Gutter Edge,Right Wall,Wet Corner,2,through bolt,BZP,10 mm,2001,2012,REMOVED,Invented Estate,
Gutter Edge,Left Wall,Slate Rib,1,glue-in,316L,12 mm,12/05/2016,02/05/2025,ok,Invented Estate,
`

// stack is the whole service on a database of the test's own, with the groups
// "fell-end" and "other" and an account for each role in the first.
type stack struct {
	url     string
	service *app.Service
	admin   *postgres.Admin
	groups  map[string]registry.Group
}

func newStack(t *testing.T) *stack {
	t.Helper()
	db := pgtest.New(t)
	store := postgres.New(db.App)
	clock := func() time.Time { return today }
	service := app.New(store, clock)
	log := slog.New(slog.NewTextHandler(t.Output(), &slog.HandlerOptions{Level: slog.LevelError}))
	e := server.New(server.Options{
		Service: service, Tokens: store, Ready: db.App.Ping, Log: log,
		Pages: web.New(web.Options{
			Service: service, Accounts: store, Sessions: postgres.NewWebSessions(db.App), Log: log,
			Cost: auth.TestCost(), Now: clock,
		}),
	})
	srv := httptest.NewServer(e)
	t.Cleanup(srv.Close)
	s := &stack{url: srv.URL, service: service, admin: postgres.NewAdmin(db.Owner()), groups: map[string]registry.Group{}}
	s.addGroup(t, "fell-end")
	s.addGroup(t, "other")
	for _, role := range registry.Roles() {
		s.addAccount(t, string(role)+"@example.org", "fell-end", role)
	}
	s.addAccount(t, "stranger@example.org", "other", registry.RoleOwner)
	return s
}

func (s *stack) addGroup(t *testing.T, slug string) {
	t.Helper()
	rules, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	g := registry.Group{ID: newID(t), Slug: slug, Name: slug + " (invented)", TimeZone: "Europe/London"}
	if err := s.admin.AddGroup(t.Context(), g, rules); err != nil {
		t.Fatal(err)
	}
	s.groups[slug] = g
}

func (s *stack) addAccount(t *testing.T, email, slug string, role registry.Role) registry.Account {
	t.Helper()
	hash, err := auth.NewHasher(auth.TestCost()).Hash(t.Context(), password)
	if err != nil {
		t.Fatal(err)
	}
	a := registry.Account{ID: newID(t), Email: email, Name: "An Example", PasswordHash: hash}
	if err := s.admin.AddAccount(t.Context(), a); err != nil {
		t.Fatal(err)
	}
	s.join(t, a, slug, role)
	return a
}

func (s *stack) join(t *testing.T, a registry.Account, slug string, role registry.Role) {
	t.Helper()
	if err := s.admin.SetMembership(t.Context(), registry.Membership{AccountID: a.ID, Group: s.groups[slug], Role: role}); err != nil {
		t.Fatal(err)
	}
}

// actor is somebody of that role in the group "fell-end", as the use cases see
// them.
func (s *stack) actor(role registry.Role) registry.Actor {
	g := s.groups["fell-end"]
	return registry.Actor{GroupID: g.ID, Group: g.Slug, TimeZone: g.TimeZone, Role: role, Who: "a test"}
}

func newID(t *testing.T) uuid.UUID {
	t.Helper()
	id, err := uuid.NewV7()
	if err != nil {
		t.Fatal(err)
	}
	return id
}

// browser asks for pages and keeps cookies. It follows no redirect.
type browser struct {
	t      *testing.T
	base   string
	client *http.Client
}

func (s *stack) browser(t *testing.T) *browser {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return &browser{t, s.url, &http.Client{
		Jar:           jar,
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}}
}

// member is a browser in which whoever has that role is signed in.
func (s *stack) member(t *testing.T, role registry.Role) *browser {
	t.Helper()
	b := s.browser(t)
	if p := b.post("/sign-in", url.Values{"email": {string(role) + "@example.org"}, "password": {password}}); p.status != http.StatusSeeOther {
		t.Fatalf("sign in as %s = %d, want 303", role, p.status)
	}
	return b
}

// page is an answer.
type page struct {
	status int
	header http.Header
	body   string
	doc    *html.Node
}

func (p page) text() string { return web.Text(p.doc) }

// link is the first link with that text.
func (p page) link(t *testing.T, text string) string {
	t.Helper()
	for _, a := range web.All(p.doc, web.Tag("a")) {
		if web.Text(a) == text {
			href, _ := web.Attr(a, "href")
			return href
		}
	}
	t.Fatalf("no link %q in %s", text, p.text())
	return ""
}

// linkTexts are the texts of all links.
func (p page) linkTexts() []string { return web.Texts(web.All(p.doc, web.Tag("a"))) }

// form is what a form of the page would send as it stands.
func (p page) form(t *testing.T, action string) url.Values {
	t.Helper()
	f := web.One(t, p.doc, "form to "+action, web.Tag("form"), web.Has("action", action))
	values := url.Values{}
	for _, n := range web.All(f) {
		name, _ := web.Attr(n, "name")
		value, _ := web.Attr(n, "value")
		kind, _ := web.Attr(n, "type")
		_, checked := web.Attr(n, "checked")
		switch {
		case n.Data == "input" && (kind != "radio" && kind != "checkbox" || checked):
			values.Add(name, value)
		case n.Data == "textarea":
			values.Add(name, web.Text(n))
		case n.Data == "select":
			values.Add(name, chosen(n))
		}
	}
	return values
}

// chosen is the value that a select field stands at.
func chosen(n *html.Node) string {
	options := web.All(n, web.Tag("option"))
	for _, o := range options {
		if _, ok := web.Attr(o, "selected"); ok {
			options = []*html.Node{o}
		}
	}
	value, _ := web.Attr(options[0], "value")
	return value
}

func (b *browser) get(path string) page {
	b.t.Helper()
	return b.do(http.MethodGet, path, "", nil)
}

func (b *browser) post(path string, form url.Values) page {
	b.t.Helper()
	return b.do(http.MethodPost, path, "application/x-www-form-urlencoded", []byte(form.Encode()))
}

// upload posts files by the names of their fields.
func (b *browser) upload(path string, files map[string]string) page {
	b.t.Helper()
	return b.uploadWith(path, files, nil)
}

// uploadWith posts files with other fields.
func (b *browser) uploadWith(path string, files map[string]string, fields url.Values) page {
	b.t.Helper()
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	for name := range fields {
		if err := m.WriteField(name, fields.Get(name)); err != nil {
			b.t.Fatal(err)
		}
	}
	for field, content := range files {
		w, err := m.CreateFormFile(field, field+".csv")
		if err != nil {
			b.t.Fatal(err)
		}
		if _, err := w.Write([]byte(content)); err != nil {
			b.t.Fatal(err)
		}
	}
	if err := m.Close(); err != nil {
		b.t.Fatal(err)
	}
	return b.do(http.MethodPost, path, m.FormDataContentType(), body.Bytes())
}

// do sends a request; header holds alternating names and values.
func (b *browser) do(method, path, media string, body []byte, header ...string) page {
	b.t.Helper()
	r, err := http.NewRequestWithContext(b.t.Context(), method, b.base+path, bytes.NewReader(body))
	if err != nil {
		b.t.Fatal(err)
	}
	if media != "" {
		r.Header.Set("Content-Type", media)
	}
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	answer, err := b.client.Do(r)
	if err != nil {
		b.t.Fatal(err)
	}
	defer answer.Body.Close() //nolint:errcheck // it was only read
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		b.t.Fatal(err)
	}
	return page{answer.StatusCode, answer.Header, string(text), web.Parse(b.t, string(text))}
}

// enter imports a list through the two steps of the page.
func (b *browser) enter(list string) page {
	b.t.Helper()
	tried := b.upload("/g/fell-end/import", map[string]string{"file": list})
	if tried.status != http.StatusOK {
		b.t.Fatalf("try list = %d: %s", tried.status, tried.text())
	}
	form := url.Values{}
	for _, in := range web.All(tried.doc, web.Tag("input"), web.Has("type", "hidden")) {
		name, _ := web.Attr(in, "name")
		value, _ := web.Attr(in, "value")
		form.Set(name, value)
	}
	return b.post("/g/fell-end/import/enter", form)
}

// sample reads the invented list that the project ships for tests.
func sample(t *testing.T) string {
	t.Helper()
	list, err := os.ReadFile("../../testdata/anchor-list.csv")
	if err != nil {
		t.Fatal(err)
	}
	return string(list)
}

package main

import (
	"bytes"
	"context"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"regexp"
	"strings"
	"testing"

	"rockledger/internal/config"
)

// served is a running service, and a browser at its pages.
type served struct {
	t      *testing.T
	url    string
	client *http.Client
}

// startServe serves the register until the test ends.
func startServe(t *testing.T, s site) *served {
	t.Helper()
	ctx, stop := context.WithCancel(context.WithoutCancel(t.Context()))
	open, ended := make(chan struct{}), make(chan error, 1)
	out := &waiting{want: "\n", found: func() { close(open) }}
	go func() {
		ended <- run(ctx, []string{"serve", "--addr", "127.0.0.1:0", s.app}, out, &bytes.Buffer{})
	}()
	t.Cleanup(func() { stop() })
	select {
	case <-open:
	case err := <-ended:
		t.Fatalf("serve: %v", err)
	}
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	address := strings.TrimSpace(out.String()[strings.Index(out.String(), "http://"):])
	return &served{t: t, url: address, client: &http.Client{Jar: jar, CheckRedirect: func(*http.Request, []*http.Request) error {
		return http.ErrUseLastResponse
	}}}
}

// signIn signs in by the page and returns where it leads.
func (b *served) signIn(email, password string) (int, string) {
	b.t.Helper()
	form := url.Values{"email": {email}, "password": {password}, "next": {"/g/fell-end/"}}
	r, err := http.NewRequestWithContext(b.t.Context(), http.MethodPost, b.url+"/sign-in", strings.NewReader(form.Encode()))
	if err != nil {
		b.t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return b.do(r)
}

func (b *served) today() (int, string) {
	b.t.Helper()
	r, err := http.NewRequestWithContext(b.t.Context(), http.MethodGet, b.url+"/g/fell-end/", nil)
	if err != nil {
		b.t.Fatal(err)
	}
	return b.do(r)
}

func (b *served) do(r *http.Request) (int, string) {
	b.t.Helper()
	answer, err := b.client.Do(r)
	if err != nil {
		b.t.Fatal(err)
	}
	_ = answer.Body.Close()
	return answer.StatusCode, answer.Header.Get("Location")
}

var shown = regexp.MustCompile(`(?m)^    password: (\S+)$`)

// passwordIn finds the password that a command printed.
func passwordIn(t *testing.T, out string) string {
	t.Helper()
	found := shown.FindAllStringSubmatch(out, -1)
	if len(found) != 1 {
		t.Fatalf("printed %q, want one password", out)
	}
	return found[0][1]
}

// Somebody let in on the command line signs in by the page, until the password
// is another one or the membership ended, which ends the session too.
func TestAccounts(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := startServe(t, s)
	in := []string{"--group", "fell-end", s.admin}
	if out := must(t, append([]string{"account", "list"}, in...)...); !strings.Contains(out, "Nobody can sign in") {
		t.Errorf("list of a new group printed %q", out)
	}
	first := passwordIn(t, must(t, append([]string{"account", "add", "Kit@example.org", "--role", "recorder"}, in...)...))
	if status, to := b.signIn("kit@example.org", first); status != http.StatusSeeOther || to != "/g/fell-end/" {
		t.Fatalf("signing in = %d to %q, want 303 to the group", status, to)
	}
	if status, _ := b.today(); status != http.StatusOK {
		t.Errorf("page of a member = %d, want 200", status)
	}
	if out := must(t, append([]string{"account", "role", "kit@EXAMPLE.org", "--role", "owner"}, in...)...); !strings.Contains(out, "owner of fell-end now, and was recorder") {
		t.Errorf("role printed %q", out)
	}
	if out := must(t, append([]string{"account", "list"}, in...)...); !strings.Contains(out, "owner     Kit@example.org (Kit)") {
		t.Errorf("list printed %q", out)
	}
	second := passwordIn(t, must(t, "account", "password", "kit@example.org", s.admin))
	if status, _ := b.today(); status != http.StatusSeeOther {
		t.Errorf("page after the password was changed = %d, want 303 to signing in", status)
	}
	if status, _ := b.signIn("kit@example.org", first); status != http.StatusUnprocessableEntity {
		t.Errorf("signing in with the old password = %d, want 422", status)
	}
	if status, _ := b.signIn("kit@example.org", second); status != http.StatusSeeOther {
		t.Errorf("signing in with the new password = %d, want 303", status)
	}
	must(t, append([]string{"account", "remove", "kit@example.org"}, in...)...)
	if status, _ := b.today(); status != http.StatusSeeOther {
		t.Errorf("page after the membership ended = %d, want 303 to signing in", status)
	}
	if status, _ := b.signIn("kit@example.org", second); status != http.StatusUnprocessableEntity {
		t.Errorf("signing in after the membership ended = %d, want 422", status)
	}
	if out := must(t, "ledger", "verify", "--group", "fell-end", s.app); strings.Contains(out, "row-") || strings.Contains(out, "entry-") {
		t.Errorf("ledger verify printed %q", out)
	}
}

// An account that is there keeps its password in a second group, and outlives
// the end of one membership.
func TestAccountOfTwoGroups(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	must(t, "group", "add", "moor", s.admin)
	must(t, "account", "add", "kit@example.org", "--role", "reader", "--group", "fell-end", s.admin)
	if out := must(t, "account", "add", "kit@example.org", "--role", "owner", "--group", "moor", s.admin); shown.MatchString(out) || !strings.Contains(out, "password of the account that was there") {
		t.Errorf("adding to a second group printed %q", out)
	}
	must(t, "account", "remove", "kit@example.org", "--group", "fell-end", s.admin)
	if out := must(t, "account", "list", "--group", "moor", s.admin); !strings.Contains(out, "kit@example.org") {
		t.Errorf("list of the other group printed %q", out)
	}
}

// A password that somebody chose is read from a pipe, never shown, and refused
// where it is short.
func TestAccountPasswordFromAPipe(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := startServe(t, s)
	add := config.AccountAdd{
		AdminDatabase: config.AdminDatabase{AdminURL: s.db.OwnerURL()}, Password: config.Password{Stdin: true},
		Email: "kit@example.org", Group: "fell-end", Role: "reader",
	}
	if err := runAccountAdd(t.Context(), add, strings.NewReader("eleven char\n"), &bytes.Buffer{}); err == nil || !strings.Contains(explain(err), "at least 12 characters") {
		t.Errorf("a short password: %v", err)
	}
	var out bytes.Buffer
	if err := runAccountAdd(t.Context(), add, strings.NewReader("a rope of silt\r\nmore"), &out); err != nil || strings.Contains(out.String(), "silt") {
		t.Errorf("printed %q, %v, want no password", out.String(), err)
	}
	if status, _ := b.signIn("kit@example.org", "a rope of silt"); status != http.StatusSeeOther {
		t.Errorf("signing in = %d, want 303", status)
	}
	terminal, err := os.Open(os.DevNull) // a device of characters too
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = terminal.Close() }()
	if _, err := readSecret(terminal); err == nil || !strings.Contains(err.Error(), "pipe it") {
		t.Errorf("a terminal: %v", err)
	}
}

func TestAccountRejects(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	must(t, "account", "add", "kit@example.org", "--role", "reader", "--group", "fell-end", s.admin)
	for want, args := range map[string][]string{
		"email: “kit”":              {"add", "kit", "--role", "reader", "--group", "fell-end"},
		"already, as reader":        {"add", "KIT@example.org", "--role", "owner", "--group", "fell-end"},
		"password already":          {"add", "kit@example.org", "--role", "owner", "--group", "fell-end", "--password-stdin"},
		"rockledger group add moor": {"add", "kit@example.org", "--role", "owner", "--group", "moor"},
		"nobody signs in with":      {"password", "kim@example.org"},
		"nobody signs in":           {"remove", "kim@example.org", "--group", "fell-end"},
	} {
		if _, err := command(t, append(append([]string{"account"}, args...), s.admin)...); err == nil || !strings.Contains(explain(err), want) {
			t.Errorf("%q: %v, want %q", args, err, want)
		}
	}
}

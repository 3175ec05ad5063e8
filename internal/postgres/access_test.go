package postgres_test

import (
	"bytes"
	"crypto/sha256"
	"strings"
	"testing"
	"time"

	"github.com/alexedwards/scs/v2"
	"github.com/jackc/pgx/v5/pgxpool"

	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

var _ scs.CtxStore = (*postgres.WebSessions)(nil)

func token(g registry.Group, secret string) registry.Token {
	hash := sha256.Sum256([]byte(secret))
	return registry.Token{ID: sample.ID(), GroupID: g.ID, Name: "invented", Role: registry.RoleRecorder, Hash: hash[:], CreatedAt: sample.At}
}

func TestTokenActor(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	tok := token(r.group, "secret")
	if err := r.admin.As("command line: invented").AddToken(t.Context(), tok); err != nil {
		t.Fatal(err)
	}
	got, err := r.store.TokenActor(t.Context(), tok.Hash)
	want := registry.Actor{
		GroupID: r.group.ID, Group: r.group.Slug, TimeZone: r.group.TimeZone, Role: registry.RoleRecorder, Who: "token:" + tok.ID.String(),
	}
	if d := diff(want, got); err != nil || d != "" {
		t.Errorf("TokenActor() error %v, differs (-want +got):\n%s", err, d)
	}
	if _, err := r.store.TokenActor(t.Context(), make([]byte, 32)); fault.KindOf(err) != fault.Unauthenticated {
		t.Errorf("TokenActor() of no token: error %v, want Unauthenticated", err)
	}
	rows := r.ledger(t, "token added")
	if len(rows) != 1 || rows[0].Who != "command line: invented" || strings.Contains(*rows[0].After, "invented") {
		t.Errorf("ledger of a new token: %+v, want one row without its name", rows)
	}
}

func TestGroups(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	other := addGroup(t, r.admin)
	groups, err := r.store.Groups(t.Context())
	if d := diff([]registry.Group{r.group, other}, groups); err != nil || d != "" {
		t.Errorf("Groups() error %v, differs (-want +got):\n%s", err, d)
	}
	got, err := r.store.GroupBySlug(t.Context(), other.Slug)
	if err != nil || got != other {
		t.Errorf("GroupBySlug(%q) = %v, %v, want %v", other.Slug, got, err, other)
	}
	if _, err := r.store.GroupBySlug(t.Context(), "no-such"); fault.KindOf(err) != fault.NotFound {
		t.Errorf("GroupBySlug of no group: error %v, want NotFound", err)
	}
	again := sample.Group(func(g *registry.Group) { g.Slug = other.Slug })
	rules, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	if err := r.admin.AddGroup(t.Context(), sample.Group(), []byte(`{}`)); fault.KindOf(err) != fault.Invalid {
		t.Errorf("AddGroup with empty house rules: error %v, want Invalid", err)
	}
	if err := r.admin.AddGroup(t.Context(), again, rules); fault.KindOf(err) != fault.Conflict {
		t.Errorf("AddGroup with a slug that is taken: error %v, want Conflict", err)
	}
	if rules, err := r.store.Rules(t.Context(), r.group.ID); err != nil || rules.Version != 1 {
		t.Errorf("Rules() of a new group: version %d, %v, want 1", rules.Version, err)
	}
}

func TestAccounts(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	ctx := t.Context()
	acc := registry.Account{ID: sample.ID(), Email: "Someone@example.org", Name: "Invented Person", PasswordHash: "x"}
	if err := r.admin.AddAccount(ctx, acc); err != nil {
		t.Fatal(err)
	}
	got, err := r.store.AccountByEmail(ctx, "someone@EXAMPLE.org")
	if err != nil || got != acc {
		t.Errorf("AccountByEmail() = %v, %v, want %v", got, err, acc)
	}
	if _, err := r.store.AccountByEmail(ctx, "nobody@example.org"); fault.KindOf(err) != fault.NotFound {
		t.Errorf("AccountByEmail() of nobody: error %v, want NotFound", err)
	}
	twice := acc
	twice.ID, twice.Email = sample.ID(), "SOMEONE@example.org"
	if err := r.admin.AddAccount(ctx, twice); fault.KindOf(err) != fault.Conflict {
		t.Errorf("AddAccount() twice: error %v, want Conflict", err)
	}
	m := registry.Membership{AccountID: acc.ID, Group: r.group, Role: registry.RoleReader}
	for _, role := range []registry.Role{registry.RoleReader, registry.RoleOwner} {
		m.Role = role
		if err := r.admin.SetMembership(ctx, m); err != nil {
			t.Fatal(err)
		}
	}
	list, err := r.store.Memberships(ctx, acc.ID)
	if d := diff([]registry.Membership{m}, list); err != nil || d != "" {
		t.Errorf("Memberships() error %v, differs (-want +got):\n%s", err, d)
	}
}

func TestDropDemoCredentials(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	ctx, other := t.Context(), addGroup(t, r.admin)
	only := registry.Account{ID: sample.ID(), Email: "only@example.org", PasswordHash: "x"}
	both := registry.Account{ID: sample.ID(), Email: "both@example.org", PasswordHash: "x"}
	for _, a := range []registry.Account{only, both} {
		if err := r.admin.AddAccount(ctx, a); err != nil {
			t.Fatal(err)
		}
	}
	for _, m := range []registry.Membership{
		{AccountID: only.ID, Group: r.group, Role: registry.RoleReader},
		{AccountID: both.ID, Group: r.group, Role: registry.RoleReader},
		{AccountID: both.ID, Group: other, Role: registry.RoleReader},
	} {
		if err := r.admin.SetMembership(ctx, m); err != nil {
			t.Fatal(err)
		}
	}
	mine, theirs := token(r.group, "mine"), token(other, "theirs")
	for _, tok := range []registry.Token{mine, theirs} {
		if err := r.admin.AddToken(ctx, tok); err != nil {
			t.Fatal(err)
		}
	}
	if err := r.admin.DropDemoCredentials(ctx, r.group.ID); err != nil {
		t.Fatal(err)
	}
	for name, got := range map[string]error{
		"its token":             second(r.store.TokenActor(ctx, mine.Hash)),
		"an account of its own": second(r.store.AccountByEmail(ctx, only.Email)),
	} {
		if got == nil {
			t.Errorf("%s is still there", name)
		}
	}
	for name, got := range map[string]error{
		"another group's token":   second(r.store.TokenActor(ctx, theirs.Hash)),
		"another group's account": second(r.store.AccountByEmail(ctx, both.Email)),
	} {
		if got != nil {
			t.Errorf("%s is gone: %v", name, got)
		}
	}
}

func second[T any](_ T, err error) error { return err }

func TestWebSessions(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	ctx, s := t.Context(), postgres.NewWebSessions(r.db.App)
	if _, found, err := s.FindCtx(ctx, "secret"); found || err != nil {
		t.Errorf("FindCtx() of no session = %v, %v, want false, nil", found, err)
	}
	for _, data := range []string{"one", "two"} {
		if err := s.CommitCtx(ctx, "secret", []byte(data), time.Now().Add(time.Hour)); err != nil {
			t.Fatal(err)
		}
		if got, found, err := s.FindCtx(ctx, "secret"); string(got) != data || !found || err != nil {
			t.Errorf("FindCtx() = %q, %v, %v, want %q, true, nil", got, found, err, data)
		}
	}
	var hash []byte
	want := sha256.Sum256([]byte("secret"))
	if err := r.db.Owner().QueryRow(ctx, `SELECT token_hash FROM web_session`).Scan(&hash); err != nil || !bytes.Equal(hash, want[:]) {
		t.Errorf("stored %x, %v, want the SHA-256 of the secret", hash, err)
	}
	if err := s.CommitCtx(ctx, "over", []byte("x"), time.Now().Add(-time.Hour)); err != nil {
		t.Fatal(err)
	}
	if _, found, _ := s.FindCtx(ctx, "over"); found {
		t.Error("FindCtx() of a session that is over = true, want false")
	}
	if err := s.DeleteExpired(ctx); err != nil {
		t.Fatal(err)
	}
	if n := r.count(t, `SELECT count(*) FROM web_session`); n != 1 {
		t.Errorf("%d sessions after DeleteExpired(), want 1", n)
	}
	for range 2 { // the second is no error
		if err := s.DeleteCtx(ctx, "secret"); err != nil {
			t.Errorf("DeleteCtx() = %v, want nil", err)
		}
	}
	if _, found, _ := s.FindCtx(ctx, "secret"); found {
		t.Error("FindCtx() after DeleteCtx() = true, want false")
	}
}

func TestCheckRole(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	if err := postgres.CheckRole(t.Context(), r.db.App); err != nil {
		t.Errorf("CheckRole() of the application = %v, want nil", err)
	}
	if err := postgres.CheckRole(t.Context(), r.db.Owner()); err == nil || !strings.Contains(err.Error(), "owns") {
		t.Errorf("CheckRole() of the owner = %v, want an error", err)
	}
	super := openPool(t, r.db.SuperURL())
	if err := postgres.CheckRole(t.Context(), super); err == nil || !strings.Contains(err.Error(), "superuser") {
		t.Errorf("CheckRole() of a superuser = %v, want an error", err)
	}
}

func TestCheckSchema(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	check := func(edit, want string) {
		t.Helper()
		if _, err := r.db.Owner().Exec(t.Context(), edit); err != nil {
			t.Fatal(err)
		}
		err := postgres.CheckSchema(t.Context(), r.db.App)
		if want == "" && err != nil || want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("CheckSchema() after %q = %v, want %q", edit, err, want)
		}
	}
	check(`SELECT 1`, "")
	check(`UPDATE schema_migrations SET version = version - 1`, "migrate up")
	check(`UPDATE schema_migrations SET version = version + 2`, "newer")
	check(`UPDATE schema_migrations SET dirty = true`, "half-way")
	check(`DELETE FROM schema_migrations`, "empty")
	check(`DROP TABLE schema_migrations`, "empty")
}

func openPool(t *testing.T, url string) *pgxpool.Pool {
	t.Helper()
	pool, err := pgxpool.New(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(pool.Close)
	return pool
}

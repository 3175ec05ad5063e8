package pgtest_test

import (
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"rockledger/internal/pgtest"
	"rockledger/migrations"
)

func TestNewIsApart(t *testing.T) {
	t.Parallel()
	one, other := pgtest.New(t), pgtest.New(t)
	exec(t, one.Owner(), `CREATE TABLE mine (n int)`)
	if got := ask(t, other.Owner(), `SELECT COALESCE(to_regclass('mine')::text, 'none')`); got != "none" {
		t.Errorf("table of another test's database = %q, want none", got)
	}
}

func TestNewRoles(t *testing.T) {
	t.Parallel()
	db := pgtest.New(t)
	const who = `SELECT session_user || ' ' || rolsuper::text || ' ' || rolbypassrls::text FROM pg_roles WHERE rolname = session_user`
	if got, want := ask(t, db.App, who), migrations.App+" false false"; got != want {
		t.Errorf("role of App = %q, want %q", got, want)
	}
	if got, want := ask(t, db.Owner(), who), migrations.Owner+" false false"; got != want {
		t.Errorf("role of Owner = %q, want %q", got, want)
	}
	if _, err := db.App.Exec(t.Context(), `CREATE TABLE mine (n int)`); err == nil {
		t.Error("the application's role may create tables, want it refused")
	}
}

func TestNewIsMigrated(t *testing.T) {
	t.Parallel()
	db := pgtest.New(t)
	for _, url := range []string{db.OwnerURL(), db.AppURL(), db.SuperURL()} {
		if err := migrations.Check(t.Context(), url); err != nil {
			t.Errorf("Check(%s) = %v, want nil", url, err)
		}
	}
}

func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		pgtest.New(b)
	}
}

func exec(t *testing.T, pool *pgxpool.Pool, statement string) {
	t.Helper()
	if _, err := pool.Exec(t.Context(), statement); err != nil {
		t.Fatalf("%s: %v", statement, err)
	}
}

func ask(t *testing.T, pool *pgxpool.Pool, query string) string {
	t.Helper()
	rows, err := pool.Query(t.Context(), query)
	if err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	text, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[string])
	if err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	return text
}

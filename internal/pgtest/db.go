// Package pgtest gives each test a PostgreSQL database of its own, with the
// newest schema and nothing in it. It is for tests only.
//
// The server is, in this order: the one that TEST_DATABASE_URL names (as a
// superuser; a server for tests, since the two roles get that user's
// password); a private one from the machine's own binaries; a container.
// ROCKLEDGER_TEST_DB=url, local or container forces one. There is one server
// for each test binary, started when the first test asks and ended with the
// process. Where there is none, tests skip; with CI=true they fail.
package pgtest

import (
	"context"
	"errors"
	"os"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5/pgxpool"

	"rockledger/migrations"
)

// dropLimit is how long the removal of a test's database may take.
const dropLimit = 30 * time.Second

// DB is one test's database. It is removed when the test ends.
type DB struct {
	// App is a pool as the application's role, under row security.
	App *pgxpool.Pool

	tb      testing.TB
	cluster *cluster
	name    string
	owner   func() *pgxpool.Pool
}

// New returns a database of the test's own. It ends the test when there is no
// server to make one on: skipped on a laptop, failed with CI=true.
func New(tb testing.TB) *DB {
	tb.Helper()
	c, err := shared()
	if errors.Is(err, errNoServer) && os.Getenv("CI") != "true" {
		tb.Skipf("needs a database: %v", err)
	}
	if err != nil {
		tb.Fatalf("database for tests: %v", err)
	}
	name, err := c.clone(tb.Context())
	if err != nil {
		tb.Fatalf("database for tests: %v", err)
	}
	tb.Cleanup(func() {
		ctx, cancel := context.WithTimeout(context.Background(), dropLimit)
		defer cancel()
		if err := c.drop(ctx, name); err != nil {
			tb.Errorf("drop database of test: %v", err)
		}
	})
	d := &DB{tb: tb, cluster: c, name: name}
	d.App = d.pool(migrations.App)
	d.owner = sync.OnceValue(func() *pgxpool.Pool { return d.pool(migrations.Owner) })
	return d
}

// Owner returns a pool as the role that owns the tables: row security does not
// hold it. For filling, never for what the application does.
func (d *DB) Owner() *pgxpool.Pool {
	d.tb.Helper()
	return d.owner()
}

// AppURL returns the database's URL as the application's role.
func (d *DB) AppURL() string { return d.cluster.url(migrations.App, d.name) }

// OwnerURL returns the database's URL as the owner.
func (d *DB) OwnerURL() string { return d.cluster.url(migrations.Owner, d.name) }

// SuperURL returns the database's URL as a superuser, for tests that the
// application refuses one.
func (d *DB) SuperURL() string { return d.cluster.url("", d.name) }

// pool opens a pool that is closed before the database is dropped. It connects
// when it is first used.
func (d *DB) pool(role string) *pgxpool.Pool {
	d.tb.Helper()
	pool, err := pgxpool.New(context.Background(), d.cluster.url(role, d.name))
	if err != nil {
		d.tb.Fatalf("database for tests: open pool as %s: %v", role, err)
	}
	d.tb.Cleanup(pool.Close)
	return pool
}

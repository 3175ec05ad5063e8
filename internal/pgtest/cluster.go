package pgtest

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/url"
	"strings"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"

	"rockledger/migrations"
)

// cluster is a server on which databases can be made as a superuser.
type cluster struct {
	super    url.URL // as the superuser, database "postgres"
	template string
}

// url returns a database's URL as a role; an empty role is the superuser.
func (c *cluster) url(role, database string) string {
	u := c.super
	u.Path = "/" + database
	if role == "" {
		return u.String()
	}
	u.User = url.User(role)
	if password, ok := c.super.User.Password(); ok {
		u.User = url.UserPassword(role, password)
	}
	return u.String()
}

// templateLimit is how long it may take to make the template, or to wait while
// another test binary does.
const templateLimit = 2 * time.Minute

// shared returns the server of this test binary with a migrated template.
var shared = sync.OnceValues(func() (*cluster, error) {
	ctx, cancel := context.WithTimeout(context.Background(), templateLimit)
	defer cancel()
	super, err := server(ctx)
	if err != nil {
		return nil, err
	}
	u, err := url.Parse(super)
	if err != nil {
		return nil, fmt.Errorf("address of the server for tests: %w", err)
	}
	u.Path = "/postgres"
	c := &cluster{super: *u, template: templateName()}
	return c, c.makeTemplate(ctx)
})

// templateName is made from the migrations, so that other migrations have
// another template.
func templateName() string {
	sum := sha256.New()
	names, _ := fs.Glob(migrations.FS, "*.sql") // the pattern is well-formed
	for _, name := range names {
		text, _ := fs.ReadFile(migrations.FS, name)                // it is embedded
		_, _ = fmt.Fprintf(sum, "%s %d %s", name, len(text), text) // a hash takes everything
	}
	return "rockledger_template_" + hex.EncodeToString(sum.Sum(nil)[:8])
}

// templateLock keeps test binaries that share a server from making the
// template twice: an arbitrary number of this project.
const templateLock = 7165043

const (
	lockTemplate   = `SELECT pg_advisory_lock($1)`
	selectTemplate = `SELECT EXISTS (SELECT FROM pg_database WHERE datname = $1 AND datistemplate)`
)

// makeTemplate makes the roles, and the migrated database that tests clone
// unless it is there. The lock ends with the connection.
func (c *cluster) makeTemplate(ctx context.Context) error {
	conn, err := pgx.Connect(ctx, c.super.String())
	if err != nil {
		return fmt.Errorf("connect as superuser: %w", err)
	}
	defer func() { _ = conn.Close(context.Background()) }()
	if _, err := conn.Exec(ctx, lockTemplate, templateLock); err != nil {
		return fmt.Errorf("lock template: %w", err)
	}
	if err := c.makeRoles(ctx, conn); err != nil {
		return err
	}
	var whole bool
	if err := conn.QueryRow(ctx, selectTemplate, c.template).Scan(&whole); err != nil {
		return fmt.Errorf("look for template: %w", err)
	}
	if whole {
		return nil
	}
	return c.migrateTemplate(ctx, conn)
}

func (c *cluster) makeRoles(ctx context.Context, conn *pgx.Conn) error {
	if _, err := conn.Exec(ctx, migrations.Roles); err != nil {
		return fmt.Errorf("make roles: %w", err)
	}
	password, ok := c.super.User.Password()
	if !ok {
		return nil
	}
	quoted := "'" + strings.ReplaceAll(password, "'", "''") + "'"
	for _, role := range []string{migrations.Owner, migrations.App} {
		if _, err := conn.Exec(ctx, "ALTER ROLE "+role+" PASSWORD "+quoted); err != nil {
			return fmt.Errorf("set password of %s: %w", role, err)
		}
	}
	return nil
}

// migrateTemplate makes the template. Only a whole one is marked as one, so a
// half-made one is made again.
func (c *cluster) migrateTemplate(ctx context.Context, conn *pgx.Conn) error {
	if _, err := conn.Exec(ctx, "DROP DATABASE IF EXISTS "+c.template+" WITH (FORCE)"); err != nil {
		return fmt.Errorf("drop half-made template: %w", err)
	}
	if _, err := conn.Exec(ctx, "CREATE DATABASE "+c.template+" OWNER "+migrations.Owner); err != nil {
		return fmt.Errorf("create template: %w", err)
	}
	if err := migrations.Up(ctx, c.url(migrations.Owner, c.template)); err != nil {
		return fmt.Errorf("template: %w", err)
	}
	if _, err := conn.Exec(ctx, "ALTER DATABASE "+c.template+" WITH IS_TEMPLATE true ALLOW_CONNECTIONS false"); err != nil {
		return fmt.Errorf("mark template: %w", err)
	}
	return nil
}

// clone makes a database from the template and returns its name.
func (c *cluster) clone(ctx context.Context) (string, error) {
	name := "rockledger_test_" + strings.ToLower(rand.Text())
	return name, c.exec(ctx, "CREATE DATABASE "+name+" OWNER "+migrations.Owner+" TEMPLATE "+c.template+" STRATEGY file_copy")
}

func (c *cluster) drop(ctx context.Context, name string) error {
	return c.exec(ctx, "DROP DATABASE IF EXISTS "+name+" WITH (FORCE)")
}

func (c *cluster) exec(ctx context.Context, statement string) error {
	conn, err := pgx.Connect(ctx, c.super.String())
	if err != nil {
		return fmt.Errorf("connect as superuser: %w", err)
	}
	defer func() { _ = conn.Close(context.Background()) }()
	if _, err := conn.Exec(ctx, statement); err != nil {
		return fmt.Errorf("%s: %w", statement, err)
	}
	return nil
}

package migrations

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"time"

	"github.com/golang-migrate/migrate/v4"
	migratepgx "github.com/golang-migrate/migrate/v4/database/pgx/v5"
	"github.com/golang-migrate/migrate/v4/source"
	"github.com/golang-migrate/migrate/v4/source/iofs"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/stdlib"
)

// ErrDirty says that a migration broke off half-way and a person must look.
var ErrDirty = errors.New("a migration broke off half-way")

// ErrNewer says that the schema was made by a newer version of this program.
var ErrNewer = errors.New("the schema is newer than this program")

// ErrOlder says that migrations are missing.
var ErrOlder = errors.New("the schema is older than this program")

// Latest returns the number of the newest migration in this program, 0 when
// there is none.
func Latest() (uint, error) {
	names, err := fs.Glob(FS, "*.up.sql")
	if err != nil {
		return 0, err
	}
	var latest uint
	for _, name := range names {
		m, err := source.Parse(name)
		if err != nil {
			return 0, fmt.Errorf("migration file %s: want NNNNNN_verb_noun.up.sql: %w", name, err)
		}
		latest = max(latest, m.Version)
	}
	return latest, nil
}

const (
	// The table belongs to golang-migrate, which makes it before the first step.
	selectHasVersion = `SELECT to_regclass('schema_migrations') IS NOT NULL`
	selectVersion    = `SELECT version, dirty FROM schema_migrations LIMIT 1`
	grantVersion     = `GRANT SELECT ON schema_migrations TO ` + App
)

// Version returns the number of the database's schema, 0 for an empty
// database, and whether a migration broke off half-way there. It changes
// nothing, and may be asked as either role.
func Version(ctx context.Context, url string) (version uint, dirty bool, err error) {
	conn, err := pgx.Connect(ctx, url)
	if err != nil {
		return 0, false, fmt.Errorf("ask for the schema's version: %w", err)
	}
	defer func() { _ = conn.Close(ctx) }()
	var has bool
	if err := conn.QueryRow(ctx, selectHasVersion).Scan(&has); err != nil {
		return 0, false, fmt.Errorf("ask for the schema's version: %w", err)
	}
	if !has {
		return 0, false, nil
	}
	var number int64
	err = conn.QueryRow(ctx, selectVersion).Scan(&number, &dirty)
	if errors.Is(err, pgx.ErrNoRows) {
		return 0, false, nil
	}
	if err != nil {
		return 0, false, fmt.Errorf("ask for the schema's version: %w", err)
	}
	return uint(max(number, 0)), dirty, nil // -1 stands for "none" there
}

// Check returns nil if the database's schema is the one this program knows,
// otherwise an error (ErrDirty, ErrNewer, ErrOlder) that says what to do.
func Check(ctx context.Context, url string) error {
	at, latest, err := state(ctx, url)
	if err == nil && at < latest {
		err = fmt.Errorf("%w (version %d, want %d): run rockledger migrate up", ErrOlder, at, latest)
	}
	return err
}

// Up brings the schema to the newest version, as the owner, and does nothing
// when it is there. A schema that is newer or dirty is left alone: ErrNewer,
// ErrDirty.
func Up(ctx context.Context, url string) error {
	at, latest, err := state(ctx, url)
	if err != nil {
		return err
	}
	if at == latest {
		return nil
	}
	return run(ctx, url, func(m *migrate.Migrate) error { return m.Up() })
}

// Down takes the schema back by a number of steps, at most to the empty
// database. What the dropped tables held is lost.
func Down(ctx context.Context, url string, steps int) error {
	if steps < 1 {
		return fmt.Errorf("steps down: %d: want 1 or more", steps)
	}
	at, _, err := state(ctx, url)
	if err != nil {
		return err
	}
	steps = min(steps, int(at))
	if steps == 0 {
		return nil
	}
	return run(ctx, url, func(m *migrate.Migrate) error { return m.Steps(-steps) })
}

// state returns the version of the schema and the newest one known, and an
// error if this program cannot work on from there.
func state(ctx context.Context, url string) (at, latest uint, err error) {
	latest, err = Latest()
	if err != nil {
		return 0, 0, err
	}
	at, dirty, err := Version(ctx, url)
	switch {
	case err != nil:
		return 0, 0, err
	case dirty:
		return at, latest, fmt.Errorf("%w, at version %d: put the backup back, or bring the schema to that version by hand "+
			"and then, as the owner, UPDATE schema_migrations SET dirty = false", ErrDirty, at)
	case at > latest:
		return at, latest, fmt.Errorf("%w (version %d, known up to %d): install the version of rockledger that migrated it, or a later one", ErrNewer, at, latest)
	}
	return at, latest, nil
}

// run opens the database for the runner, works, and lets the application's
// role read the version. When ctx ends, the step at work is finished first.
func run(ctx context.Context, url string, work func(*migrate.Migrate) error) error {
	m, err := open(url)
	if err != nil {
		return err
	}
	done := context.AfterFunc(ctx, func() { m.GracefulStop <- true })
	err = work(m)
	done()
	sourceErr, databaseErr := m.Close()
	if errors.Is(err, migrate.ErrNoChange) {
		err = nil // another run was quicker
	}
	if err := errors.Join(err, sourceErr, databaseErr); err != nil {
		return fmt.Errorf("migrate: %w", err)
	}
	if err := ctx.Err(); err != nil {
		return fmt.Errorf("migrate: stopped between two steps: %w", err)
	}
	return grant(ctx, url)
}

func open(url string) (*migrate.Migrate, error) {
	config, err := pgx.ParseConfig(url)
	if err != nil {
		return nil, fmt.Errorf("migrate: database address: %w", err)
	}
	files, err := iofs.New(FS, ".")
	if err != nil {
		return nil, fmt.Errorf("migrate: read steps: %w", err)
	}
	db := stdlib.OpenDB(*config) // of the runner's own: its Close closes it
	driver, err := migratepgx.WithInstance(db, &migratepgx.Config{})
	if err != nil {
		return nil, errors.Join(fmt.Errorf("migrate: connect: %w", err), db.Close())
	}
	m, err := migrate.NewWithInstance("iofs", files, "pgx5", driver)
	if err != nil {
		return nil, errors.Join(fmt.Errorf("migrate: %w", err), driver.Close())
	}
	m.LockTimeout = time.Minute // another start may be migrating
	return m, nil
}

func grant(ctx context.Context, url string) error {
	conn, err := pgx.Connect(ctx, url)
	if err != nil {
		return fmt.Errorf("migrate: connect: %w", err)
	}
	defer func() { _ = conn.Close(ctx) }()
	if _, err := conn.Exec(ctx, grantVersion); err != nil {
		return fmt.Errorf("migrate: let the application read the schema's version (was roles.sql run?): %w", err)
	}
	return nil
}

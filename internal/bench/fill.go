package bench

import (
	"context"
	"fmt"
	"iter"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"rockledger/internal/demo"
	"rockledger/internal/pglocal"
	"rockledger/internal/postgres"
	"rockledger/migrations"
)

// subject is a filled register.
type subject struct {
	figures Register
	demo    *demo.Synthetic
	url     string // as the application's role
	pool    *pgxpool.Pool
	store   *postgres.Store

	probe func() (demo.Probe, bool)
	stop  func()
	lots  map[string]int // lots taken so far, by kind
}

// database is the name of the register's database.
func (s *subject) database() string { return fmt.Sprintf("bench_%d", s.demo.Anchors) }

func (s *subject) close() {
	s.stop()
	s.pool.Close()
}

// fill makes a database with a synthetic register.
func (b *bench) fill(ctx context.Context, anchors int) (*subject, error) {
	made, err := demo.NewSynthetic(anchors, b.At, b.Rules, b.Engine)
	if err != nil {
		return nil, err
	}
	if lotCalls(made, b.Rounds) < 1 {
		return nil, fmt.Errorf("%d rounds: there are not so many lots of %d anchors to share out, want fewer", b.Rounds, lot)
	}
	b.say("filling a register of %d anchors in %d groups and %d sites", made.Anchors, made.Groups, made.Sites())
	began := time.Now()
	s := &subject{demo: made, lots: make(map[string]int)}
	name := s.database()
	if err := b.create(ctx, name); err != nil {
		return nil, err
	}
	owner := b.server.URL(migrations.Owner, name)
	if err := migrations.Up(ctx, owner); err != nil {
		return nil, err
	}
	size, err := b.copyAll(ctx, owner, made)
	if err != nil {
		return nil, err
	}
	s.url = b.server.URL(migrations.App, name)
	s.figures = Register{
		Anchors: made.Anchors, Groups: made.Groups, Sites: made.Sites(), Bytes: size, FillSeconds: time.Since(began).Seconds(),
	}
	if s.pool, err = open(ctx, s.url, b.Clients, nil); err != nil {
		return nil, err
	}
	s.store = postgres.New(s.pool)
	s.probe, s.stop = iter.Pull(made.Probes())
	return s, nil
}

// create makes an empty database that belongs to the owner.
func (b *bench) create(ctx context.Context, name string) error {
	conn, err := pgx.Connect(ctx, b.server.URL(pglocal.Superuser, "postgres"))
	if err != nil {
		return fmt.Errorf("connect to the private server: %w", err)
	}
	defer func() { _ = conn.Close(ctx) }()
	if _, err := conn.Exec(ctx, "CREATE DATABASE "+pgx.Identifier{name}.Sanitize()+" OWNER "+migrations.Owner); err != nil {
		return fmt.Errorf("create database %s: %w", name, err)
	}
	return nil
}

// copyAll copies the register's tables as the owner, and returns the size of
// the database in bytes.
func (b *bench) copyAll(ctx context.Context, owner string, made *demo.Synthetic) (size int64, err error) {
	conn, err := pgx.Connect(ctx, owner)
	if err != nil {
		return 0, fmt.Errorf("connect as the owner: %w", err)
	}
	defer func() { _ = conn.Close(ctx) }()
	if _, err := conn.Exec(ctx, "SET session_replication_role = replica"); err != nil {
		return 0, fmt.Errorf("put reference checks aside: %w", err)
	}
	for _, table := range made.Tables() {
		if err := copyIn(ctx, conn, table); err != nil {
			return 0, err
		}
	}
	// What autovacuum would have done by then.
	if _, err := conn.Exec(ctx, "VACUUM ANALYSE"); err != nil {
		return 0, fmt.Errorf("analyse: %w", err)
	}
	err = conn.QueryRow(ctx, "SELECT pg_database_size(current_database())").Scan(&size)
	return size, err
}

// copyIn copies one table, row by row.
func copyIn(ctx context.Context, conn *pgx.Conn, table demo.Table) error {
	next, stop := iter.Pull(table.Rows)
	defer stop()
	rows := pgx.CopyFromFunc(func() ([]any, error) {
		row, ok := next()
		if !ok {
			return nil, nil //nolint:nilnil // this is how pgx wants to hear of the end
		}
		return row, nil
	})
	if _, err := conn.CopyFrom(ctx, pgx.Identifier{table.Name}, table.Columns, rows); err != nil {
		return fmt.Errorf("copy into %s: %w", table.Name, err)
	}
	return nil
}

// open opens a pool for so many clients as the application's role.
func open(ctx context.Context, url string, clients int, tracer pgx.QueryTracer) (*pgxpool.Pool, error) {
	config, err := pgxpool.ParseConfig(url)
	if err != nil {
		return nil, fmt.Errorf("read the database's URL: %w", err)
	}
	config.MaxConns = int32(clients) //nolint:gosec // a handful
	config.ConnConfig.Tracer = tracer
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, fmt.Errorf("open the database: %w", err)
	}
	if err := postgres.CheckRole(ctx, pool); err != nil {
		pool.Close()
		return nil, err
	}
	return pool, nil
}

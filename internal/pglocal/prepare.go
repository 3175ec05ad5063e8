package pglocal

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"
)

// prepareLock is the advisory lock under which roles and the database are
// made: an arbitrary number of this project.
const prepareLock = 7165042

const (
	lockPrepare    = `SELECT pg_advisory_lock($1)`
	selectDatabase = `SELECT EXISTS (SELECT FROM pg_database WHERE datname = $1)`
)

// prepare makes the roles and the database that the options ask for. The lock
// ends with the connection.
func (s *Server) prepare(ctx context.Context, o Options) error {
	if o.Roles == "" && o.Database == "" {
		return nil
	}
	conn, err := pgx.Connect(ctx, s.URL(Superuser, "postgres"))
	if err != nil {
		return fmt.Errorf("connect to the private server: %w", err)
	}
	defer func() { _ = conn.Close(ctx) }()
	if _, err := conn.Exec(ctx, lockPrepare, prepareLock); err != nil {
		return fmt.Errorf("lock the private server: %w", err)
	}
	if o.Roles != "" {
		if _, err := conn.Exec(ctx, o.Roles); err != nil {
			return fmt.Errorf("make the roles: %w", err)
		}
	}
	return createDatabase(ctx, conn, o)
}

func createDatabase(ctx context.Context, conn *pgx.Conn, o Options) error {
	if o.Database == "" {
		return nil
	}
	var exists bool
	if err := conn.QueryRow(ctx, selectDatabase, o.Database).Scan(&exists); err != nil {
		return fmt.Errorf("look for database %s: %w", o.Database, err)
	}
	if exists {
		return nil
	}
	owner := o.Owner
	if owner == "" {
		owner = Superuser
	}
	create := "CREATE DATABASE " + pgx.Identifier{o.Database}.Sanitize() + " OWNER " + pgx.Identifier{owner}.Sanitize()
	if _, err := conn.Exec(ctx, create); err != nil {
		return fmt.Errorf("create database %s: %w", o.Database, err)
	}
	return nil
}

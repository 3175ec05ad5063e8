package postgres

import (
	"context"
	"errors"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"

	"rockledger/internal/fault"
)

// setWatch lets the server look every five seconds, while it works on a
// statement or waits for a lock, whether whoever sent it is still there: else a
// service that was killed would go on holding off others until its statement
// ends. Five seconds: a default of this project. A parameter of the start of a
// connection would do as well, but poolers in between refuse those they do not
// know.
const setWatch = `SET client_connection_check_interval = '5s'`

// Connect opens a pool on a database and reaches it once. Work that a killed
// program leaves behind ends by itself, where the server can tell. The pool is
// the caller's to close.
func Connect(ctx context.Context, url string) (*pgxpool.Pool, error) {
	config, err := pgxpool.ParseConfig(url)
	if err != nil {
		return nil, fault.Wrap(fault.Internal, err, "read the database URL")
	}
	config.AfterConnect = watch
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, fault.Wrap(fault.Internal, err, "open the database")
	}
	if err := pool.Ping(ctx); err != nil {
		pool.Close()
		return nil, translate(err, "reach the database")
	}
	return pool, nil
}

// watch sets setWatch on a new connection. A server that cannot watch, by its
// version or system, serves without.
func watch(ctx context.Context, c *pgx.Conn) error {
	_, err := c.Exec(ctx, setWatch)
	if refused := new(pgconn.PgError); errors.As(err, &refused) {
		return nil
	}
	return translate(err, "watch the connection")
}

package postgres

import (
	"context"
	"errors"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"rockledger/internal/fault"
)

// Schema is the version of the database's schema that this package works with.
const Schema = 31

// selectSchema reads golang-migrate's table, by whatever name the path finds.
const selectSchema = `SELECT version, dirty FROM schema_migrations`

// CheckSchema returns an error that says what to do unless the database has
// exactly the schema that this program knows.
func CheckSchema(ctx context.Context, pool *pgxpool.Pool) error {
	var (
		version int64
		dirty   bool
	)
	switch err := pool.QueryRow(ctx, selectSchema).Scan(&version, &dirty); {
	case errors.Is(err, pgx.ErrNoRows) || stateOf(err) == undefinedTable:
		return fault.New(fault.Internal, "the database is empty: run rockledger migrate up")
	case err != nil:
		return translate(err, "read the schema's version")
	case dirty:
		return fault.New(fault.Internal, "a migration to version %d broke off half-way: restore the backup or finish it by hand", version)
	case version < Schema:
		return fault.New(fault.Internal, "the schema is version %d, want %d: run rockledger migrate up", version, Schema)
	case version > Schema:
		return fault.New(fault.Internal, "the schema is version %d, newer than this program's %d: install the newer program", version, Schema)
	}
	return nil
}

// selectRole says what the role of this connection could do past row security.
const selectRole = `
SELECT r.rolname AS name, r.rolsuper AS super, r.rolbypassrls AS bypasses,
  EXISTS (
    SELECT FROM pg_class AS c
    JOIN pg_attribute AS a ON a.attrelid = c.oid AND a.attname = 'group_id' AND NOT a.attisdropped
    WHERE c.relkind IN ('r', 'p')
      AND c.relnamespace = current_schema()::regnamespace
      AND pg_has_role(r.oid, c.relowner, 'MEMBER')) AS owns
FROM pg_roles AS r
WHERE r.rolname = current_user`

type roleRow struct {
	Name     string
	Super    bool
	Bypasses bool
	Owns     bool
}

// CheckRole returns an error that says what to do if the pool's role could put
// row security aside: a superuser, one that may bypass it, or one that owns a
// group's tables.
func CheckRole(ctx context.Context, pool *pgxpool.Pool) error {
	const remedy = "the service must log in as rockledger_app (ROCKLEDGER_DATABASE_URL), so that groups stay apart"
	rows, err := pool.Query(ctx, selectRole)
	if err != nil {
		return translate(err, "check the database role")
	}
	switch r, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[roleRow]); {
	case err != nil:
		return translate(err, "check the database role")
	case r.Super:
		return fault.New(fault.Internal, "database role %s is a superuser: %s", r.Name, remedy)
	case r.Bypasses:
		return fault.New(fault.Internal, "database role %s may bypass row security: %s", r.Name, remedy)
	case r.Owns:
		return fault.New(fault.Internal, "database role %s owns the register's tables: %s", r.Name, remedy)
	}
	return nil
}

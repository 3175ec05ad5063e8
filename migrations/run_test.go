package migrations_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"rockledger/internal/pgtest"
	"rockledger/migrations"
)

func TestUpDownUp(t *testing.T) {
	t.Parallel()
	db := pgtest.New(t) // migrated already
	ctx, latest := t.Context(), latest(t)
	whole := schema(t, db.Owner())
	for steps := 1; steps <= latest; steps++ {
		if err := migrations.Down(ctx, db.OwnerURL(), steps); err != nil {
			t.Fatalf("Down(%d) = %v, want nil", steps, err)
		}
		if at, dirty, err := migrations.Version(ctx, db.OwnerURL()); int(at) != latest-steps || dirty || err != nil {
			t.Fatalf("Version after Down(%d) = %v, %v, %v, want %v", steps, at, dirty, err, latest-steps)
		}
		if steps == latest {
			if left := schema(t, db.Owner()); len(left) > 0 {
				t.Errorf("left of the schema after the last step down:\n%s", strings.Join(left, "\n"))
			}
		}
		if err := migrations.Up(ctx, db.OwnerURL()); err != nil {
			t.Fatalf("Up after Down(%d) = %v, want nil", steps, err)
		}
		if diff := cmp.Diff(whole, schema(t, db.Owner())); diff != "" {
			t.Fatalf("schema after %d down and up again (-before +after):\n%s", steps, diff)
		}
	}
}

func TestDownStopsAtTheEmptyDatabase(t *testing.T) {
	t.Parallel()
	db := pgtest.New(t)
	for range 2 {
		if err := migrations.Down(t.Context(), db.OwnerURL(), latest(t)+5); err != nil {
			t.Fatalf("Down(more than there are) = %v, want nil", err)
		}
	}
	if err := migrations.Check(t.Context(), db.AppURL()); !errors.Is(err, migrations.ErrOlder) {
		t.Errorf("Check on an empty schema = %v, want %v", err, migrations.ErrOlder)
	}
	if err := migrations.Down(t.Context(), db.OwnerURL(), 0); err == nil {
		t.Error("Down(0) = nil, want an error")
	}
}

func TestUnknownSchemasAreLeftAlone(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, spoil, remedy string
		want                error
	}{
		{"half-way", `UPDATE schema_migrations SET dirty = true`, "put the backup back", migrations.ErrDirty},
		{"newer", `UPDATE schema_migrations SET version = version + 1`, "install the version of rockledger", migrations.ErrNewer},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			db := pgtest.New(t)
			if _, err := db.Owner().Exec(t.Context(), tt.spoil); err != nil {
				t.Fatal(err)
			}
			for does, err := range map[string]error{
				"Check": migrations.Check(t.Context(), db.AppURL()),
				"Up":    migrations.Up(t.Context(), db.OwnerURL()),
				"Down":  migrations.Down(t.Context(), db.OwnerURL(), 1),
			} {
				if !errors.Is(err, tt.want) || !strings.Contains(err.Error(), tt.remedy) {
					t.Errorf("%s = %v, want %v with %q", does, err, tt.want, tt.remedy)
				}
			}
		})
	}
}

// Roles made too mighty by hand are put back.
func TestRolesRepeat(t *testing.T) {
	t.Parallel()
	db := pgtest.New(t)
	conn, err := pgx.Connect(t.Context(), db.SuperURL())
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = conn.Close(t.Context()) }()
	tx, err := conn.Begin(t.Context()) // undone, so that other tests see nothing of it
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = tx.Rollback(t.Context()) }()
	for _, sql := range []string{
		`ALTER ROLE rockledger_app SUPERUSER BYPASSRLS CREATEDB`,
		`GRANT rockledger_owner TO rockledger_app`,
		migrations.Roles,
		migrations.Roles,
	} {
		if _, err := tx.Exec(t.Context(), sql); err != nil {
			t.Fatalf("%.40s: %v", sql, err)
		}
	}
	const mighty = `SELECT rolsuper OR rolbypassrls OR rolcreatedb OR rolcreaterole OR NOT rolcanlogin
		OR pg_has_role('rockledger_app', 'rockledger_owner', 'MEMBER')
	FROM pg_roles WHERE rolname = 'rockledger_app'`
	var still bool
	if err := tx.QueryRow(t.Context(), mighty).Scan(&still); err != nil || still {
		t.Errorf("rockledger_app still mighty after roles.sql: %v, %v, want false", still, err)
	}
}

func latest(t *testing.T) int {
	t.Helper()
	n, err := migrations.Latest()
	if err != nil || n == 0 {
		t.Fatalf("Latest() = %v, %v, want a migration", n, err)
	}
	return int(n)
}

// selectSchema lists what the steps made, one line each: all that row security and the application's rights rest on is in it.
const selectSchema = `
WITH ours AS (
  SELECT c.oid, c.relname, c.relkind, c.relrowsecurity, c.relforcerowsecurity, c.reloptions, c.relacl, c.relowner
  FROM pg_class AS c
  JOIN pg_namespace AS n ON n.oid = c.relnamespace
  WHERE n.nspname = 'public'
    AND c.relname NOT LIKE 'schema_migrations%'
)
SELECT concat_ws(' | ', 'relation', relname, relkind, relrowsecurity, relforcerowsecurity, reloptions, relacl, relowner::regrole) AS line FROM ours
UNION ALL
SELECT concat_ws(' | ', 'column', relname, attname, format_type(atttypid, atttypmod), attnotnull, attidentity, attgenerated,
  pg_get_expr(d.adbin, d.adrelid), col_description(a.attrelid, a.attnum), attacl)
FROM ours JOIN pg_attribute AS a ON a.attrelid = ours.oid AND attnum > 0 AND NOT attisdropped AND relkind <> 'i'
LEFT JOIN pg_attrdef AS d ON d.adrelid = a.attrelid AND d.adnum = a.attnum
UNION ALL
SELECT concat_ws(' | ', 'comment', relname, obj_description(oid, 'pg_class')) FROM ours
UNION ALL
SELECT concat_ws(' | ', 'constraint', relname, conname, pg_get_constraintdef(k.oid)) FROM ours JOIN pg_constraint AS k ON k.conrelid = ours.oid
UNION ALL
SELECT concat_ws(' | ', 'index', pg_get_indexdef(oid)) FROM ours WHERE relkind = 'i'
UNION ALL
SELECT concat_ws(' | ', 'policy', p.*) FROM pg_policies AS p
UNION ALL
SELECT concat_ws(' | ', 'trigger', pg_get_triggerdef(t.oid)) FROM ours JOIN pg_trigger AS t ON t.tgrelid = ours.oid AND NOT tgisinternal
UNION ALL
SELECT concat_ws(' | ', 'view', relname, pg_get_viewdef(oid)) FROM ours WHERE relkind IN ('v', 'm')
UNION ALL
SELECT concat_ws(' | ', 'function', pg_get_functiondef(f.oid), f.proacl, f.proowner::regrole)
FROM pg_proc AS f
WHERE f.pronamespace = 'public'::regnamespace
  AND f.prokind IN ('f', 'p')
  AND NOT EXISTS (SELECT FROM pg_depend AS d WHERE d.objid = f.oid AND d.deptype = 'e')
UNION ALL
SELECT concat_ws(' | ', 'type', t.typname, t.typtype)
FROM pg_type AS t
WHERE t.typnamespace = 'public'::regnamespace
  AND t.typtype IN ('d', 'e', 'r')
UNION ALL
SELECT concat_ws(' | ', 'extension', extname) FROM pg_extension WHERE extname <> 'plpgsql'`

func schema(t *testing.T, pool *pgxpool.Pool) []string {
	t.Helper()
	rows, err := pool.Query(t.Context(), selectSchema)
	if err != nil {
		t.Fatalf("list schema: %v", err)
	}
	lines, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		t.Fatalf("list schema: %v", err)
	}
	slices.Sort(lines)
	return lines
}

package postgres_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/postgres"
	"rockledger/migrations"
)

// rules are the last words of a CHECK's name, which fault codes come from.
var rules = []string{"given", "listed", "range", "positive", "order", "pair", "misfit", "malformed"}

// A broken rule is told by its field: table_field_rule, table_field_fk,
// table_field_key.
func TestConstraintsNameTheirField(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	columns := r.strings(t, `
SELECT c.relname || '.' || a.attname
FROM pg_attribute AS a
JOIN pg_class AS c ON c.oid = a.attrelid AND c.relkind = 'r' AND c.relnamespace = 'public'::regnamespace
WHERE a.attnum > 0
ORDER BY 1`)
	names := r.strings(t, `
SELECT c.relname || ' ' || k.contype::text || ' ' || k.conname
FROM pg_constraint AS k
JOIN pg_class AS c ON c.oid = k.conrelid
WHERE k.contype IN ('c', 'f') AND c.relnamespace = 'public'::regnamespace
ORDER BY 1`)
	if len(names) < 100 {
		t.Fatalf("only %d constraints found", len(names))
	}
	for _, line := range names {
		parts := strings.Split(line, " ")
		table, kind, name := parts[0], parts[1], parts[2]
		rest, ok := strings.CutPrefix(name, table+"_")
		i := strings.LastIndexByte(rest, '_')
		if !ok || i < 0 {
			t.Errorf("constraint %s of %s: want %s_field_rule", name, table, table)
			continue
		}
		field, rule := rest[:i], rest[i+1:]
		if !slices.Contains(columns, table+"."+field) && !slices.Contains(columns, table+"."+field+"_from") {
			t.Errorf("constraint %s of %s: no field %q", name, table, field)
		}
		if kind == "c" && !slices.Contains(rules, rule) || kind == "f" && rule != "fk" {
			t.Errorf("constraint %s of %s: %q is no rule of ours", name, table, rule)
		}
	}
}

// Row security switches off indexes whose operators may leak; these types have
// leak-proof comparisons. Lists (text[], uuid[]) and json are read row by row.
func TestColumnTypes(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	allowed := []string{"bigint", "boolean", "bytea", "date", "double precision", "integer", "json", "smallint", "text", "text[]", "timestamp with time zone", "uuid", "uuid[]", "xid8"}
	for _, line := range r.strings(t, `
SELECT format_type(a.atttypid, a.atttypmod) || '|' || c.relname || '.' || a.attname
FROM pg_attribute AS a
JOIN pg_class AS c ON c.oid = a.attrelid AND c.relkind = 'r' AND c.relnamespace = 'public'::regnamespace
WHERE a.attnum > 0 AND NOT a.attisdropped`) {
		if kind, column, _ := strings.Cut(line, "|"); !slices.Contains(allowed, kind) {
			t.Errorf("column %s is of type %s, want one of %v", column, kind, allowed)
		}
	}
}

func TestMeasuresAndNullsAreExplained(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	got := r.strings(t, `
SELECT c.relname || '.' || a.attname
FROM pg_attribute AS a
JOIN pg_class AS c ON c.oid = a.attrelid AND c.relrowsecurity
WHERE a.attnum > 0
  AND (NOT a.attnotnull OR a.attname ~ '_(mm|kn|degc)$')
  AND col_description(c.oid, a.attnum) IS NULL
ORDER BY 1`)
	if d := cmp.Diff([]string{}, got); d != "" {
		t.Errorf("columns that may be NULL or carry a unit, without a comment (-want +got):\n%s", d)
	}
}

func TestSchemaIsTheNewestMigration(t *testing.T) {
	t.Parallel()
	latest, err := migrations.Latest()
	if err != nil || latest != postgres.Schema {
		t.Errorf("Latest() = %d, %v, want postgres.Schema, %d", latest, err, postgres.Schema)
	}
}

package arch_test

import (
	"fmt"
	"path/filepath"
	"regexp"
	"testing"
)

// migrationName is NNNNNN_verb_noun.{up,down}.sql.
var migrationName = regexp.MustCompile(`^(\d{6})_([a-z]+(?:_[a-z0-9]+)+)\.(up|down)\.sql$`)

// TestMigrations holds that migrations are numbered from 1 without gap or
// double, each with its way up and its way down under one name.
func TestMigrations(t *testing.T) {
	t.Parallel()
	names := map[string]map[string]string{} // number, direction, name
	for _, file := range files(t, filepath.Join(root(t), "migrations")) {
		if filepath.Ext(file) != ".sql" || file == "roles.sql" {
			continue
		}
		m := migrationName.FindStringSubmatch(file)
		if m == nil {
			t.Errorf("migrations/%s: want NNNNNN_verb_noun.up.sql or .down.sql", file)
			continue
		}
		number, name, direction := m[1], m[2], m[3]
		if names[number] == nil {
			names[number] = map[string]string{}
		}
		if other, double := names[number][direction]; double {
			t.Errorf("migration %s has two ways %s: %s and %s", number, direction, other, name)
		}
		names[number][direction] = name
	}
	for i := range len(names) {
		number := fmt.Sprintf("%06d", i+1)
		up, down := names[number]["up"], names[number]["down"]
		if up == "" || up != down {
			t.Errorf("migration %s: up is %q, down is %q, want one name for both", number, up, down)
		}
	}
}

// Package migrations holds the database's schema as numbered steps, and runs
// them. Each NNNNNN_verb_noun.up.sql has its .down.sql; a file that has been
// shipped is never edited. roles.sql is no step: it is run by a superuser
// before the first one.
package migrations

import "embed"

// FS holds the numbered steps, and roles.sql, which the runner passes over
// because its name has no number.
//
//go:embed *.sql
var FS embed.FS

// Roles is the SQL that makes the two database roles. It is safe to repeat and
// is run as a superuser, connected to the database "postgres".
//
//go:embed roles.sql
var Roles string

// The roles that Roles makes.
const (
	// Owner owns the tables; it migrates, adds groups and dumps.
	Owner = "rockledger_owner"
	// App is what the service logs in as; row security holds it.
	App = "rockledger_app"
)

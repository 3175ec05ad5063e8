package postgres

import (
	"context"
	"crypto/sha256"
	"encoding/hex"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/ledger"
)

// What is noted otherwise than as a row of its table.

// noted makes the entry of a row that takes nothing else to know.
func noted[R any](entry func(R) any) func(context.Context, *verifier, R) (any, error) {
	return func(_ context.Context, _ *verifier, r R) (any, error) { return entry(r), nil }
}

// ownGroup narrows a table that row security does not.
const ownGroup = `NULLIF(current_setting('rockledger.group_id', true), '')::uuid`

var groupHolding = held[groupEntry]{
	name: "anchor_group", key: "id", id: func(r groupEntry) uuid.UUID { return r.ID },
	selectSQL: "\nSELECT t.id, t.slug, t.time_zone\nFROM anchor_group AS t\nWHERE t.id = " + ownGroup,
}

var tokenHolding = held[accessEntry]{
	name: "access_token", key: "id", id: func(r accessEntry) uuid.UUID { return r.ID },
	selectSQL: "\nSELECT t.id, t.role\nFROM access_token AS t\nWHERE t.group_id = " + ownGroup,
}

var membershipHolding = held[accessEntry]{
	name: "membership", key: "account_id", id: func(r accessEntry) uuid.UUID { return r.ID },
	selectSQL: "\nSELECT t.account_id AS id, t.role\nFROM membership AS t\nWHERE t.group_id = " + ownGroup,
}

// storedRules are one version of the house rules.
type storedRules struct {
	GroupID uuid.UUID `json:"group_id"`
	Version int       `json:"version"`
	Rules   []byte    `json:"rules"`
}

var rulesHolding = held[storedRules]{
	name: "house_rules", key: "group_id", id: func(r storedRules) uuid.UUID { return r.GroupID }, many: true,
	selectSQL: "\nSELECT t.group_id, t.version, t.rules\nFROM house_rules AS t",
	entry:     noted(func(r storedRules) any { return rulesEntry{r.Version, hexHash(r.Rules)} }),
}

var undoHolding = held[undoRow]{
	name: undos.name, selectSQL: undos.selectSQL, key: "import_id", id: undoRow.rowID,
}

var importHolding = held[importRow]{
	name: imports.name, selectSQL: imports.selectSQL, key: "id", id: func(r importRow) uuid.UUID { return r.ID },
	entry: importNoted, later: laterInImport,
}

// importNoted reads the rows of an import for its entry.
func importNoted(ctx context.Context, v *verifier, r importRow) (any, error) {
	text, err := ledger.Canonical(r)
	if err != nil {
		return nil, err //nolint:wrapcheck // classified there
	}
	args := pgx.StrictNamedArgs{"import_id": r.ID, "line": -1}
	next := stream(ctx, v, importRows.selectSQL+"\nWHERE t.import_id = @import_id AND t.line > @line\nORDER BY t.line\nLIMIT @max_rows", args,
		func(r importedTableRow) { args["line"] = r.Line })
	sum, n := sha256.New(), 0
	for {
		row, ok, err := next()
		if err != nil {
			return nil, err
		}
		if !ok {
			break
		}
		line, err := ledger.Canonical(row)
		if err != nil {
			return nil, err //nolint:wrapcheck // classified there
		}
		sum.Write([]byte(line + "\n"))
		n++
	}
	return importEntry{r.ID, r.FileHash, n, hex.EncodeToString(sum.Sum(nil)), hexHash([]byte(text))}, nil
}

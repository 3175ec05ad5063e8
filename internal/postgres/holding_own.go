package postgres

import (
	"context"

	"github.com/google/uuid"
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
	name: "house_rules", key: "group_id", id: func(r storedRules) uuid.UUID { return r.GroupID }, many: true, reads: allOfID,
	selectSQL: "\nSELECT t.group_id, t.version, t.rules\nFROM house_rules AS t",
	entry:     noted(func(r storedRules) any { return rulesEntry{r.Version, hexHash(r.Rules)} }),
}

var undoHolding = held[undoRow]{
	name: undos.name, selectSQL: undos.selectSQL, key: "import_id", id: undoRow.rowID,
}

package postgres

import (
	"context"
	"encoding/json"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

const (
	// selectRulesVersions is served by the primary key.
	selectRulesVersions = `
SELECT version, rules, since
FROM house_rules
ORDER BY version DESC
LIMIT @max_rows`

	// selectRulesEntries says who put house rules in force; served by
	// ledger_of_row_idx, in which they lie among the witnesses of the group's
	// seals.
	selectRulesEntries = `
SELECT who, after
FROM ledger
WHERE row_id = @group_id
  AND noun = 'house_rules'
ORDER BY id DESC
LIMIT @max_rows`
)

type rulesVersionRow struct {
	Version int       `json:"version"`
	Rules   []byte    `json:"rules"`
	Since   time.Time `json:"since"`
}

type rulesEntryRow struct {
	Who   string `json:"who"`
	After []byte `json:"after"`
}

// RulesVersions lists up to limit versions of the house rules, the one in force
// first.
func (s *Store) RulesVersions(ctx context.Context, group uuid.UUID, limit int) ([]registry.RulesVersion, error) {
	var (
		rows    []rulesVersionRow
		entries []rulesEntryRow
		actors  []actorRow
	)
	err := s.read(ctx, group, "list house rules", func(b *pgx.Batch) {
		all(b, &rows, selectRulesVersions, pgx.StrictNamedArgs{"max_rows": limit})
		all(b, &entries, selectRulesEntries, pgx.StrictNamedArgs{"group_id": group, "max_rows": limit})
		all(b, &actors, selectActors, pgx.StrictNamedArgs{"group_id": group})
	})
	if err != nil {
		return nil, err
	}
	who, err := rulesAuthors(entries)
	if err != nil {
		return nil, err
	}
	names := make(map[string]string, len(actors))
	for _, a := range actors {
		names[a.Who] = a.Name
	}
	out := make([]registry.RulesVersion, len(rows))
	for i, r := range rows {
		by := who[r.Version]
		out[i] = registry.RulesVersion{Version: r.Version, Since: r.Since.UTC(), Who: by, Name: names[by], Text: r.Rules}
	}
	return out, nil
}

// rulesAuthors says who put which version in force.
func rulesAuthors(entries []rulesEntryRow) (map[int]string, error) {
	who := make(map[int]string, len(entries))
	for _, e := range entries {
		var after rulesEntry
		if err := json.Unmarshal(e.After, &after); err != nil {
			return nil, fault.Wrap(fault.Internal, err, "read an entry about house rules")
		}
		who[after.Version] = e.Who
	}
	return who, nil
}

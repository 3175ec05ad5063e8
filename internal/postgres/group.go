package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// selectGroups lists every group; served by the primary key. Groups are no
// tenant table: they are read before one is set.
const selectGroups = `
SELECT id, slug, name, time_zone
FROM anchor_group
ORDER BY id`

// Groups lists every group, in the order of ids.
func (s *Store) Groups(ctx context.Context) ([]registry.Group, error) {
	rows, err := s.pool.Query(ctx, selectGroups)
	if err != nil {
		return nil, translate(err, "list groups")
	}
	groups, err := pgx.CollectRows(rows, pgx.RowToStructByName[registry.Group])
	return groups, translate(err, "list groups")
}

// selectGroupBySlug is served by anchor_group_slug_key.
const selectGroupBySlug = `
SELECT id, slug, name, time_zone
FROM anchor_group
WHERE slug = @slug`

// GroupBySlug returns the group of that slug, or fault.NotFound.
func (s *Store) GroupBySlug(ctx context.Context, slug string) (registry.Group, error) {
	rows, err := s.pool.Query(ctx, selectGroupBySlug, pgx.StrictNamedArgs{"slug": slug})
	if err != nil {
		return registry.Group{}, translate(err, "find group")
	}
	group, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[registry.Group])
	return group, translate(err, "find group")
}

// selectRules takes the version in force; served by the primary key.
const selectRules = `
SELECT version, rules
FROM house_rules
ORDER BY version DESC
LIMIT 1`

type rulesRow struct {
	Version int    `json:"version"`
	Rules   []byte `json:"rules"`
}

// Rules returns the house rules in force: the highest version.
func (s *Store) Rules(ctx context.Context, group uuid.UUID) (houserules.Rules, error) {
	var row rulesRow
	err := s.read(ctx, group, "read house rules", func(b *pgx.Batch) { one(b, &row, selectRules, nil) })
	if err != nil {
		return houserules.Rules{}, err
	}
	return row.parse()
}

// parse reads rules that were valid when they were stored.
func (r rulesRow) parse() (houserules.Rules, error) {
	rules, err := houserules.Parse(r.Rules)
	if err != nil {
		return houserules.Rules{}, fault.Wrap(fault.Internal, err, "read house rules, version %d", r.Version)
	}
	rules.Version = r.Version
	return rules, nil
}

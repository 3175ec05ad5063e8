package postgres

import (
	"context"

	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

const (
	// lockRules lets one change of a group's house rules at a time through.
	lockRules = `SELECT pg_advisory_xact_lock(hashtextextended('house rules ' || $1::text, 0))`

	insertNewRules = `
INSERT INTO house_rules (group_id, version, rules, since)
VALUES (@group_id, @version, @rules, @since)`
)

// saveRules puts new house rules in force, which must be those after the ones
// in force: otherwise fault.Stale. What was assessed by others is stale then.
func (w *writer) saveRules(ctx context.Context, ch *registry.Change) error {
	if ch.Rules == nil {
		return nil
	}
	var now rulesRow
	err := w.ask(ctx, "read house rules", func(b *pgx.Batch) {
		b.Queue(lockRules, w.group.String())
		one(b, &now, selectRules, nil)
	})
	if err != nil {
		return err
	}
	if ch.RulesVersion != now.Version+1 {
		return fault.New(fault.Stale, "change house rules to version %d: now %d", ch.RulesVersion, now.Version)
	}
	args := pgx.StrictNamedArgs{"group_id": w.group, "version": ch.RulesVersion, "rules": ch.Rules, "since": w.at}
	if err := w.exec(ctx, "change house rules", insertNewRules, args); err != nil {
		return err
	}
	return w.note("house_rules", w.group,
		rulesEntry{now.Version, hexHash(now.Rules)}, rulesEntry{ch.RulesVersion, hexHash(ch.Rules)})
}

package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/ledger"
)

// selectUnsealed is served by the primary key of ledger_seal and by
// ledger_in_order_idx; it reads a row or two of each. What bears witness to the
// last seal waits for something to be sealed with.
const selectUnsealed = fromLastSeal + `
SELECT EXISTS (
  SELECT FROM ledger AS l
  WHERE (l.era, l.txid) >= (last.era, last.until_txid)
    AND l.noun <> '` + ledger.SealNoun + `') AS due
FROM last`

type dueRow struct {
	Due bool `json:"due"`
}

// Unsealed returns those of the groups, in the order given, whose ledger holds
// entries that no seal covers, but for what bears witness to seals; those of a
// transaction still at work are not seen.
// It asks for all groups in one round trip, so that sealing what most often is
// nothing costs a service of many groups little.
func (s *Store) Unsealed(ctx context.Context, groups []uuid.UUID) ([]uuid.UUID, error) {
	var b pgx.Batch
	rows := make([]dueRow, len(groups))
	for i, group := range groups {
		b.Queue(setGroup, group.String())
		one(&b, &rows[i], selectUnsealed, nil)
	}
	if b.Len() == 0 {
		return nil, nil
	}
	if err := translate(s.pool.SendBatch(ctx, &b).Close(), "look for unsealed entries"); err != nil {
		return nil, err
	}
	var due []uuid.UUID
	for i, r := range rows {
		if r.Due {
			due = append(due, groups[i])
		}
	}
	return due, nil
}

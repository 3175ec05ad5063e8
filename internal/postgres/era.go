package postgres

import (
	"context"

	"github.com/jackc/pgx/v5"
)

const (
	// lockLedger waits for changes that are being entered, and holds off others.
	lockLedger = `LOCK TABLE ledger IN SHARE ROW EXCLUSIVE MODE`

	insertEra = `
INSERT INTO ledger_era (era, why)
SELECT max(x.era) + 1, @why
FROM ledger_era AS x
RETURNING era`
)

// RaiseEra begins a new era of the ledger, as is needed after a restore: the
// server counts transactions anew there. It returns the era's number.
func (a *Admin) RaiseEra(ctx context.Context, why string) (era int, err error) {
	err = pgx.BeginFunc(ctx, a.pool, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, lockLedger); err != nil {
			return err //nolint:wrapcheck // translated below
		}
		return tx.QueryRow(ctx, insertEra, pgx.StrictNamedArgs{"why": why}).Scan(&era)
	})
	return era, translate(err, "raise era of the ledger")
}

package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// selectMembers is an owner's command: a group has few members.
const selectMembers = `
SELECT a.id, a.email, a.name, m.role
FROM membership AS m
JOIN account AS a ON a.id = m.account_id
WHERE m.group_id = @group_id
ORDER BY lower(a.email)`

type accessRow struct {
	ID    uuid.UUID
	Email string
	Name  string
	Role  registry.Role
}

// Members lists the accounts that a group has let in, by their address, each
// without its password's hash.
func (a *Admin) Members(ctx context.Context, group uuid.UUID) ([]registry.Member, error) {
	rows, err := a.pool.Query(ctx, selectMembers, pgx.StrictNamedArgs{"group_id": group})
	if err != nil {
		return nil, translate(err, "list members")
	}
	found, err := pgx.CollectRows(rows, pgx.RowToStructByName[accessRow])
	return convert(found, func(r accessRow) registry.Member {
		return registry.Member{Account: registry.Account{ID: r.ID, Email: r.Email, Name: r.Name}, Role: r.Role}
	}), translate(err, "list members")
}

const (
	deleteMembership = `
DELETE FROM membership
WHERE account_id = @account_id
  AND group_id = @group_id
RETURNING account_id`

	// deleteSessions knows that a session's data hold the id of its account as
	// text: they have no column of it, and are few.
	deleteSessions = `
DELETE FROM web_session
WHERE position(convert_to(@account_id::text, 'UTF8') IN data) > 0`
)

// EndMembership puts an account out of a group, ends its sessions, and takes
// the account away if no group is left to it. One that is no member is
// fault.NotFound.
func (a *Admin) EndMembership(ctx context.Context, group, account uuid.UUID) error {
	return a.write(ctx, group, "membership ended", func(w *writer) error {
		var ended []uuid.UUID
		args := pgx.StrictNamedArgs{"account_id": account, "group_id": group}
		if err := w.ask(ctx, "end membership", func(b *pgx.Batch) { ids(b, &ended, deleteMembership, args) }); err != nil {
			return err
		}
		if len(ended) == 0 {
			return fault.New(fault.NotFound, "no member %s", account)
		}
		if err := w.exec(ctx, "end sessions", deleteSessions, pgx.StrictNamedArgs{"account_id": account.String()}); err != nil {
			return err
		}
		if err := w.note("membership", account, idEntry{account}, nil); err != nil {
			return err
		}
		return w.clear(ctx, dropAccounts, ended)
	})
}

const updatePassword = `
UPDATE account
SET password_hash = @password_hash
WHERE id = @id
RETURNING id`

// SetPassword gives an account another password, by its hash, and ends its
// sessions. One that is not there is fault.NotFound.
func (a *Admin) SetPassword(ctx context.Context, account uuid.UUID, hash string) error {
	err := onWire(ctx, a.pool, pgx.TxOptions{}, func(l *wire) error {
		var id uuid.UUID
		args := pgx.StrictNamedArgs{"id": account, "password_hash": hash}
		if err := l.tx.QueryRow(ctx, updatePassword, args).Scan(&id); err != nil {
			return translate(err, "set password")
		}
		return l.exec(ctx, "end sessions", deleteSessions, pgx.StrictNamedArgs{"account_id": account.String()})
	})
	return translate(err, "set password")
}

package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// Admin makes groups and gives access to them, working as the owner of the
// tables. What concerns a group is entered in its ledger.
type Admin struct {
	pool *pgxpool.Pool
	who  string
}

// NewAdmin returns an admin over a pool of the owner's role, who signs the
// ledger as "command line". The pool stays the caller's to close.
func NewAdmin(pool *pgxpool.Pool) *Admin { return &Admin{pool: pool, who: "command line"} }

// As returns an admin who signs the ledger with the given reference
// ("command line: <system user>").
func (a *Admin) As(who string) *Admin { return &Admin{pool: a.pool, who: who} }

// selectInstant takes the database's clock: these commands pass in none.
const selectInstant = `SELECT now()`

// write runs one transaction and enters what it noted in the group's ledger.
func (a *Admin) write(ctx context.Context, group uuid.UUID, what string, do func(*writer) error) error {
	err := onWire(ctx, a.pool, pgx.TxOptions{}, func(l *wire) error {
		w := &writer{wire: l, group: group, who: a.who, what: what}
		if err := w.tx.QueryRow(ctx, selectInstant).Scan(&w.at); err != nil {
			return translate(err, what)
		}
		if err := do(w); err != nil {
			return err
		}
		return w.enter(ctx)
	})
	return translate(err, what)
}

const (
	insertGroup = `
INSERT INTO anchor_group (id, slug, name, time_zone)
VALUES (@id, @slug, @name, @time_zone)`
	insertRules = `
INSERT INTO house_rules (group_id, version, rules)
VALUES (@group_id, 1, @rules)`
)

type groupEntry struct {
	ID       uuid.UUID `json:"id"`
	Slug     string    `json:"slug"`
	TimeZone string    `json:"time_zone"`
}

type rulesEntry struct {
	Version   int    `json:"version"`
	RulesHash string `json:"rules_hash"`
}

// AddGroup makes a group with its first house rules, as JSON. Rules that
// cannot be right are fault.Invalid; a slug that is taken is fault.Conflict.
func (a *Admin) AddGroup(ctx context.Context, g registry.Group, rulesJSON []byte) error {
	if _, err := houserules.Parse(rulesJSON); err != nil {
		return err
	}
	return a.write(ctx, g.ID, "group added", func(w *writer) error {
		args := pgx.StrictNamedArgs{"id": g.ID, "slug": g.Slug, "name": g.Name, "time_zone": g.TimeZone}
		if err := w.exec(ctx, "add group", insertGroup, args); err != nil {
			return err
		}
		rules := pgx.StrictNamedArgs{"group_id": g.ID, "rules": rulesJSON}
		if err := w.exec(ctx, "add house rules", insertRules, rules); err != nil {
			return err
		}
		if err := w.note("anchor_group", g.ID, nil, groupEntry{g.ID, g.Slug, g.TimeZone}); err != nil {
			return err
		}
		return w.note("house_rules", g.ID, nil, rulesEntry{1, hexHash(rulesJSON)})
	})
}

const insertToken = `
INSERT INTO access_token (id, group_id, name, role, hash, created_at)
VALUES (@id, @group_id, @name, @role, @hash, @created_at)`

type accessEntry struct {
	ID   uuid.UUID     `json:"id"`
	Role registry.Role `json:"role"`
}

// AddToken lets a program in. The ledger keeps its id and role, not its name
// or hash.
func (a *Admin) AddToken(ctx context.Context, t registry.Token) error {
	return a.write(ctx, t.GroupID, "token added", func(w *writer) error {
		args := pgx.StrictNamedArgs{
			"id": t.ID, "group_id": t.GroupID, "name": t.Name, "role": t.Role, "hash": t.Hash, "created_at": instant(t.CreatedAt),
		}
		if err := w.exec(ctx, "add token", insertToken, args); err != nil {
			return err
		}
		return w.note("access_token", t.ID, nil, accessEntry{t.ID, t.Role})
	})
}

const insertAccount = `
INSERT INTO account (id, email, name, password_hash)
VALUES (@id, @email, @name, @password_hash)`

// AddAccount makes an account; it belongs to no group's ledger. An address
// that is taken is fault.Conflict.
func (a *Admin) AddAccount(ctx context.Context, acc registry.Account) error {
	_, err := a.pool.Exec(ctx, insertAccount, pgx.StrictNamedArgs{
		"id": acc.ID, "email": acc.Email, "name": acc.Name, "password_hash": acc.PasswordHash,
	})
	return translate(err, "add account")
}

const upsertMembership = `
INSERT INTO membership (account_id, group_id, role)
VALUES (@account_id, @group_id, @role)
ON CONFLICT (account_id, group_id) DO UPDATE
SET role = excluded.role`

// SetMembership gives an account a role in a group, in place of any it has
// there.
func (a *Admin) SetMembership(ctx context.Context, m registry.Membership) error {
	return a.write(ctx, m.Group.ID, "membership set", func(w *writer) error {
		args := pgx.StrictNamedArgs{"account_id": m.AccountID, "group_id": m.Group.ID, "role": m.Role}
		if err := w.exec(ctx, "set membership", upsertMembership, args); err != nil {
			return err
		}
		return w.note("membership", m.AccountID, nil, accessEntry{m.AccountID, m.Role})
	})
}

const (
	dropTokens = `
DELETE FROM access_token
WHERE group_id = @group_id
RETURNING id`
	dropMemberships = `
DELETE FROM membership
WHERE group_id = @group_id
RETURNING account_id`
	dropAccounts = `
DELETE FROM account AS a
WHERE a.id = @id
  AND NOT EXISTS (SELECT FROM membership AS m WHERE m.account_id = a.id)`
)

// DropDemoCredentials takes every token and membership of the demo's group
// away, and the accounts that belong to no other group, before new ones are
// made.
func (a *Admin) DropDemoCredentials(ctx context.Context, group uuid.UUID) error {
	return a.write(ctx, group, "demo credentials dropped", func(w *writer) error {
		var tokenIDs, accountIDs []uuid.UUID
		args := pgx.StrictNamedArgs{"group_id": group}
		err := w.ask(ctx, "drop credentials", func(b *pgx.Batch) {
			ids(b, &tokenIDs, dropTokens, args)
			ids(b, &accountIDs, dropMemberships, args)
		})
		if err != nil {
			return err
		}
		for _, id := range tokenIDs {
			if err := w.note("access_token", id, idEntry{id}, nil); err != nil {
				return err
			}
		}
		for _, id := range accountIDs {
			if err := w.note("membership", id, idEntry{id}, nil); err != nil {
				return err
			}
		}
		return w.clear(ctx, dropAccounts, accountIDs)
	})
}

type idEntry struct {
	ID uuid.UUID `json:"id"`
}

package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// Accounts, memberships and tokens are read before any group is set: they say
// which group it may be.

type tokenRow struct {
	ID       uuid.UUID
	GroupID  uuid.UUID
	Slug     string
	TimeZone string
	Role     registry.Role
}

// selectToken is served by access_token_hash_key.
const selectToken = `
SELECT t.id, t.group_id, g.slug, g.time_zone, t.role
FROM access_token AS t
JOIN anchor_group AS g ON g.id = t.group_id
WHERE t.hash = @hash`

// TokenActor returns who the token with that SHA-256 hash speaks for, or
// fault.Unauthenticated.
func (s *Store) TokenActor(ctx context.Context, hash []byte) (registry.Actor, error) {
	rows, err := s.pool.Query(ctx, selectToken, pgx.StrictNamedArgs{"hash": hash})
	if err != nil {
		return registry.Actor{}, translate(err, "look up token")
	}
	t, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[tokenRow])
	err = translate(err, "look up token")
	if fault.KindOf(err) == fault.NotFound {
		err = fault.New(fault.Unauthenticated, "no such token")
	}
	if err != nil {
		return registry.Actor{}, err
	}
	return registry.Actor{
		GroupID: t.GroupID, Group: t.Slug, TimeZone: t.TimeZone, Role: t.Role, Who: "token:" + t.ID.String(),
	}, nil
}

// selectAccount is served by account_email_key.
const selectAccount = `
SELECT id, email, name, password_hash
FROM account
WHERE lower(email) = lower(@email)`

// AccountByEmail returns the account of that address, case folded, or
// fault.NotFound.
func (s *Store) AccountByEmail(ctx context.Context, email string) (registry.Account, error) {
	rows, err := s.pool.Query(ctx, selectAccount, pgx.StrictNamedArgs{"email": email})
	if err != nil {
		return registry.Account{}, translate(err, "look up account")
	}
	account, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[registry.Account])
	return account, translate(err, "look up account")
}

type membershipRow struct {
	AccountID uuid.UUID
	ID        uuid.UUID
	Slug      string
	Name      string
	TimeZone  string
	Role      registry.Role
}

func (r membershipRow) noun() registry.Membership {
	return registry.Membership{
		AccountID: r.AccountID,
		Group:     registry.Group{ID: r.ID, Slug: r.Slug, Name: r.Name, TimeZone: r.TimeZone},
		Role:      r.Role,
	}
}

// selectMemberships is served by the primary key.
const selectMemberships = `
SELECT m.account_id, g.id, g.slug, g.name, g.time_zone, m.role
FROM membership AS m
JOIN anchor_group AS g ON g.id = m.group_id
WHERE m.account_id = @account_id
ORDER BY g.slug`

// Memberships lists what an account may do where, by the group's slug; none
// for an account that is not there.
func (s *Store) Memberships(ctx context.Context, account uuid.UUID) ([]registry.Membership, error) {
	rows, err := s.pool.Query(ctx, selectMemberships, pgx.StrictNamedArgs{"account_id": account})
	if err != nil {
		return nil, translate(err, "list memberships")
	}
	found, err := pgx.CollectRows(rows, pgx.RowToStructByName[membershipRow])
	return convert(found, membershipRow.noun), translate(err, "list memberships")
}

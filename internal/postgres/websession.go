package postgres

import (
	"context"
	"crypto/sha256"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
)

// WebSessions keeps sessions of the pages, in the shape that scs asks for.
// Secrets are stored as their SHA-256 only.
type WebSessions struct {
	pool *pgxpool.Pool
}

// NewWebSessions returns sessions kept through a pool of the application's
// role.
func NewWebSessions(pool *pgxpool.Pool) *WebSessions { return &WebSessions{pool: pool} }

// selectSession is served by the primary key.
const selectSession = `
SELECT data
FROM web_session
WHERE token_hash = @hash
  AND expires_at > now()`

// FindCtx returns a session's data, and false if it is not there or over.
func (s *WebSessions) FindCtx(ctx context.Context, token string) ([]byte, bool, error) {
	var data []byte
	err := s.pool.QueryRow(ctx, selectSession, pgx.StrictNamedArgs{"hash": sessionHash(token)}).Scan(&data)
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, false, nil
	}
	return data, err == nil, translate(err, "find session")
}

const upsertSession = `
INSERT INTO web_session (token_hash, data, expires_at)
VALUES (@hash, @data, @expires_at)
ON CONFLICT (token_hash) DO UPDATE
SET data = excluded.data, expires_at = excluded.expires_at`

// CommitCtx stores a session's data until it expires.
func (s *WebSessions) CommitCtx(ctx context.Context, token string, data []byte, expiry time.Time) error {
	args := pgx.StrictNamedArgs{"hash": sessionHash(token), "data": data, "expires_at": expiry}
	_, err := s.pool.Exec(ctx, upsertSession, args)
	return translate(err, "store session")
}

const deleteSession = `DELETE FROM web_session WHERE token_hash = @hash`

// DeleteCtx forgets a session; one that is not there is no error.
func (s *WebSessions) DeleteCtx(ctx context.Context, token string) error {
	_, err := s.pool.Exec(ctx, deleteSession, pgx.StrictNamedArgs{"hash": sessionHash(token)})
	return translate(err, "forget session")
}

// deleteExpired is served by web_session_by_expiry_idx.
const deleteExpired = `DELETE FROM web_session WHERE expires_at <= now()`

// DeleteExpired forgets the sessions that are over.
func (s *WebSessions) DeleteExpired(ctx context.Context) error {
	_, err := s.pool.Exec(ctx, deleteExpired)
	return translate(err, "forget expired sessions")
}

// Find is FindCtx for callers without a context.
func (s *WebSessions) Find(token string) ([]byte, bool, error) {
	return s.FindCtx(context.Background(), token)
}

// Commit is CommitCtx for callers without a context.
func (s *WebSessions) Commit(token string, data []byte, expiry time.Time) error {
	return s.CommitCtx(context.Background(), token, data, expiry)
}

// Delete is DeleteCtx for callers without a context.
func (s *WebSessions) Delete(token string) error { return s.DeleteCtx(context.Background(), token) }

func sessionHash(token string) []byte {
	sum := sha256.Sum256([]byte(token))
	return sum[:]
}

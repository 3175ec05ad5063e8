package postgres

import (
	"context"
	"sync"

	jsonv2 "github.com/go-json-experiment/json"
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// pieceKey names one piece of a long list. Its rows never change until they are
// entered, and then the job goes on to another rank: a piece that was read for
// the rank at which a job is, whenever that was, is the one stored.
type pieceKey struct {
	group, job uuid.UUID
	rank       int
}

// ahead keeps the piece that comes next, read while the one before is entered:
// one at most, so that what is never asked for again takes no more memory.
type ahead struct {
	mu    sync.Mutex
	key   pieceKey
	piece *registry.Piece // nil: none
}

func (a *ahead) put(key pieceKey, p *registry.Piece) {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.key, a.piece = key, p
}

// take hands a piece over if it is there. It does not wait for one that is still
// being read: whoever asks may hold the connection that is wanted for that.
func (a *ahead) take(key pieceKey) *registry.Piece {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.key != key {
		return nil
	}
	p := a.piece
	a.piece = nil
	return p
}

// readAhead reads a piece that will be asked for. What goes wrong is told when
// the piece is read again.
func (s *Store) readAhead(ctx context.Context, key pieceKey) {
	var kept pieceRow
	err := s.read(ctx, key.group, "read the next piece", func(b *pgx.Batch) { one(b, &kept, selectNextPiece, key.args()) })
	if err != nil {
		return
	}
	if p, err := kept.piece(); err == nil {
		s.ahead.put(key, p)
	}
}

// piece is a piece of a long list, as it was read ahead or as it is stored.
func (s *Store) piece(ctx context.Context, w *writer, key pieceKey) (*registry.Piece, error) {
	if p := s.ahead.take(key); p != nil {
		return p, nil
	}
	var kept pieceRow
	if err := w.ask(ctx, "read the next piece", func(b *pgx.Batch) { one(b, &kept, selectNextPiece, key.args()) }); err != nil {
		return nil, err
	}
	return kept.piece()
}

// selectNextPiece is served by the primary key.
const selectNextPiece = `
SELECT p.import_id, p.rank, p.rows
FROM import_piece AS p
WHERE p.import_id = @id AND p.rank = @rank AND p.rows IS NOT NULL`

func (k pieceKey) args() pgx.StrictNamedArgs { return pgx.StrictNamedArgs{"id": k.job, "rank": k.rank} }

func (r pieceRow) piece() (*registry.Piece, error) {
	p := new(registry.Piece)
	if err := jsonv2.Unmarshal([]byte(r.Rows), p); err != nil {
		return nil, fault.Wrap(fault.Internal, err, "read rows of a list from JSON")
	}
	return p, nil
}

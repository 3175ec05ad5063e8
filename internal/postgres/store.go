// Package postgres keeps the register in PostgreSQL. It answers what is stored
// and stores what it is told, one exported method a transaction, each inside
// one group; it decides nothing about anchors: what becomes of them is decided
// by functions passed in.
//
// Row-level security in the database keeps groups apart, so queries do not
// name the group: the setting rockledger.group_id does, for one transaction.
package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"rockledger/internal/registry"
)

// Store keeps the register, working as the application's role.
type Store struct {
	pool *pgxpool.Pool
	// intakeWait is how long an intake or an undoing that somebody waits for
	// waits for others to end.
	intakeWait time.Duration
	ahead      ahead
}

// intakeWait is a default of this project: a piece of a long list ends well
// within it, and a request is answered before its caller gives up.
const intakeWait = 20 * time.Second

// New returns a store over a pool of the application's role. The pool stays
// the caller's to close.
func New(pool *pgxpool.Pool) *Store { return &Store{pool: pool, intakeWait: intakeWait} }

// setGroup names the group for the rest of the transaction, and keeps the
// planner from two plans that it takes for cheap where a table was not yet
// analysed: reading a group whole to sort it, where the index has the order.
// Since each statement has one plan that serves any values, a connection plans
// it once: to plan it at every call took longer than to look an anchor up. It
// serves any group too, since the policies hide from the planner which group it
// is (migration plan_for_any_group). Such a plan does not know how short a page
// is, so it must not call in parallel workers, who read the group whole and
// sort it.
const setGroup = `
SELECT set_config('rockledger.group_id', $1, true),
  set_config('plan_cache_mode', 'force_generic_plan', true), set_config('max_parallel_workers_per_gather', '0', true),
  set_config('enable_bitmapscan', 'off', true), set_config('enable_seqscan', 'off', true)`

// read runs the queries that queue adds, as one round trip and one
// transaction, inside one group.
func (s *Store) read(ctx context.Context, group uuid.UUID, doing string, queue func(*pgx.Batch)) error {
	var b pgx.Batch
	b.Queue(setGroup, group.String())
	queue(&b)
	return translate(s.pool.SendBatch(ctx, &b).Close(), doing)
}

// all queues a query for any number of rows.
func all[R any](b *pgx.Batch, into *[]R, sql string, args pgx.StrictNamedArgs) {
	b.Queue(sql, args).Query(func(rows pgx.Rows) error {
		var err error
		*into, err = pgx.CollectRows(rows, pgx.RowToStructByName[R])
		return err //nolint:wrapcheck // translated where the batch is closed
	})
}

// one queues a query for exactly one row; none is pgx.ErrNoRows.
func one[R any](b *pgx.Batch, into *R, sql string, args pgx.StrictNamedArgs) {
	b.Queue(sql, args).Query(func(rows pgx.Rows) error {
		var err error
		*into, err = pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[R])
		return err //nolint:wrapcheck // translated where the batch is closed
	})
}

// ids queues a query for one column of ids.
func ids(b *pgx.Batch, into *[]uuid.UUID, sql string, args pgx.StrictNamedArgs) {
	b.Queue(sql, args).Query(func(rows pgx.Rows) error {
		var err error
		*into, err = pgx.CollectRows(rows, pgx.RowTo[uuid.UUID])
		return err //nolint:wrapcheck // translated where the batch is closed
	})
}

// list reads rows and turns them into nouns.
func list[R, N any](ctx context.Context, s *Store, group uuid.UUID, q query, noun func(R) N) ([]N, error) {
	var rows []R
	err := s.read(ctx, group, q.doing, func(b *pgx.Batch) { all(b, &rows, q.sql, q.args) })
	if err != nil {
		return nil, err
	}
	return convert(rows, noun), nil
}

// single reads exactly one row and turns it into a noun.
func single[R, N any](ctx context.Context, s *Store, group uuid.UUID, q query, noun func(R) N) (N, error) {
	var row R
	err := s.read(ctx, group, q.doing, func(b *pgx.Batch) { one(b, &row, q.sql, q.args) })
	if err != nil {
		var none N
		return none, err
	}
	return noun(row), nil
}

// convert turns rows into nouns, in order; the result is never nil.
func convert[R, N any](rows []R, noun func(R) N) []N {
	nouns := make([]N, len(rows))
	for i, r := range rows {
		nouns[i] = noun(r)
	}
	return nouns
}

// query is one SELECT with its arguments, and what it is for.
type query struct {
	doing string
	sql   string
	args  pgx.StrictNamedArgs
}

// byID completes a SELECT, up to its WHERE, to one for a single id.
func byID(doing, sql string, id uuid.UUID) query {
	return query{doing + " " + id.String(), sql + "\nWHERE t.id = @id", pgx.StrictNamedArgs{"id": id}}
}

// maxRows is how many rows a page has when nothing is said.
const maxRows = 500

// filter gathers the conditions of one list, each a constant fragment, and the
// arguments they use.
type filter struct {
	where string
	args  pgx.StrictNamedArgs
}

// pageOf starts a filter with the keyset: rows after an id, in the order of ids.
func pageOf(p registry.Page) *filter {
	limit := p.Limit
	if limit <= 0 {
		limit = maxRows
	}
	return &filter{where: "\nWHERE t.id > @after", args: pgx.StrictNamedArgs{"after": p.After, "max_rows": limit}}
}

// and adds a condition with its one argument.
func (f *filter) and(fragment, name string, value any) {
	f.where += "\n  AND " + fragment
	f.args[name] = value
}

// andID adds a condition unless the id is not given.
func (f *filter) andID(fragment, name string, id *uuid.UUID) {
	if id != nil {
		f.and(fragment, name, *id)
	}
}

// query completes a SELECT, up to its WHERE, to one page.
func (f *filter) query(doing, sql string) query {
	return query{doing, sql + f.where + "\nORDER BY t.id\nLIMIT @max_rows", f.args}
}

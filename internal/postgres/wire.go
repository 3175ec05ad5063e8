package postgres

import (
	"context"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
)

// wire is the connection of one transaction. One statement at a time may be left
// running on it, so that the text of the next is put together meanwhile. It
// serves one goroutine.
type wire struct {
	tx      pgx.Tx
	running <-chan error // of the statement that is left running; nil: there is none
}

// wait waits for the statement that was left running, and returns its error: it
// came before whatever is done next.
func (l *wire) wait() error {
	if l.running == nil {
		return nil
	}
	err := <-l.running
	l.running = nil
	return err
}

// onWire runs do in one transaction, and what do leaves running.
func onWire(ctx context.Context, pool *pgxpool.Pool, options pgx.TxOptions, do func(*wire) error) error {
	//nolint:wrapcheck // as BeginTxFunc's own: translated by the caller
	return pgx.BeginTxFunc(ctx, pool, options, func(tx pgx.Tx) (err error) {
		l := &wire{tx: tx}
		defer func() { err = l.end(err) }() // deferred for a panic's sake too
		return do(l)
	})
}

// end waits for what is still running, before the transaction ends with err: the
// error of a statement that began before that goes first.
func (l *wire) end(err error) error {
	if before := l.wait(); before != nil {
		return before
	}
	return err
}

// exec runs one statement.
func (l *wire) exec(ctx context.Context, doing, sql string, args pgx.StrictNamedArgs) error {
	if err := l.wait(); err != nil {
		return err
	}
	_, err := l.tx.Exec(ctx, sql, args)
	return translate(err, doing)
}

// start leaves a statement running: its error is returned by what is asked of the
// wire next, or ends the transaction. args must not be changed from then on.
func (l *wire) start(ctx context.Context, doing, sql string, args pgx.StrictNamedArgs) error {
	if err := l.wait(); err != nil {
		return err
	}
	done := make(chan error, 1)
	go func() {
		_, err := l.tx.Exec(ctx, sql, args)
		done <- translate(err, doing)
	}()
	l.running = done
	return nil
}

// ask runs queries in one round trip.
func (l *wire) ask(ctx context.Context, doing string, queue func(*pgx.Batch)) error {
	var b pgx.Batch
	queue(&b)
	return l.batch(ctx, doing, &b)
}

// send runs statements in one round trip.
func (l *wire) send(ctx context.Context, doing string, b *pgx.Batch) error {
	if b.Len() == 0 {
		return nil
	}
	return l.batch(ctx, doing, b)
}

func (l *wire) batch(ctx context.Context, doing string, b *pgx.Batch) error {
	if err := l.wait(); err != nil {
		return err
	}
	return translate(l.tx.SendBatch(ctx, b).Close(), doing)
}

package app_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"sync/atomic"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"

	"rockledger/internal/app"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
)

// cutter closes the connection beneath at the n-th statement that begins inside
// a transaction, of a batch at each of its statements too.
type cutter struct {
	at, seen int
	inside   bool
}

func (c *cutter) step(conn *pgx.Conn) {
	if !c.inside {
		return
	}
	if c.seen++; c.seen == c.at {
		_ = conn.PgConn().Conn().Close()
	}
}

func (c *cutter) TraceQueryStart(ctx context.Context, conn *pgx.Conn, q pgx.TraceQueryStartData) context.Context {
	c.inside = c.inside || q.SQL == "begin"
	c.step(conn)
	if q.SQL == "commit" || q.SQL == "rollback" {
		c.inside = false
	}
	return ctx
}

func (c *cutter) TraceQueryEnd(context.Context, *pgx.Conn, pgx.TraceQueryEndData) {}

func (c *cutter) TraceBatchStart(ctx context.Context, conn *pgx.Conn, _ pgx.TraceBatchStartData) context.Context {
	c.step(conn)
	return ctx
}

func (c *cutter) TraceBatchQuery(_ context.Context, conn *pgx.Conn, _ pgx.TraceBatchQueryData) {
	c.step(conn)
}

func (c *cutter) TraceBatchEnd(context.Context, *pgx.Conn, pgx.TraceBatchEndData) {}

// whole counts what a session leaves behind. Row by row with its ledger entry:
// the session, its batch, anchors, installations, and the anchors' assessments.
const whole = `
WITH rows (id) AS (
  SELECT id FROM gluing_session WHERE id = $1
  UNION ALL SELECT id FROM installation WHERE session_id = $1
  UNION ALL SELECT id FROM anchor WHERE position_id = ANY ($2)
  UNION ALL SELECT id FROM batch WHERE text = $3)
SELECT (SELECT count(*) FROM rows),
  (SELECT count(*) FROM ledger AS l JOIN rows AS r ON r.id = l.row_id),
  (SELECT count(*) FROM assessment AS x JOIN anchor AS a ON a.id = x.anchor_id WHERE a.position_id = ANY ($2))`

// totals counts what no row of a session may leave behind by itself.
const totals = `
SELECT (SELECT count(*) FROM ledger), (SELECT count(*) FROM assessment_history), (SELECT count(*) FROM assessment_due)`

// A session of two anchors enters six ledger rows and two of history, and leaves
// nothing on the queue.
var wholeSession = [3]int{6, 2, 0}

// grown says by how much the totals have grown since.
func (w *workshop) grown(t *testing.T, since [3]int) (now, by [3]int) {
	t.Helper()
	if err := w.db.Owner().QueryRow(t.Context(), totals).Scan(&now[0], &now[1], &now[2]); err != nil {
		t.Fatal(err)
	}
	for i := range now {
		by[i] = now[i] - since[i]
	}
	return now, by
}

// deaf is a connection that hears no answer to a commit: it breaks once the
// server has given one.
type deaf struct {
	net.Conn
	committing atomic.Bool
}

func (d *deaf) Read(b []byte) (int, error) {
	n, err := d.Conn.Read(b)
	if err == nil && d.committing.Load() {
		return 0, errors.Join(io.ErrUnexpectedEOF, d.Close())
	}
	return n, err
}

func (d *deaf) TraceQueryStart(ctx context.Context, _ *pgx.Conn, q pgx.TraceQueryStartData) context.Context {
	d.committing.Store(q.SQL == "commit")
	return ctx
}

func (d *deaf) TraceQueryEnd(context.Context, *pgx.Conn, pgx.TraceQueryEndData) {}

// A session that was stored, though the answer to its commit was lost, is there
// once; sent again, it is found.
func TestGluingSessionStoredButNotAnswered(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	before, _ := w.grown(t, [3]int{})
	g, lost := w.gluing(w.positions[:2]...), &deaf{}
	over := w.through(t, lost, func(ctx context.Context, network, addr string) (net.Conn, error) {
		c, err := (&net.Dialer{}).DialContext(ctx, network, addr)
		lost.Conn = c
		return lost, err
	})
	if _, _, err := over.RecordGluing(t.Context(), w.who, g); err == nil {
		t.Error("the answer was lost, and yet there is no error")
	}
	if _, by := w.grown(t, before); by != wholeSession || w.left(t, g) != "6 6 2" {
		t.Errorf("after the loss: %s, grown by %v; want it stored", w.left(t, g), by)
	}
	if _, created, err := w.RecordGluing(t.Context(), w.who, g); err != nil || created {
		t.Errorf("sent again: created %v, %v; want the stored one", created, err)
	}
	if _, by := w.grown(t, before); by != wholeSession || w.left(t, g) != "6 6 2" {
		t.Errorf("after it was sent again: %s, grown by %v; want it there once", w.left(t, g), by)
	}
}

// A connection that breaks at any statement of a session's transaction leaves
// all of the session or nothing, its ledger rows included; sent again, it is
// there once.
func TestGluingSessionIsAllOrNothing(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	for n := 1; ; n++ {
		a, b := w.addPosition(t, fmt.Sprintf("L%d", n)), w.addPosition(t, fmt.Sprintf("R%d", n))
		g := w.gluing(a, b)
		g.BatchText = fmt.Sprintf("L%d", n)
		cut := &cutter{at: n}
		before, _ := w.grown(t, [3]int{})
		_, created, err := w.over(t, cut).RecordGluing(t.Context(), w.who, g)
		if left := w.left(t, g); left != "0 0 0" && left != "6 6 2" || err == nil && left != "6 6 2" {
			t.Errorf("lost at statement %d of the transaction: %s rows, ledger entries and assessments (%v); want 6 6 2 or none", n, left, err)
		}
		if _, by := w.grown(t, before); by != [3]int{} && by != wholeSession {
			t.Errorf("lost at statement %d: ledger, history and queue grown by %v; want %v or none", n, by, wholeSession)
		}
		if cut.seen < n {
			if err != nil || !created || n < 20 {
				t.Fatalf("the test cut %d times; then %v, %v", n-1, created, err)
			}
			return
		}
		if _, _, err := w.RecordGluing(t.Context(), w.who, g); err != nil || w.left(t, g) != "6 6 2" {
			t.Errorf("sent again after the loss at %d: %v, %s; want it there once", n, err, w.left(t, g))
		}
		if _, by := w.grown(t, before); by != wholeSession {
			t.Errorf("sent again after the loss at %d: ledger, history and queue grown by %v; want %v", n, by, wholeSession)
		}
	}
}

// over returns the use cases over one connection that a tracer watches.
func (w *workshop) over(t *testing.T, tracer pgx.QueryTracer) *app.Service {
	t.Helper()
	return w.through(t, tracer, nil)
}

// through is over with a connection that dial makes; nil: the usual one.
func (w *workshop) through(t *testing.T, tracer pgx.QueryTracer, dial pgconn.DialFunc) *app.Service {
	t.Helper()
	config, err := pgxpool.ParseConfig(w.db.AppURL())
	if err != nil {
		t.Fatal(err)
	}
	if dial != nil {
		config.ConnConfig.DialFunc = dial
	}
	config.ConnConfig.Tracer, config.MaxConns = tracer, 1
	pool, err := pgxpool.NewWithConfig(t.Context(), config)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(pool.Close)
	return app.New(postgres.New(pool), w.now)
}

func (w *workshop) left(t *testing.T, g registry.Gluing) string {
	t.Helper()
	var rows, entries, assessments int
	var at [2]string
	for i, a := range g.Anchors {
		at[i] = a.PositionID.String()
	}
	err := w.db.Owner().QueryRow(t.Context(), whole, g.Session.ID, at[:], g.BatchText).Scan(&rows, &entries, &assessments)
	if err != nil {
		t.Fatal(err)
	}
	return fmt.Sprint(rows, entries, assessments)
}

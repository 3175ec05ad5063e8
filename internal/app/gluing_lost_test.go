package app_test

import (
	"context"
	"fmt"
	"testing"

	"github.com/jackc/pgx/v5"
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
  (SELECT count(DISTINCT l.row_id) FROM ledger AS l JOIN rows AS r ON r.id = l.row_id),
  (SELECT count(*) FROM assessment AS x JOIN anchor AS a ON a.id = x.anchor_id WHERE a.position_id = ANY ($2))`

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
		_, created, err := w.over(t, cut).RecordGluing(t.Context(), w.who, g)
		if left := w.left(t, g); left != "0 0 0" && left != "6 6 2" || err == nil && left != "6 6 2" {
			t.Errorf("lost at statement %d of the transaction: %s rows, ledger entries and assessments (%v); want 6 6 2 or none", n, left, err)
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
	}
}

// over returns the use cases over one connection that a tracer watches.
func (w *workshop) over(t *testing.T, tracer pgx.QueryTracer) *app.Service {
	t.Helper()
	config, err := pgxpool.ParseConfig(w.db.AppURL())
	if err != nil {
		t.Fatal(err)
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

package postgres

import (
	"context"
	"errors"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/pgtest"
)

// The error of a statement that is left running comes out, as that statement's,
// of whatever is done next, and what is done next is not done.
func TestWireKeepsTheOrderOfErrors(t *testing.T) {
	t.Parallel()
	later := errors.New("of a later step")
	for name, next := range map[string]func(*writer) error{
		"before a statement":      func(w *writer) error { return w.exec(t.Context(), "next", `SELECT 1`, nil) },
		"before one left running": func(w *writer) error { return w.start(t.Context(), "next", `SELECT 1`, nil) },
		"before a question":       func(w *writer) error { return w.ask(t.Context(), "next", func(b *pgx.Batch) { b.Queue(`SELECT 1`) }) },
		"before the end":          func(w *writer) error { return w.end(nil) },
		"at the end for another":  func(w *writer) error { return w.end(later) },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			w := begin(t, t.Context())
			if err := w.start(t.Context(), "first", `SELECT 1 / (length(pg_sleep(0.05)::text))`, nil); err != nil {
				t.Fatal(err)
			}
			err := next(w)
			if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), "first") {
				t.Errorf("error %v, want that of the first statement, Invalid", err)
			}
			if err := w.end(later); !errors.Is(err, later) {
				t.Errorf("told twice: %v", err)
			}
		})
	}
}

func TestWireRunsOneAfterTheOther(t *testing.T) {
	t.Parallel()
	w := begin(t, t.Context())
	sum := 0
	err := first(
		func() error { return w.exec(t.Context(), "make", `CREATE TEMP TABLE n (n int)`, nil) },
		func() error { return w.start(t.Context(), "one", `INSERT INTO n SELECT 1 FROM pg_sleep(0.05)`, nil) },
		func() error { return w.start(t.Context(), "two", `INSERT INTO n SELECT 10 * count(*) FROM n`, nil) },
		func() error {
			return w.ask(t.Context(), "sum", func(b *pgx.Batch) {
				b.Queue(`SELECT sum(n)::int FROM n`).QueryRow(func(row pgx.Row) error { return row.Scan(&sum) })
			})
		},
		func() error { return w.end(nil) },
	)
	if err != nil || sum != 11 {
		t.Errorf("sum %d, %v, want 11", sum, err)
	}
}

func TestWireEndsWithItsContext(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	w := begin(t, ctx)
	if err := w.start(ctx, "sleep", `SELECT pg_sleep(60)`, nil); err != nil {
		t.Fatal(err)
	}
	cancel()
	if err := w.end(nil); fault.KindOf(err) != fault.Busy {
		t.Errorf("broken off: %v, want Busy", err)
	}
}

// begin returns a writer in a transaction of a database of its own, which is
// taken back.
func begin(t *testing.T, ctx context.Context) *writer {
	t.Helper()
	tx, err := pgtest.New(t).App.Begin(ctx)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = tx.Rollback(context.Background()) }) // the test's own has ended
	return &writer{wire: &wire{tx: tx}}
}

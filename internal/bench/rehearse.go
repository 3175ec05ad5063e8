package bench

import (
	"context"
	"fmt"
	"strings"
	"sync"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"rockledger/internal/postgres"
)

// asked is one statement that the store sent.
type asked struct {
	sql  string
	args []any
}

// trip is what the store sent in one round trip: one statement, or a batch.
type trip struct {
	batch bool
	sent  []asked
}

// listener notes what the store sends on one connection. The first commit it
// does not let pass: what was sent is then taken back, and whoever repeats it
// finds everything as it was.
type listener struct {
	mu      sync.Mutex
	trips   []trip
	refused bool
}

func (l *listener) TraceQueryStart(ctx context.Context, _ *pgx.Conn, data pgx.TraceQueryStartData) context.Context {
	l.mu.Lock()
	defer l.mu.Unlock()
	if data.SQL == "commit" && !l.refused {
		l.refused = true
		stopped, stop := context.WithCancel(ctx)
		stop()
		return stopped
	}
	if !l.refused && !strings.HasPrefix(data.SQL, "--") { // a pool's ping
		l.trips = append(l.trips, trip{sent: []asked{{data.SQL, data.Args}}})
	}
	return ctx
}

func (l *listener) TraceQueryEnd(context.Context, *pgx.Conn, pgx.TraceQueryEndData) {}

func (l *listener) TraceBatchStart(ctx context.Context, _ *pgx.Conn, _ pgx.TraceBatchStartData) context.Context {
	l.mu.Lock()
	defer l.mu.Unlock()
	if !l.refused {
		l.trips = append(l.trips, trip{batch: true})
	}
	return ctx
}

func (l *listener) TraceBatchQuery(_ context.Context, _ *pgx.Conn, data pgx.TraceBatchQueryData) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if !l.refused {
		last := &l.trips[len(l.trips)-1]
		last.sent = append(last.sent, asked{data.SQL, data.Args})
	}
}

func (l *listener) TraceBatchEnd(context.Context, *pgx.Conn, pgx.TraceBatchEndData) {}

// rehearse calls the operation a few times and writes down for pgbench what the
// store sent each time, as the application's role. Changes are taken back.
func (b *bench) rehearse(ctx context.Context, op operation, s *subject) ([]string, error) {
	if b.pgbench == "" {
		return nil, nil
	}
	var scripts []string
	for range op.rehearsals() {
		trips, err := overhear(ctx, op, s)
		if err != nil {
			return nil, fmt.Errorf("rehearse: %w", err)
		}
		script, err := writeScript(ctx, s, trips)
		if err != nil {
			return nil, fmt.Errorf("rehearse: %w", err)
		}
		scripts = append(scripts, script)
	}
	return scripts, nil
}

// overhear calls the operation once and returns what it sent.
func overhear(ctx context.Context, op operation, s *subject) ([]trip, error) {
	l := &listener{}
	pool, err := open(ctx, s.url, 1, l)
	if err != nil {
		return nil, err
	}
	defer pool.Close()
	l.trips = nil // how the pool was opened
	_, err = op.prepare(s)(ctx, postgres.New(pool))
	if err != nil && !l.refused {
		return nil, err
	}
	if op.writes != l.refused {
		return nil, fmt.Errorf("it committed %v, want %v", l.refused, op.writes)
	}
	return l.trips, nil
}

// writeScript turns round trips into a script: batches become pipelines, and
// what the store would have committed is taken back.
func writeScript(ctx context.Context, s *subject, trips []trip) (string, error) {
	conn, err := pgx.Connect(ctx, s.url)
	if err != nil {
		return "", fmt.Errorf("connect as the application: %w", err)
	}
	defer func() { _ = conn.Close(ctx) }()
	var script strings.Builder
	opened := false
	for _, t := range trips {
		opened = opened || strings.HasPrefix(t.sent[0].sql, "begin")
		if t.batch {
			script.WriteString("\\startpipeline\n")
		}
		for _, q := range t.sent {
			text, err := inline(ctx, conn, q)
			if err != nil {
				return "", err
			}
			script.WriteString(text + ";\n")
		}
		if t.batch {
			script.WriteString("\\endpipeline\n")
		}
	}
	if opened {
		script.WriteString("rollback;\n")
	}
	return script.String(), nil
}

// inline writes a statement with its arguments as literals.
func inline(ctx context.Context, conn *pgx.Conn, q asked) (string, error) {
	sql, args := q.sql, q.args
	if len(args) == 1 {
		if named, ok := args[0].(pgx.QueryRewriter); ok {
			var err error
			if sql, args, err = named.RewriteQuery(ctx, conn, sql, nil); err != nil {
				return "", fmt.Errorf("name the arguments: %w", err)
			}
		}
	}
	if len(args) == 0 {
		return sql, nil
	}
	described, err := conn.Prepare(ctx, "", sql)
	if err != nil {
		return "", fmt.Errorf("describe %s: %w", sql, err)
	}
	for i := len(args) - 1; i >= 0; i-- { // from the end, so that $1 is not taken for the start of $12
		value, err := literal(conn.TypeMap(), described.ParamOIDs[i], args[i])
		if err != nil {
			return "", fmt.Errorf("argument %d of %s: %w", i+1, sql, err)
		}
		sql = strings.ReplaceAll(sql, fmt.Sprintf("$%d", i+1), value)
	}
	return sql, nil
}

// escapes keeps quotes, and what pgbench would take for a variable of its own,
// out of a literal.
var escapes = strings.NewReplacer(`\`, `\\`, `'`, `''`, `:`, `\x3a`, `$`, `\x24`)

func literal(types *pgtype.Map, oid uint32, value any) (string, error) {
	t, ok := types.TypeForOID(oid)
	if !ok {
		return "", fmt.Errorf("type %d is not known", oid)
	}
	text, err := types.Encode(oid, pgtype.TextFormatCode, value, nil)
	if err != nil {
		return "", err
	}
	if text == nil {
		return "NULL::" + t.Name, nil
	}
	return "E'" + escapes.Replace(string(text)) + "'::" + t.Name, nil
}

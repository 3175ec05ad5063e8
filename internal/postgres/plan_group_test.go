package postgres_test

import (
	"context"
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// A connection plans a statement once and keeps the plan for every group it
// then serves. A plan made for a group of few anchors must not read a large
// group whole: neither where the groups are of middling size on average, nor
// where one is large among hundreds that are tiny.
func TestPlansOfASmallGroupServeALargeOne(t *testing.T) {
	t.Parallel()
	large, s := newRegister(t), newScene()
	ids := large.fill(t, s, 2000)
	small := *large
	small.group = addGroup(t, large.admin)
	small.who = sample.Actor(small.group)
	small.fill(t, newScene(), 20)
	empty := addGroup(t, large.admin)
	sent := append(large.statements(t, s, ids), large.intake(t, s, ids)...)
	t.Run("two groups", func(t *testing.T) {
		large.analyse(t, `ANALYZE`) //nolint:misspell // SQL
		large.checkReads(t, small.group.ID, sent)
		large.checkReads(t, empty.ID, sent)
	})
	t.Run("a large group among hundreds of tiny ones", func(t *testing.T) {
		large.analyse(t, amongTiny)
		large.checkReads(t, small.group.ID, sent)
		large.checkReads(t, empty.ID, sent)
	})
}

// amongTiny makes statistics as though there were three hundred groups.
const amongTiny = `
DO $$
DECLARE
  tenant regclass;
BEGIN
  FOR tenant IN SELECT polrelid FROM pg_policy LOOP
    EXECUTE format('ALTER TABLE %s ALTER COLUMN group_id SET (n_distinct = 300)', tenant);
    EXECUTE format('ANALYZE %s', tenant);
  END LOOP;
END
$$`

func (r *register) analyse(t *testing.T, sql string) {
	t.Helper()
	_, err := r.db.Owner().Exec(t.Context(), sql)
	check(t, err)
}

// intake asks for what the entry of a list asks, for one anchor's past, and for
// the rest of what is read often.
func (r *register) intake(t *testing.T, s *scene, anchorIDs []uuid.UUID) []asked {
	t.Helper()
	store, rec := r.recorded(t)
	ctx, group := t.Context(), r.group.ID
	wanted := registry.Wanted{Anchors: func(registry.Known) []uuid.UUID { return anchorIDs[500:600] }}
	for i := 500; i < 600; i++ {
		wanted.Rows = append(wanted.Rows, *listRow(i))
	}
	check(t, store.Intake(ctx, r.who, wanted, func(k registry.Known, _ houserules.Rules) (registry.Change, error) {
		if len(k.Rows) != 100 || len(k.Facts) != 100 || len(k.Sites) != 1 {
			t.Fatalf("intake knows %d rows, %d anchors, %d sites: the test shows nothing", len(k.Rows), len(k.Facts), len(k.Sites))
		}
		return registry.Change{What: "test", At: sample.At}, nil
	}))
	_, err := store.Evidence(ctx, group, anchorIDs[700], func(time.Time) bool { return true })
	check(t, err)
	_, err = store.AnchorStory(ctx, group, anchorIDs[700])
	check(t, err)
	box := registry.AnchorFilter{Box: &registry.Box{West: 4.9, South: 50, East: 5.1, North: 51}}
	if lines, err := store.Anchors(ctx, group, box, registry.Page{Limit: 100}); err != nil || len(lines) != 100 {
		t.Fatalf("box has %d anchors, %v, want 100", len(lines), err)
	}
	_, err = store.OverdueLines(ctx, group, sample.Day)
	check(t, err)
	_, err = store.Facts(ctx, group, anchorIDs[500:600])
	check(t, err)
	page := registry.Page{Limit: 100, After: anchorIDs[900]}
	for _, f := range []registry.ProposalFilter{{}, {State: registry.ProposalOpen}, {SiteID: &s.site.ID}, {ImportID: &s.intake.ID}} {
		_, err = store.Proposals(ctx, group, f, page)
		check(t, err)
	}
	_, err = store.BatchUses(ctx, group, s.batch.ID)
	check(t, err)
	_, err = store.BatchKeyed(ctx, group, s.batch.ProductID, s.batch.Key())
	check(t, err)
	_, err = store.AnchorsAt(ctx, group, registry.Place{Kind: registry.AtPosition, ID: s.position.ID})
	check(t, err)
	_, err = store.KnownAnchors(ctx, group, anchorIDs[500:600])
	check(t, err)
	_, err = store.Sites(ctx, group, page)
	check(t, err)
	_, err = store.NewestImports(ctx, group, 10)
	check(t, err)
	return rec.sent
}

// checkReads plans every statement for another group, then has this one served
// by that plan and looks at what it read.
func (r *register) checkReads(t *testing.T, planned uuid.UUID, sent []asked) {
	t.Helper()
	seen := make(map[string]bool)
	for _, q := range sent {
		if seen[q.sql] || !readable(q.sql) {
			continue
		}
		seen[q.sql] = true
		own, theirs := r.reads(t, r.group.ID, sent[0], q), r.reads(t, planned, sent[0], q)
		few := 30*(theirs.returned+given(q.args)) + 200
		switch {
		case theirs.workers:
			t.Errorf("calls workers:\n%s", q.sql)
		case theirs.rows > few && theirs.rows > 2*own.rows:
			t.Errorf("reads %.0f rows for %.0f, %.0f where it is planned for its own group:\n%s", theirs.rows, theirs.returned, own.rows, q.sql)
		case theirs.blocks > 2*own.blocks+50:
			t.Errorf("reads %.0f blocks, %.0f where it is planned for its own group:\n%s", theirs.blocks, own.blocks, q.sql)
		}
	}
	if len(seen) < 60 {
		t.Errorf("only %d statements seen", len(seen))
	}
}

// readable says whether a statement is one of the hot ones: one with a plan
// that asks tables.
func readable(sql string) bool {
	return planned.MatchString(sql) && !strings.Contains(sql, "set_config") && !strings.Contains(sql, "analyse_grown")
}

// given is how many values a statement was asked for.
func given(args []any) (n float64) {
	for _, a := range args {
		if v := reflect.ValueOf(a); v.Kind() == reflect.Slice {
			n += float64(v.Len())
		}
	}
	return n
}

// readings is what the execution of a statement read.
type readings struct {
	returned, rows, blocks float64
	workers                bool
}

// node is a step of a plan in the JSON of EXPLAIN.
type node struct {
	Type    string  `json:"Node Type"`
	Rows    float64 `json:"Actual Rows"`
	Loops   float64 `json:"Actual Loops"`
	Passed  float64 `json:"Rows Removed by Filter"`
	Checked float64 `json:"Rows Removed by Index Recheck"`
	Hit     float64 `json:"Shared Hit Blocks"`
	Read    float64 `json:"Shared Read Blocks"`
	Plans   []node  `json:"Plans"`
}

// add adds what the step and those below it read.
func (n *node) add(to *readings) {
	to.workers = to.workers || strings.HasPrefix(n.Type, "Gather")
	if strings.Contains(n.Type, "Index") || n.Type == "Seq Scan" {
		to.rows += (n.Rows + n.Passed + n.Checked) * n.Loops
	}
	for i := range n.Plans {
		n.Plans[i].add(to)
	}
}

// reads has a statement planned for one group and executed for the register's,
// set up as the store does, and takes it back.
func (r *register) reads(t *testing.T, planned uuid.UUID, setting, q asked) readings {
	t.Helper()
	var text string
	r.as(t, uuid.Nil, func(ctx context.Context, tx pgx.Tx) {
		_, err := tx.Exec(ctx, setting.sql, planned.String())
		check(t, err)
		execute := prepareWith(ctx, t, tx, q)
		_, err = tx.Exec(ctx, "EXPLAIN "+execute)
		check(t, err)
		_, err = tx.Exec(ctx, setting.sql, r.group.ID.String())
		check(t, err)
		if err = tx.QueryRow(ctx, "EXPLAIN (ANALYZE, BUFFERS, TIMING OFF, FORMAT JSON) "+execute).Scan(&text); err != nil { //nolint:misspell // SQL
			t.Fatalf("%s\n%v", q.sql, err)
		}
	})
	var tops []struct{ Plan node }
	check(t, json.Unmarshal([]byte(text), &tops))
	top := tops[0].Plan
	got := readings{returned: top.Rows, blocks: top.Hit + top.Read}
	top.add(&got)
	return got
}

// prepareWith prepares a statement and returns the one that executes it with
// its arguments, written in.
func prepareWith(ctx context.Context, t *testing.T, tx pgx.Tx, q asked) string {
	t.Helper()
	name := "plan_" + strings.ReplaceAll(sample.ID().String(), "-", "_")
	prepared, err := tx.Conn().Prepare(ctx, name, q.sql)
	check(t, err)
	if len(q.args) == 0 {
		return "EXECUTE " + name
	}
	values := make([]string, len(q.args))
	for i, a := range q.args {
		text, err := tx.Conn().TypeMap().Encode(prepared.ParamOIDs[i], pgtype.TextFormatCode, a, nil)
		check(t, err)
		values[i] = "NULL"
		if text != nil {
			values[i] = "'" + strings.ReplaceAll(string(text), "'", "''") + "'"
		}
	}
	return "EXECUTE " + name + " (" + strings.Join(values, ", ") + ")"
}

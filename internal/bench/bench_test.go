package bench_test

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/bench"
	"rockledger/internal/demo"
	"rockledger/internal/houserules"
	"rockledger/internal/pglocal"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// options measure as little as can be measured.
func options(t *testing.T) bench.Options {
	t.Helper()
	rules, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	return bench.Options{
		Anchors: []int{2000}, Clients: 1, Rounds: 1, Seconds: 1, SealEvery: 50 * time.Millisecond,
		At: sample.At, Progress: &bytes.Buffer{}, Rules: rules, Engine: assess.Engine,
		Inspect: inspect, Reassess: reassess, Recall: recall, Seal: seal,
	}
}

func actor(group uuid.UUID) registry.Actor {
	return registry.Actor{GroupID: group, Role: registry.RoleOwner, Who: "test"}
}

func inspect(ctx context.Context, store *postgres.Store, group, anchor uuid.UUID) error {
	return store.Change(ctx, actor(group), []uuid.UUID{anchor}, func(all []registry.Facts, rules houserules.Rules) (registry.Change, error) {
		i := sample.Inspection(all[0].Anchor, func(i *registry.Inspection) { i.PersonID = nil })
		facts := all[0]
		facts.Inspections = append(facts.Inspections, i)
		return registry.Change{
			What: "test", At: sample.At, Inspections: []registry.Inspection{i},
			Assessments: []registry.Assessment{assess.Anchor(facts, rules, sample.Day)},
		}, nil
	})
}

func recall(ctx context.Context, store *postgres.Store, p demo.Probe) (int, error) {
	p.Recall.ID = sample.ID()
	if err := store.Write(ctx, actor(p.Group), registry.Change{What: "test", At: sample.At, Notices: []registry.Notice{p.Recall}}); err != nil {
		return 0, err
	}
	return 1, nil
}

func seal(ctx context.Context, store *postgres.Store) (made int, err error) {
	groups, err := store.Groups(ctx)
	if err != nil {
		return 0, err
	}
	for _, g := range groups {
		seals, err := store.Seal(ctx, g.ID, sample.At)
		if err != nil {
			return made, err
		}
		made += len(seals)
	}
	return made, nil
}

func reassess(ctx context.Context, store *postgres.Store, group uuid.UUID, anchors []uuid.UUID) error {
	return store.Change(ctx, actor(group), anchors, func(all []registry.Facts, rules houserules.Rules) (registry.Change, error) {
		c := registry.Change{What: "test", At: sample.At}
		for i := range all {
			c.Assessments = append(c.Assessments, assess.Anchor(all[i].Current(), rules, sample.Day))
		}
		return c, nil
	})
}

func TestRun(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes some twenty seconds")
	}
	if !pglocal.Found() && os.Getenv("CI") != "true" {
		t.Skip("needs PostgreSQL's server programs")
	}
	made, err := bench.Run(t.Context(), options(t))
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]int{
		"point": 1, "story": 1, "page": 100, "overdue": 100, "overdue-report": 0, "box": 200, // 0: any number
		"reassess-changed": 500, "reassess-same": 500, "change": 1,
		"notice-preview": 0, "notice": 1,
	}
	one := made.Registers[0]
	if len(made.Registers) != 1 || len(one.Operations) != len(want) || one.Anchors != 2000 || one.Groups != 1 || one.Sites != 40 {
		t.Errorf("Run() = %+v, want %d operations on one group of 2000 anchors and 40 sites", made, len(want))
	}
	for _, op := range one.Operations {
		if n, known := want[op.Name]; !known || op.Rows == 0 || n != 0 && n != op.Rows {
			t.Errorf("%s came to %d rows, want %d", op.Name, op.Rows, n)
		}
		if op.StoreUS <= 0 || made.Pgbench && op.Name != "notice" && (op.PgbenchUS == nil || *op.PgbenchUS <= 0 || op.Ratio == nil) {
			t.Errorf("%s: %+v, want times", op.Name, op)
		}
	}
	if s := one.Sealing; s == nil || s.Pairs != 8 || s.TurnMS != 150 || s.WithPS <= 0 || s.WithoutPS <= 0 || s.LostFrom > s.Lost || s.Lost > s.LostTo ||
		s.Rounds < 8 || s.Seals == 0 || s.Seals > s.Rounds || s.Busy <= 0 {
		t.Errorf("sealing: %+v, want eight pairs of turns, in each some rounds of sealing", s)
	}
	var table bytes.Buffer
	if err := made.Print(&table); err != nil || !strings.Contains(table.String(), "overdue-report") || !strings.Contains(table.String(), made.PostgreSQL) {
		t.Errorf("Print() = %v:\n%s", err, table.String())
	}
}

func TestRunRejects(t *testing.T) {
	t.Parallel()
	for name, spoil := range map[string]func(*bench.Options){
		"no size":          func(o *bench.Options) { o.Anchors = nil },
		"too small a size": func(o *bench.Options) { o.Anchors = []int{10000, 1999} },
		"no client":        func(o *bench.Options) { o.Clients = 0 },
		"no round":         func(o *bench.Options) { o.Rounds = 0 },
		"no time":          func(o *bench.Options) { o.Seconds = 0 },
	} {
		o := options(t)
		spoil(&o)
		if _, err := bench.Run(t.Context(), o); err == nil {
			t.Errorf("%s: Run() = nil, want an error", name)
		}
	}
}

func TestPrintComparesSizes(t *testing.T) {
	t.Parallel()
	at, no := 1.5, false
	r := bench.Result{
		Registers: []bench.Register{{
			Anchors: 2000, Operations: []bench.Operation{{Name: "page", StoreUS: 100}},
			Sealing: &bench.Sealing{Pairs: 8, Lost: 0.015, LostFrom: -0.02, LostTo: 0.04, Busy: 0.123},
		}},
		Growth: []bench.Growth{{Operation: "page", From: 2000, To: 4000, Times: 1.75, AtMost: &at, Held: &no}, {Operation: "box", Times: 9}},
	}
	var out bytes.Buffer
	if err := r.Print(&out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"There is no pgbench", "4000 anchors as a multiple of that of 2000", "1.75", "MISSED", "none", "Lost to sealing: 1.5 %", "-2.0 to 4.0 %", "12.3 %"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("Print() = %s\nwant %q in it", out.String(), want)
		}
	}
	text, err := json.Marshal(r)
	if err != nil || !strings.Contains(string(text), `"held":false`) || strings.Contains(string(text), "pgbench_us") {
		t.Errorf("JSON = %s, %v, want a bound that is not held and no figure of pgbench", text, err)
	}
}
